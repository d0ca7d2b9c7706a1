"""What a published slate knows of its cultivars: the table in words, and what the browser filters by."""

from __future__ import annotations

from typing import Any

import pandas as pd

from dashboard.answers import filters as filtering
from dashboard.answers.chill_choices import CHILL_UNITS
from dashboard.answers.choices import FILTERS
from dashboard.answers.choosing import as_text
from dashboard.answers.merits import merits
from dashboard.answers.question import Question
from dashboard.answers.standing import fits
from dashboard.charts import calendar, listing
from dashboard.slate.coming_seasons import seasons
from dashboard.slate.pictures import all_calendar_rows
from dashboard.terms.traits import TRAITS
from dashboard.wording.boxes import filter_groups
from dashboard.wording.cautions import LICENSED
from dashboard.wording.figures import LONGEST_NAME, QUALIFY, UNJUDGED, interval
from dashboard.wording.gaps import uncovering
from dashboard.wording.my_site import OFTEN, SHORT


def known(asked: Question) -> pd.Index:
    """The cultivars a slate is about, in catalogue order: those that pass when nothing is ticked."""
    return asked.catalogue.cultivars.index[asked.passes]


def table(asked: Question) -> dict[str, Any]:
    """The live page's ranking, all of it: columns, and rows with the place of each cultivar in ``known``."""
    place = {name: row for row, name in enumerate(known(asked))}
    told = listing.table(asked, asked.ranking)
    rows = [
        {**row, "place": place[name]} for name, row in zip(asked.ranking.index, told["rows"], strict=True)
    ]
    return {**told, "rows": rows}


def drawn(table: dict[str, Any]) -> dict[str, Any]:
    """What the browser draws into the cells of ``table``, whose texts stand there: the columns, and by place of a cultivar what is
    written in each and the figures drawn beside it; None where that is not known."""
    columns = [
        (at, head) for at, head in enumerate(table["columns"]) if head.get("look") not in (None, "name")
    ]
    cells = {
        row["place"]: [row["cells"][at][1:] if isinstance(row["cells"][at], list) else None for at, _ in columns]
        for row in table["rows"]
    }  # fmt: skip
    return {"columns": columns, "rows": [cells[place] for place in sorted(cells)]}


def figures(asked: Question) -> dict[str, Any]:
    """Every trait of every cultivar with its interval, as a table for reading."""
    rows = asked.ranking
    return {
        "columns": ["Cultivar", *(trait.heading(asked.units) for trait in TRAITS.values())],
        "rows": [
            [str(name), *(interval(key, values, asked.units) for key in TRAITS)]
            for name, values in ((name, rows.loc[name].to_dict()) for name in sorted(rows.index, key=str))
        ],
    }


def groups(asked: Question) -> list[dict[str, Any]]:
    """The live page's filters, each option with the places in ``known`` of those that pass it alone, and of those of whom the
    records do not tell it."""
    known_at = asked.catalogue.cultivars.index.get_indexer(known(asked))
    found: list[dict[str, Any]] = []
    for group in filter_groups(asked):
        if (name := group["field"]) not in FILTERS:
            continue
        options = []
        offered = {as_text(value): value for value in FILTERS[name].options(asked.catalogue)}
        for option in group["options"]:
            value = offered.get(option["value"], option["value"])
            masks = {
                "members": filtering.alone(asked.catalogue, name, value),
                "missing": filtering.missing(asked.catalogue, name, value),
            }
            places = {kind: mask[known_at].nonzero()[0].tolist() for kind, mask in masks.items()}
            options.append({**option, **places})
        lists = sum(one["field"].partition("-")[0] == name for one in found)  # each has a name of its own
        field = f"{name}-{lists + 1}" if lists else name
        for unit, *_ in group.get("typed", {}).get("units", ()):
            needs = asked.catalogue.cultivars[CHILL_UNITS[unit][1]].loc[known(asked)]
            group["typed"].setdefault("needs", {})[unit] = _numbers(needs)
        found.append({**group, "field": field, "options": options, "why_missing": FILTERS[name].why_missing})
    return found


def data(asked: Question, filters: list[dict[str, Any]]) -> dict[str, Any]:
    """What the browser needs, as plain numbers and texts; places are those of ``known``, ``filters`` from ``groups``."""
    names = known(asked)
    place = {name: row for row, name in enumerate(names)}
    windows, said = asked.windows, uncovering(asked)
    return {
        "names": [str(name) for name in names],
        "buyers": [
            {
                "name": buyer.name if buyer else "", "uncovering": told,
                "verdict": fits(asked.catalogue, buyer, asked.basis).loc[names, "verdict"].astype(str).tolist(),
            }
            for buyer, told in zip(asked.buyers, said, strict=True)
        ],
        "protected": asked.catalogue.cultivars.loc[names, "protected"].eq(True).to_numpy().nonzero()[0].tolist(), "licensed": LICENSED,
        "longest": LONGEST_NAME, "qualify": QUALIFY, "unjudged": UNJUDGED,
        "groups": [
            {
                **{key: group[key] for key in ("field", "label", "single", "why_missing", "typed") if key in group},
                "options": [{key: option[key] for key in ("value", "label", "members", "missing")} for option in group["options"]],
            }
            for group in filters
        ],
        "better": {key: _numbers(column) for key, column in merits(asked.catalogue, asked.profile, asked.basis).loc[names].items()},
        "calendar": {"place": [place[name] for name in windows.index], "columns": all_calendar_rows(asked)},
        "first": _numbers(asked.catalogue.windows.loc[names, "first"]),
        "last": _numbers(asked.catalogue.windows.loc[names, "last"]),
        "span": [float(end) for end in calendar.extent(asked.catalogue.windows)],
        "seasons": seasons(asked, place), "chill": chill(asked),
        "page": calendar.PAGE, "fewest": calendar.FEWEST,
    }  # fmt: skip


def chill(asked: Question) -> dict[str, Any] | None:
    """Of the place that was chosen, by place in ``known``: in which of its winters each goes short of chill, None where its need is not on
    record; who gets enough often; and the words. None where no place was chosen."""
    found = asked.my_site
    if asked.chosen_winters is None or found is None or found.refused:
        return None
    told, supply = found.enough.loc[known(asked)], found.winters.supply
    short = [
        [at for at, brought in enumerate(supply[measure]) if brought < need] if measure else None
        for need, measure in zip(told["need"], told["measure"], strict=True)
    ]
    well = (told["enough"] >= OFTEN / 10 - 1e-9).to_numpy().nonzero()[0].tolist()
    years = [int(year) for year in supply.index]
    return {"place": found.name, "years": years, "short": short, "well": well, "words": SHORT}


def _numbers(values: pd.Series) -> list[float | None]:
    return [None if value != value else round(float(value), 4) for value in values]
