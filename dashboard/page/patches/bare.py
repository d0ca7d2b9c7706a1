"""A part asks for no stylesheet that has to be fetched, and what changes on it is sent without looking its dress up again.

Seen on: panel 1.9.4.
Mends: each of Panel's parts asks for up to four stylesheets: a hundred links on a page, each applied anew when it comes, and words
stay hidden until theirs are there. At every change the theme's part of the dress is worked out again.
Upstream: docs/upstream.md, "Stylesheets of a part".
"""

from __future__ import annotations

from typing import Any

import param


class Bare:
    """Before a Panel class. All its looks come from what it was given."""

    def _process_param_change(self, params: dict[str, Any]) -> dict[str, Any]:
        properties = super()._process_param_change(params)  # type: ignore[misc]
        sheets = properties.get("stylesheets")
        if sheets is not None:
            # written out, a sheet is a text; what has to be fetched is none
            properties["stylesheets"] = [sheet for sheet in sheets if isinstance(sheet, str)]
        return properties

    def _update_properties(self, *events: param.parameterized.Event, doc: Any) -> dict[str, Any]:
        # What changes is sent, and the library's dress is not looked up again for each change.
        return self._process_param_change({event.name: event.new for event in events})
