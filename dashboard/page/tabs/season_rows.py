"""The calendar of a season, pressed and unfolded: ``charts.calendar_rows`` says what stands in it."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import param

from dashboard.charts.calendar_rows import CALENDAR_CSS
from dashboard.page.parts.live import at_once
from dashboard.page.patches.scripted import Element


class SeasonRows(Element):
    """The rows; ``act(what, value)`` is called with ``open`` and ``keep`` for a cultivar, and with ``fold`` for a class."""

    told = param.String(default="{}", doc="JSON of what ``tell`` was given")

    script = Path(__file__).with_name("season_rows.js")
    dress = (CALENDAR_CSS,)

    def __init__(self, act: Callable[[str, object], None], **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (5, 10), **params})
        self._act = act

    def tell(self, view: dict[str, Any]) -> None:
        self.told = json.dumps(view, ensure_ascii=False)

    @at_once
    def heard(self, msg) -> None:
        for what in ("open", "keep", "fold"):
            if what in msg:
                self._act(what, msg[what])
