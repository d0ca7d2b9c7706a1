"""The pictures of the season as tables: week by week, and cultivar by cultivar."""

from __future__ import annotations

import math

import numpy as np

from dashboard.answers.question import Question
from dashboard.charts import calendar, listing
from dashboard.ripening import day_label
from dashboard.wording.column_kinds import plain
from dashboard.wording.columns import COLUMNS
from dashboard.wording.figures import DATED, DATED_WITH_COVER, chance

PAGE = calendar.PAGE


def weeks_view(asked: Question, _page: int) -> dict:
    """A row a week: the most that are being picked on one of its days, and the cover of its worst day."""
    windows, south = asked.windows, asked.catalogue.south
    span = calendar.extent(asked.catalogue.windows)
    clear = asked.fit["taken"].reindex(windows.index).to_numpy(dtype=bool)
    by_day = calendar.picked_by_day(windows, clear, span)
    cover = asked.cover
    rows = []
    for start in range(0, len(by_day["day"]), 7):
        days = by_day["day"][start : start + 7]
        told = [f"{day_label(days[0], south)} to {day_label(days[-1], south)}", _most(by_day["all"], start)]
        if asked.profile:
            told.append(_most(by_day["chosen"], start))
        if cover is not None:
            at = np.isin(cover.days, days)
            worst = chance(float(cover.chance[at].min())) if at.any() else "–"
            bare = any(gap.first <= days[-1] and gap.last >= days[0] for gap in cover.gaps)
            told += [worst, "gap" if bare else ""]
        rows.append({"id": str(start), "name": "", "cells": told})
    at_once = "one" if asked.least == 1 else str(asked.least)
    columns = [
        {"key": "week", "label": "Week"},
        {"key": "all", "label": "Being picked at once, at most", "kind": "number"},
        *([{"key": "clear", "label": "of them qualify, or may", "kind": "number"}] if asked.profile else []),
        *([{"key": "cover", "label": f"Chance of at least {at_once}, on its worst day", "kind": "number"}, {"key": "gap", "label": "Gap"}] if cover else []),
    ]  # fmt: skip
    return {
        "title": f"Week by week in {DATED_WITH_COVER[asked.season_kind]}",
        "columns": columns,
        "rows": rows,
        "empty": "Nothing.",
    }


def windows_view(asked: Question, page: int) -> dict:
    """A row a cultivar, by ripening: what its bar shows and what a press on it tells."""
    windows, south = asked.windows, asked.catalogue.south
    pages = max(1, math.ceil(len(windows) / PAGE))
    page = min(max(1, page), pages)
    part = windows.iloc[(page - 1) * PAGE : page * PAGE]
    told = calendar.told(windows, page - 1, south)
    rows = [
        {
            "name": name,
            "look": "" if asked.fit["taken"][name] else "out",
            **{key: told[key][row] for key in told},
        }
        for row, name in enumerate(part.index)
    ]
    columns = (
        COLUMNS["keep"], COLUMNS["name"], plain("usual", "Picked"), plain("ends", "Likely (90 %) between"), plain("coming", "In any year"),
        plain("beside", "From the check"), plain("seasons", "Seasons"), *([COLUMNS["reason"]] if asked.profile else []),
    )  # fmt: skip
    return {
        "title": f"Time of picking in {DATED[asked.season_kind]}, the earliest first",
        **listing.of_its_own(asked, columns, rows), "page": page, "pages": pages, "total": len(windows),
        "empty": asked.emptied.sentence if asked.emptied else "No picks are recorded for these cultivars.",
    }  # fmt: skip


def _most(counts: np.ndarray, start: int) -> str:
    return f"{counts[start : start + 7].max():.0f}"
