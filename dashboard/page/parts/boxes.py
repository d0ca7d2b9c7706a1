"""What the page is stacked from, without the fetched stylesheets that come with the library's own parts: all looks are from ``style``."""

from __future__ import annotations

from typing import Any

import panel as pn

from dashboard.page.patches.bare import Bare
from dashboard.page.patches.narrow import Narrow


class Column(Bare, pn.Column):
    """Parts one above the other."""


class Row(Bare, pn.Row):
    """Parts side by side."""


class Wrapped(Narrow, Row):
    """Parts side by side, going on in a new line where there is no room."""

    def __init__(self, *parts: Any, **look: Any):
        styles = {"flex-wrap": "wrap", "align-items": "center", **look.pop("styles", {})}
        super().__init__(*parts, **{"sizing_mode": "stretch_width", "styles": styles, **look})
