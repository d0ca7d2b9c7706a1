"""The two pictures of my site, winters and springs, and what each shows as a table."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
from markupsafe import Markup

from dashboard.answers.my_site import by_measure
from dashboard.answers.question import Question
from dashboard.charts import springs, winters
from dashboard.wording import my_site as words
from dashboard.wording.figures import counted

SPRINGS_READ = f"A box is a spring: per cent of the bloom that frost would have taken, from 10 on. Dark: over 90. The first to bloom stand on top. At most {springs.MOST} are drawn."
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
        {"id": str(year), "name": "", "cells": [str(year), *(f"{one[name]:.0f}" for name in heads)]}
        for year, one in zip(found.winters.supply.index, found.winters.supply.to_dict("records"), strict=True)
    ]
    columns = [{"key": "year", "label": "Winter to spring", "kind": "head"}, *({"key": key, "label": label, "kind": "number"} for key, label in heads.items())]  # fmt: skip
    return {"title": f"{counted(len(rows), 'winter')} at {found.name}", "columns": columns, "rows": rows}


def springs_view(asked: Question, _page: int) -> dict[str, Any]:
    """The springs as a table: what frost would have taken of each."""
    found, names = asked.my_site, pictured(asked)
    if found is None or found.bloomed is None or not names:
        return {"columns": [], "rows": [], "empty": "No springs."}
    at = asked.catalogue.cultivars.index.get_indexer(pd.Index(names))
    rows = [
        {
            "id": str(year),
            "name": "",
            "cells": [str(year), *(f"{100 * one:.0f}" for one in found.bloomed.lost[row, at])],
        }
        for row, year in enumerate(found.bloomed.years)
    ]
    columns = [{"key": "year", "label": "Spring", "kind": "head"}, *({"key": f"c{place}", "label": name, "kind": "number"} for place, name in enumerate(names))]  # fmt: skip
    return {"title": "Per cent of the bloom that frost would have taken", "columns": columns, "rows": rows}
