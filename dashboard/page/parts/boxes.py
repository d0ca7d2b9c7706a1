"""What the page is stacked from, without the fetched stylesheets that come with the library's own parts.

Each part would ask for four: a hundred links on a page, each applied anew when it comes, and words stay hidden until
theirs are there. Everything here has its looks from ``style``.
"""

from __future__ import annotations

from typing import Any

import panel as pn
import param


class Bare:
    """Before a Panel class: it asks for no stylesheet that has to be fetched."""

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


class Column(Bare, pn.Column):
    """Parts one above the other."""


class Row(Bare, pn.Row):
    """Parts side by side."""


class Wrapped(Row):
    """Parts side by side, going on in a new line where there is no room."""

    def __init__(self, *parts: Any, **look: Any):
        styles = {"flex-wrap": "wrap", "align-items": "center", **look.pop("styles", {})}
        super().__init__(*parts, **{"sizing_mode": "stretch_width", "styles": styles, **look})

    def _compute_sizing_mode(self, children: list[Any], props: dict[str, Any]) -> dict[str, Any]:
        # Never as wide as all of them together: that is what the new line is for.
        return {**super()._compute_sizing_mode(children, props), "min_width": 0}
