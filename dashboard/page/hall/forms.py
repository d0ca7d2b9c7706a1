"""What a prepared view holds, shown large: the season, the classes, a few side by side, one cultivar among all. Of the other tabs the
hall shows size, firmness and sugar."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pandas as pd

from dashboard.answers.among import among
from dashboard.answers.question import Question
from dashboard.answers.season_classes import picked_each_week, season_classes
from dashboard.charts import large, large_season, weeks
from dashboard.charts.calendar_rows import calendar_view
from dashboard.charts.style import FLESH
from dashboard.market.verdict import MAY_QUALIFY
from dashboard.ripening import day_label
from dashboard.ripening.model import ANY
from dashboard.terms.traits import HEADLINE, UNKNOWN, trait_called
from dashboard.wording.figures import DATED, called, interval, years_in_ten
from dashboard.wording.legend import CALENDAR_MARKS, COUNTS_IN_FULL, MARKS

PLAIN = ("full", "picked")  # bars of the color of the flesh alone
MEANINGS = dict(MARKS)
OVER_ANY = "My slate in any year"
CHANCES = "Bottom row: of 100 years, in how many there is fruit on the barest day of the week."
NO_SLATE, OFFERED = "Ripe each week", "Cultivars ripe each week{whose}, {when}"
BEGIN = "A number a week to choose from. For a slate: find a cultivar (F), then press S. Or press Build a slate on the page."


def form(asked: Question, tab: str) -> dict[str, Any] | None:
    """Title, the drawing, what is said under it, a line each, and whether it speaks of one cultivar, which then stands beside it; None where
    the hall's own picture is shown."""
    made = FORMS.get(tab)
    return made(asked) if made else None


def _told(title: str, said: list[str], drawn: str, speaks: bool = False) -> dict[str, Any]:
    return {"title": title, "said": said, "drawn": drawn, "speaks": speaks}


def _season(asked: Question) -> dict[str, Any]:
    view = calendar_view(asked)
    if not view["slate"]:
        return _offered(asked, view)
    title = OVER_ANY if asked.season_kind == ANY else view["heading"]
    chances = _chances(asked)
    said = [*view["said"], *([CHANCES] if chances else [])]
    told = f"{title}: {view['said'][0]}"
    picture = large_season.season(
        view["slate"], view["gaps"], view["marks"], _key(asked, view), told, chances
    )
    return _told(title, said, picture)


def _chances(asked: Question) -> list[tuple[str, list[tuple[float, float, str, str]]]]:
    """Of each buyer the weeks of the selling days: their ends as parts of them, and of how many years of 100 their barest day has fruit."""
    rows = []
    several = asked.strip is not None and len(asked.strip.rows) > 1
    for row in asked.strip.rows if asked.strip else ():
        chance, told = row.cover.chance, []
        for at in range(0, len(chance), 7):
            least = float(chance[at : at + 7].min())
            looks = weeks.looks(least, row.cover.wanted, True)
            told.append((at / len(chance), min((at + 7) / len(chance), 1.0), f"{100 * least:.0f}", looks))
        rows.append((row.buyer if several else "Years of 100 with fruit", told))
    return rows


def _offered(asked: Question, view: dict[str, Any]) -> dict[str, Any]:
    """Without a slate: how many there are to choose from, week by week, and how a slate begins."""
    windows = pd.concat([asked.windows.iloc[:0], *season_classes(asked).classes.values()])
    if not len(windows):
        return _told(NO_SLATE, [view["others"]], "")
    verdict = asked.fit["verdict"].reindex(windows.index)
    may = (verdict == MAY_QUALIFY).to_numpy() & (asked.profile is not None)
    (starts, sure), (_, more) = (picked_each_week(windows[who], asked.selling) for who in (~may, may))
    whose = f" for {called(asked.profile.name)}" if asked.profile else ""
    when = "by their usual dates" if asked.season_kind == ANY else f"in {DATED[asked.season_kind]}"
    title = OFFERED.format(whose=whose, when=when)
    looks = ("full", "hatched") if asked.profile else ("picked",)
    key = [(look, "yellow", CALENDAR_MARKS[look]) for look in looks if look != "hatched" or more.any()]
    labels = [day_label(start, asked.catalogue.south) for start in starts]
    picture = large_season.columns(labels, list(zip(map(int, sure), map(int, more), strict=True)), key, title)
    return _told(title, [BEGIN], picture)


def _key(asked: Question, view: dict[str, Any]) -> list[tuple[str, str, str]]:
    """Of each kind of bar that is drawn, and of what lies behind them, the looks, the flesh and what it means; "" for words alone."""
    bars = {(row["look"] if asked.profile else "picked", _flesh(row["flesh"])) for row in view["slate"]}
    plain = [(look, flesh, MEANINGS[f"mark {flesh} round"]) for look, flesh in sorted(bars) if look in PLAIN]
    solid = [
        ("", "", f"solid: {CALENDAR_MARKS[look]}") for look in PLAIN if look in {one for one, *_ in plain}
    ]
    may = [
        (look, flesh, f"{CALENDAR_MARKS[look]}, {UNKNOWN if flesh == 'unknown' else flesh}")
        for look, flesh in sorted(bars)
        if look == "hatched"
    ]
    rest = {look for look, _ in bars} & {"hollow"} | {"thin"} | ({"gap"} if view["gaps"] else set())
    return [
        *plain,
        *solid,
        *may,
        *((look, "", CALENDAR_MARKS[look]) for look in ("hollow", "thin", "gap") if look in rest),
    ]


def _flesh(recorded: str) -> str:
    return recorded if recorded in FLESH else "unknown"


def _classes(asked: Question) -> dict[str, Any]:
    found, south, title = asked.class_weeks, asked.catalogue.south, "Each class, week by week"
    if found is None:
        return _told(title, [asked.catalogue.ripening.refused], "")
    kinds = found.classes
    cells = [
        [
            (weeks.counted(float(found.count[row, at])), weeks.looks(float(found.chance[row, at]), found.covers[kind].wanted, bool(found.grown[row, at])))
            for at in range(len(found.starts))
        ]
        for row, kind in enumerate(kinds)
    ]  # fmt: skip
    if not kinds:
        return _told(title, ["No class of fruit passes your filters."], "")
    said = f"Green: fruit every day in at least {years_in_ten(asked)}. Red: a gap. Number: ripe at once."
    picture = large.boxes(kinds, [day_label(start, south) for start in found.starts], cells, title)
    may = COUNTS_IN_FULL if asked.profile else ""
    return _told(title, [_line(said, may)], picture)


def _beside(asked: Question) -> dict[str, Any] | None:
    found = asked.side_by_side
    if found is None:
        return None
    rows = []
    for key in HEADLINE:
        frame = found.values[key]
        ends = frame[["estimate", "low", "high"]].to_numpy(dtype=float)
        low, high = _ends(ends)
        rows.append({
            "label": trait_called(key).heading(asked.units),
            "cells": [
                {"text": _written(key, values, asked.units), "at": _at(values, low, high)} for values in ends
            ],
        })  # fmt: skip
    names = [called(name) for name in found.names]
    seasons = [int(count) for count in found.counts["seasons"].reindex(list(found.names)).fillna(0)]
    title = f"Side by side: {', '.join(names)}"
    said = "Dot: the estimate. Line: where it lies, 9 times in 10. V sets the first two against each other."
    return _told("Side by side", [said], large.grid(names, seasons, rows, title))


def _cultivar(asked: Question) -> dict[str, Any] | None:
    spot = asked.spotlight
    if spot is None:
        return None
    known = {one.trait: one for one in among(asked.values, spot.name, asked.profile)}
    rows = []
    for key in HEADLINE:
        one = known.get(key)
        rows.append({
            "label": trait_called(key).heading(asked.units),
            "text": interval(key, spot.row.to_dict(), asked.units) if one else "not measured",
            "counts": one.counts if one else None,
            "at": _at((one.value, one.low, one.high), *one.span) if one else None,
        })  # fmt: skip
    title = f"{called(spot.name)} among all {len(asked.catalogue.cultivars)}"
    said = "Gray: all cultivars. Dot: this one. Line: where it lies, 9 times in 10."
    return _told(title, [said], large.among(rows, title), speaks=True)


FORMS: dict[str, Callable[[Question], dict[str, Any] | None]] = {
    "season": _season,
    "classes": _classes,
    "beside": _beside,
    "cultivar": _cultivar,
}


def _line(*said: str) -> str:
    return " ".join(filter(None, said))


def _ends(values: np.ndarray) -> tuple[float, float]:
    known = values[np.isfinite(values)]
    if not len(known):
        return 0.0, 1.0
    low, high = float(known.min()), float(known.max())
    room = 0.06 * (high - low) or 0.5
    return low - room, high + room


def _at(values: Any, low: float, high: float) -> tuple[float, float, float] | None:
    """Dot and ends as parts of the axis; an interval that is not known is no longer than the dot."""
    dot, *ends = (float(value) for value in values)
    if dot != dot:
        return None
    first, last = ends if ends[0] == ends[0] and ends[1] == ends[1] else (dot, dot)
    wide = high - low or 1.0  # all alike
    return (dot - low) / wide, (first - low) / wide, (last - low) / wide


def _written(key: str, values: np.ndarray, units: str) -> str:
    row = dict(zip((key, f"{key}_low", f"{key}_high"), map(float, values), strict=True))
    return interval(key, row, units)
