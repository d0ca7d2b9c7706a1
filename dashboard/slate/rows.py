"""What a published slate knows of its cultivars: the table in words, and what the browser filters by."""

from __future__ import annotations

from typing import Any

import pandas as pd

from dashboard.answers import filters as filtering
from dashboard.answers.filters import Filters
from dashboard.answers.question import Comparison
from dashboard.answers.ranking import BETTER
from dashboard.charts import calendar
from dashboard.page.frame.filters import filter_groups
from dashboard.page.parts import listing
from dashboard.ripening import day_label
from dashboard.slate.pictures import all_calendar_rows
from dashboard.slate.season import seasons
from dashboard.terms.traits import TRAITS
from dashboard.visit.state import FILTERS
from dashboard.wording.figures import QUALIFY, UNJUDGED, interval
from dashboard.wording.gaps import uncovering


def known(asked: Comparison) -> pd.Index:
    """The cultivars a slate is about, in catalogue order: those that pass when nothing is ticked."""
    return asked.catalogue.cultivars.index[asked.passes]


def table(asked: Comparison) -> dict[str, Any]:
    """The live page's ranking, all of it: columns, and rows with the place of each cultivar in ``known``."""
    place = {name: row for row, name in enumerate(known(asked))}
    written = listing.written_rows(asked.ranking)
    return {
        "columns": listing.columns(asked),
        "rows": [{**listing.row(asked, name, values), "place": place[name]} for name, values in written],
    }


def figures(asked: Comparison) -> dict[str, Any]:
    """Every trait of every cultivar with its interval, as a table for reading."""
    rows = asked.ranking
    return {
        "columns": ["Cultivar", *(trait.heading(asked.units) for trait in TRAITS.values())],
        "rows": [
            [str(name), *(interval(key, values, asked.units) for key in TRAITS)]
            for name, values in ((name, rows.loc[name].to_dict()) for name in sorted(rows.index, key=str))
        ],
    }


def groups(asked: Comparison) -> list[dict[str, Any]]:
    """The live page's filters, each option with the places in ``known`` of those that pass it alone."""
    names = known(asked)
    at = asked.catalogue.cultivars.index.get_indexer(names)
    found = []
    for group in filter_groups(asked):
        if group["field"] not in FILTERS:
            continue
        options = []
        for option in group["options"]:
            mask = filtering.passes(asked.catalogue, _alone(group["field"], option["value"]))[at]
            options.append({**option, "members": [int(row) for row in mask.nonzero()[0]]})
        found.append({**group, "options": options})
    return found


def _alone(field: str, value: str) -> Filters:
    if field == "seasons":
        return Filters(seasons=int(value))
    asked: dict[str, Any] = {field: (value,)}
    return Filters(seasons=0)._replace(**asked)


def data(asked: Comparison, filters: list[dict[str, Any]]) -> dict[str, Any]:
    """What the browser needs, as plain numbers and texts; places are those of ``known``, ``filters`` from ``groups``."""
    names = known(asked)
    place = {name: row for row, name in enumerate(names)}
    windows, fit = asked.windows, asked.fit.loc[names]
    return {
        "names": [str(name) for name in names],
        "verdict": [str(word) for word in fit["verdict"]],
        "market": asked.profile.name if asked.profile else "",
        "uncovering": uncovering(asked), "qualify": QUALIFY, "unjudged": UNJUDGED,
        "groups": [
            {"field": g["field"], "label": g["label"], "single": g["single"], "options": [{k: o[k] for k in ("value", "label", "members")} for o in g["options"]]}
            for g in filters
        ],
        "better": {key: _numbers(asked.values[key].loc[names, "estimate"]) for key in BETTER},
        "calendar": {"place": [place[name] for name in windows.index], "columns": all_calendar_rows(asked)},
        "first": _numbers(asked.catalogue.windows.loc[names, "first"]),
        "last": _numbers(asked.catalogue.windows.loc[names, "last"]),
        "span": [float(end) for end in calendar.extent(asked.catalogue.windows)],
        "seasons": seasons(asked, place),
        "page": calendar.PAGE, "fewest": calendar.FEWEST,
        "days": _days(asked),
    }  # fmt: skip


def _numbers(values: pd.Series) -> list[float | None]:
    return [None if value != value else round(float(value), 4) for value in values]


def _days(asked: Comparison) -> dict[int, str]:
    """How each day of the season is written."""
    low, high = calendar.extent(asked.catalogue.windows)
    return {day: day_label(day, asked.catalogue.south) for day in range(int(low), int(high) + 1)}
