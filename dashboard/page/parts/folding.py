"""What stands folded under a button: made when it is first opened, so that what few ask for costs nothing."""

from __future__ import annotations

from collections.abc import Callable

import panel as pn

from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column


def fold(title: str, make: Callable[[], list[pn.viewable.Viewable]]) -> Column:
    """A button that opens and closes what ``make`` gives."""
    inside: list[pn.viewable.Viewable] = []

    def turn() -> None:
        if inside:
            for part in inside:
                whole.remove(part)
            inside.clear()
        else:
            inside.extend(make())
            whole.extend(inside)
        opener.label = f"▾ {title}" if inside else f"▸ {title}"

    opener = live.button(f"▸ {title}", turn, variant="text")
    whole = Column(opener, sizing_mode="stretch_width")
    return whole
