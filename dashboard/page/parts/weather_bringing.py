"""Weather that a visitor brings: read beside the loop that answers everybody, kept for this visit, in no link and in no log."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import param

from dashboard import places
from dashboard.answers.my_site import MySite, own_site
from dashboard.charts import style
from dashboard.page.parts import live
from dashboard.page.parts.files import content_of
from dashboard.page.patches.scripted import Element
from dashboard.records.weather_file import LARGEST, WeatherFile, read_weather, weather_file
from dashboard.site.station import station
from dashboard.visit.state import State

KEPT = (
    "It stays on this computer and on the one that serves this page, for this visit only. No link carries it."
)
HOW = "A row a day: date, tmin_c and tmax_c (or tmin_f and tmax_f). {}"
READING, STOPPED = "Reading {} …", "Stopped: nothing was brought."
_LONGEST_FILE = 60  # characters of an opened file's name
_CSS = (
    style.RUNNING_CSS
    + """
[hidden] { display: none !important; } .line { display: flex; flex-wrap: wrap; gap: 8px 16px; align-items: end; } p { margin: 6px 0 0; }
@media (pointer: coarse), (max-width: 600px) { input[type=file] { min-height: 44px; } }
"""
)


class WeatherBringing(Element):
    """``act(message)`` is called for each piece of a file and each press."""

    told = param.String(default='{"about": "", "faults": [], "brought": false, "sample": false}')

    script = Path(__file__).with_name("weather_bringing.js")
    dress = (_CSS,)

    def __init__(self, act: Callable[[dict], None], **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (5, 10), **params})
        self._act = act

    @live.at_once
    def heard(self, msg) -> None:
        self._act(msg)


class Bringing:
    """One visitor's reading of a weather file; what was read is ``state.weather``."""

    def __init__(self, state: State) -> None:
        self.state, self.hand = state, live.Hand()
        self.faults: list[str] = []
        self.reading = ""  # the name of the file that is read
        self._wanted = (
            0  # the number of the reading that is waited for; one that was stopped is wanted by none
        )
        self._pieces: list[bytes] = []
        self._sample = places.warm_weather() if state.question.catalogue.invented else None
        self.element = WeatherBringing(self._heard)
        self.tell()

    def tell(self) -> None:
        brought = self.state.weather
        about = HOW.format(KEPT) if brought is None else f"{brought.name}: {KEPT}"
        about = READING.format(self.reading) if self.reading else about
        view = {
            "about": about,
            "faults": self.faults,
            "brought": brought is not None,
            "sample": self._sample is not None,
            "reading": bool(self.reading),
        }
        self.element.told = json.dumps(view, ensure_ascii=False)

    def _heard(self, msg: dict) -> None:
        act, self.faults = msg.get("act"), []
        if act == "off":
            self.state.choose(weather=None)
        elif act == "stop" and self.reading:
            self._wanted, self.reading, self.faults = self._wanted + 1, "", [STOPPED]
        elif act == "try" and self._sample is not None:
            sample = self._sample
            self._read("Invented warmer place", lambda: read_weather(sample))
        elif act == "piece":
            self._piece(msg)
        self.tell()

    def _piece(self, msg: dict) -> None:
        at, of, size = (msg[name] if isinstance(msg.get(name), int) else -1 for name in ("at", "of", "size"))
        file = " ".join(str(msg.get("file")).split())[:_LONGEST_FILE]
        if at == 0:
            self._pieces = []
        try:
            self._pieces.append(content_of(msg.get("content", "")))
        except ValueError:
            at = -1
        if size > LARGEST or sum(map(len, self._pieces)) > LARGEST:
            self._pieces = []
            self.faults = [
                f"{file} has {size / 1e6:.1f} MB, more than the {LARGEST / 1e6:.1f} MB a weather file may be; bring fewer years."
            ]
        elif at < 0 or at != len(self._pieces) - 1:
            self._pieces, self.faults = [], [f"{file} did not arrive whole; open it once more."]
        elif at == of - 1:
            raw, self._pieces = b"".join(self._pieces), []
            self._read(file, lambda: weather_file(raw, file))

    def _read(self, name: str, read: Callable[[], WeatherFile]) -> None:
        asked = self.state.question
        here = asked.my_site.station if asked.my_site else None

        def work() -> tuple[MySite | None, tuple[str, ...]]:
            found = read()
            if found.refused:
                return None, (found.refused,)
            latitude = here.latitude_deg if here else asked.catalogue.sites["latitude_deg"].mean()
            own = station(found.days, name, float(latitude))
            made = own_site(asked.catalogue, own, here)
            if made.refused:
                return None, (made.refused, *found.told)
            _ = made.enough, made.bloomed  # worked out here, where nobody waits for it
            return made, found.told

        if self.hand.busy:
            self.faults = [live.BUSY]
            return
        self.reading, self._wanted = name, self._wanted + 1
        wanted = self._wanted

        def arrived(got: tuple[MySite | None, tuple[str, ...]]) -> None:
            if wanted != self._wanted:
                return
            made, told = got
            self.reading, self.faults = "", list(told)
            if made is not None:
                self.state.choose(weather=made)
            self.tell()

        self.hand.take(work, arrived)
