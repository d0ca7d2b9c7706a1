"""The two pictures of my site, winters and springs, and their tables: what each shows, chill by date, frost by stage."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
from markupsafe import Markup

from dashboard.answers.my_site import by_measure
from dashboard.answers.question import Question
from dashboard.charts import springs, winters
from dashboard.site.frost import STAGES, celsius
from dashboard.terms.units import shown_in
from dashboard.wording import my_site as words
from dashboard.wording.figures import counted

SPRINGS_READ = f"A box is a spring: the darker, the more of the bloom frost would have taken; darkest: over 90 %. Figures are per cent, from 10 on, where there is room. The first to bloom stand on top. At most {springs.MOST} are drawn."
WINTERS_READ = "A dot is a winter: its chill in {}. Hollow and red: too little for at least one. Dashed line or shaded band: what cultivars need. Press its label to see who. Dotted: what 9 winters in 10 brought."


def winters_drawn(asked: Question) -> Markup:
    """Chill by winter, with what is told of as lines; nothing where nothing is known."""
    found = asked.my_site
    if found is None or found.refused:
        return Markup("")
    measure, rows = by_measure(found), words.rows(asked)
    needs = rows.loc[rows["measure"] == measure, "need"]
    return winters.drawing(
        [int(year) for year in found.winters.years],
        found.winters.supply[measure].to_numpy(),
        {str(name): float(need) for name, need in needs.items()},
        words.UNITS[measure],
        found.assured[measure],
    )


def winters_read(asked: Question) -> str:
    """How the picture is read, and whom it cannot hold."""
    found = asked.my_site
    if found is None or found.refused:
        return ""
    told = words.rows(asked)["measure"]
    measure = by_measure(found)
    other = int(((told != measure) & (told != "")).sum())
    aside = f" {other} with a need in another unit stand in the table alone." if other else ""
    return f"{WINTERS_READ.format(words.UNITS[measure])}{aside}"


def pictured(asked: Question) -> list[str]:
    """Whose springs are drawn."""
    return [] if asked.my_site is None else [str(name) for name in words.rows(asked).index][: springs.MOST]


def springs_drawn(asked: Question) -> Markup:
    """What frost would have taken, those that bloom first on top; nothing where nothing is known."""
    found, names = asked.my_site, pictured(asked)
    if found is None or found.bloomed is None or not names:
        return Markup("")
    every = asked.catalogue.cultivars.index
    at = every.get_indexer(pd.Index(names))
    order = at[np.argsort(np.median(found.bloomed.day[:, at], axis=0), kind="stable")]
    return springs.drawing(
        [str(every[one]) for one in order], found.bloomed.years, found.bloomed.lost[:, order]
    )


def winters_view(asked: Question, _page: int) -> dict[str, Any]:
    """The winters as a table."""
    found = asked.my_site
    if found is None or found.refused:
        return {"columns": [], "rows": [], "empty": "No winters."}
    heads = {
        "hours": "Chill hours",
        "portions": "Chill portions",
        "utah": "Utah units",
        "positive_utah": "Positive Utah units",
    }
    rows = [
        _row(str(year), [f"{one[name]:.0f}" for name in heads])
        for year, one in zip(found.winters.supply.index, found.winters.supply.to_dict("records"), strict=True)
    ]
    columns = _heads("Winter to spring", *heads.values())
    return {"title": f"{counted(len(rows), 'winter')} at {found.name}", "columns": columns, "rows": rows}


def dates_view(asked: Question, _page: int) -> dict[str, Any]:
    """How much chill has come by a date: what nine winters in ten had by then at least, and half of them."""
    found = asked.my_site
    if found is None or found.refused:
        return {"columns": [], "rows": [], "empty": "No winters."}
    rows = []
    for at, date in enumerate(found.winters.dates):
        if date.day == 15 or date.is_month_end:
            by_then = [found.winters.by_day[name][:, at] for name in words.UNITS]
            told = [np.quantile(one, level, method="inverted_cdf") for one in by_then for level in (0.1, 0.5)]
            rows.append(_row(f"{date:%b} {date.day}", [f"{one:.0f}" for one in told]))
    heads = [
        f"Chill {unit}, {often}"
        for unit in words.UNITS.values()
        for often in ("9 winters in 10", "half the winters")
    ]
    return {
        "title": f"Chill by the end of a day at {found.name}, at least",
        "columns": _heads("Date", *heads),
        "rows": rows,
    }


def stages_view(asked: Question, _page: int) -> dict[str, Any]:
    """Frost by the stage it meets: what kills, in how many springs it would have, and how much in each."""
    found, names = asked.my_site, pictured(asked)
    if found is None or found.bloomed is None or not names:
        return {"columns": [], "rows": [], "empty": "No springs."}
    at = asked.catalogue.cultivars.index.get_indexer(pd.Index(names))
    lost, years, degrees = found.bloomed.by_stage[:, :, at], found.bloomed.years, shown_in("temperature", asked.units)  # fmt: skip
    kills = [[f"{degrees.from_si(celsius(one)):.0f} {degrees.symbol}" for one in each] for each in zip(*((one.kills_10_f, one.kills_90_f) for one in STAGES), strict=True)]  # fmt: skip
    often = [[f"{int((one > least).any(axis=1).sum())} of {len(years)}" for one in lost] for least in (0.1, 0.9)]  # fmt: skip
    rows = [
        *(_row(f"{share} % killed at", told) for share, told in zip((10, 90), kills, strict=True)),
        *(_row(f"Springs with over {share} % lost", told) for share, told in zip((10, 90), often, strict=True)),
        *(_row(str(year), [f"{100 * one:.0f}" for one in lost[:, row].mean(axis=1)]) for row, year in enumerate(years)),
    ]  # fmt: skip
    heads = [one.name.capitalize() for one in STAGES]
    return {"title": f"Frost by stage, {counted(len(names), 'cultivar')}: what kills, in how many springs one lost more, and the mean per cent lost by year", "columns": _heads("Spring", *heads), "rows": rows}  # fmt: skip


def _row(head: str, cells: list[str]) -> dict[str, Any]:
    return {"id": head, "name": "", "cells": [head, *cells]}


def _heads(first: str, *rest: str) -> list[dict[str, str]]:
    return [{"key": "head", "label": first, "kind": "head"}, *({"key": f"c{at}", "label": label, "kind": "number"} for at, label in enumerate(rest))]  # fmt: skip


def springs_view(asked: Question, _page: int) -> dict[str, Any]:
    """The springs as a table: what frost would have taken of each."""
    found, names = asked.my_site, pictured(asked)
    if found is None or found.bloomed is None or not names:
        return {"columns": [], "rows": [], "empty": "No springs."}
    at = asked.catalogue.cultivars.index.get_indexer(pd.Index(names))
    rows = [
        _row(str(year), [f"{100 * one:.0f}" for one in found.bloomed.lost[row, at]])
        for row, year in enumerate(found.bloomed.years)
    ]
    return {
        "title": "Per cent of the bloom that frost would have taken",
        "columns": _heads("Spring", *names),
        "rows": rows,
    }
