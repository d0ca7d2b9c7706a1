"""A row that goes on in a new line is never as wide as all that is in it.

Seen on: panel 1.9.4.
Mends: Panel gives a row the widths of its parts together as its least width, also where its parts are wrapped.
Upstream: docs/upstream.md, "Least width of a wrapped row".
"""

from __future__ import annotations

from typing import Any


class Narrow:
    """Before a Panel layout: it may be as narrow as it has to be."""

    def _compute_sizing_mode(self, children: list[Any], props: dict[str, Any]) -> dict[str, Any]:
        return {**super()._compute_sizing_mode(children, props), "min_width": 0}  # type: ignore[misc]
