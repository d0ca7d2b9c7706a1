"""A part of the page with a role and a name for screen readers.

Seen on: panel 1.9.4, bokeh 3.9.2.
Mends: Bokeh's parts take attributes of HTML, and Panel's layouts have no parameter that hands them on.
Upstream: docs/upstream.md, "Attributes of a layout".
"""

from __future__ import annotations

from typing import Any


class Named:
    """Before a Panel layout: ``role`` and ``told``, as the element's own attributes."""

    def __init__(self, *parts: Any, role: str, told: str, **look: Any):
        self.told = told
        self._attributes = {"role": role, "aria-label": told}
        super().__init__(*parts, **look)

    def _get_properties(self, doc: Any) -> dict[str, Any]:
        return {**super()._get_properties(doc), "html_attributes": self._attributes}  # type: ignore[misc]
