"""The calendar of a season: my slate's cultivars in order of picking with its gaps over them, then the others, a band and a fold a class."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import pandas as pd
import param

from dashboard.answers.question import Question
from dashboard.answers.season_classes import picked_each_day, season_classes, slate_windows
from dashboard.charts.calendar import extent
from dashboard.charts.calendar_rows import CALENDAR_CSS
from dashboard.page.parts.live import at_once
from dashboard.page.patches.scripted import Element
from dashboard.ripening import axis_days, day_label
from dashboard.wording import strip as strip_words
from dashboard.wording.figures import DATED, counted
from dashboard.wording.gaps import days_told, uncovering_told

BEGIN = "Your slate is empty: press ☆ beside a cultivar below, or Fill the gaps over the tabs."
HIDDEN = {"hatched": "may qualify", "hollow": "covers nothing for the buyer"}


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


def calendar_view(asked: Question, opened: Iterable[str] = ()) -> dict[str, Any]:
    """The whole calendar as plain texts and places from 0, the first selling day, to 1; only ``opened`` classes hold their rows."""
    south, span, opened = asked.catalogue.south, _span(asked), set(opened)
    days = span[1] - span[0] + 1
    found, slate, strip = season_classes(asked), slate_windows(asked), asked.strip
    gaps = strip.rows[0].gaps if strip and asked.shortlist else ()
    bars = {bar["name"]: bar["look"] for bar in strip_words.drawn(asked, strip)["bars"]} if strip else {}
    return {
        "heading": f"My slate in {DATED[asked.season_kind]}",
        "said": [_covered(asked)] + (uncovering_told(asked, asked.shortlist) + _unpicked(asked, slate) if asked.shortlist else []),
        "marks": [[_place(day, span), label] for day, label in axis_days(*span, south)],
        "gaps": [
            [_place(gap.first - 0.5, span), _place(gap.last + 0.5, span), strip_words.gap_label(gap.first, gap.last, south)]
            for gap in gaps
        ],
        "slate": [_row(asked, name, row, span, bars) for name, row in slate.iterrows()],
        "others": _others(asked, sum(map(len, found.classes.values()))),
        "rest": [line for line in (_outside(found.outside), _missing(asked, found.miss)) if line],
        "days": int(days),
        "classes": [
            {
                "kind": kind, "told": f"{kind} ({len(windows)})", "open": kind in opened,
                "band": picked_each_day(windows, span).tolist(),
                "rows": [_row(asked, name, row, span, {}) for name, row in windows.iterrows()] if kind in opened else [],
            }
            for kind, windows in found.classes.items()
        ],
    }  # fmt: skip


def _span(asked: Question) -> tuple[float, float]:
    """The selling days; where nobody was ever picked, those of any calendar."""
    first, last = asked.selling
    return (first, last) if first == first and last == last else extent(asked.catalogue.windows)


def _covered(asked: Question) -> str:
    if not asked.shortlist:
        return BEGIN
    if asked.strip is None:
        return asked.catalogue.ripening.refused
    return strip_words.longest_told(asked, asked.strip)


def _unpicked(asked: Question, slate: pd.DataFrame) -> list[str]:
    missing = [name for name in asked.shortlist if name not in slate.index]
    return [strip_words.NEVER_PICKED.format(names=", ".join(missing[:6]))] if missing else []


def _others(asked: Question, count: int) -> str:
    if asked.emptied:
        return asked.emptied.sentence
    more = " more" if asked.shortlist else ""
    what = f"qualify, or may, for {asked.profile.name}" if asked.profile else "pass your filters"
    if not count:
        return f"No{more} cultivars that {what} are picked in your selling days."
    return f"{count}{more} that {what}, by class. Darker: more of them ripe at once. Open a class for its cultivars."


def _outside(count: int) -> str:
    return f"{counted(count, 'more cultivar')} ripen outside your selling days." if count else ""


def _missing(asked: Question, count: int) -> str:
    if not count or not asked.profile:
        return ""
    return f"Left out: {count} that miss {asked.profile.name} or cannot be judged for it."


def _row(asked: Question, name: Any, row: Any, span: tuple[float, float], looks: dict[str, str]) -> dict[str, Any]:  # fmt: skip
    known, south = asked.catalogue.cultivars.loc[name], asked.catalogue.south
    look = looks.get(str(name)) or strip_words.LOOKS.get(str(asked.fit["verdict"][name]), "hollow")
    when = days_told(row["first"], row["last"], south).replace(" to ", "–")
    doubt = row["first_low"] == row["first_low"] and row["last_high"] == row["last_high"]
    ends = (
        f"; surely (90 %) between {day_label(row['first_low'], south)} and {day_label(row['last_high'], south)}"
        if doubt
        else ""
    )
    low, high = (row["first_low"], row["last_high"]) if doubt else (row["first"], row["last"])
    told = f", {HIDDEN[look]}" if look in HIDDEN and asked.profile else ""
    return {
        "name": str(name), "flesh": str(known["flesh_colour"]), "look": look, "kept": name in asked.shortlist, "when": when,
        "at": [_place(day, span) for day in (row["first"] - 0.5, row["last"] + 0.5, low, high)],
        "tip": f"{name}: usually picked {when}{ends}{told}",
    }  # fmt: skip


def _place(day: float, span: tuple[float, float]) -> float:
    """Days are drawn from their own midnight: the first selling day begins at 0, the last ends at 1."""
    return round(min(max((float(day) - span[0] + 0.5) / (span[1] - span[0] + 1), 0.0), 1.0), 4)
