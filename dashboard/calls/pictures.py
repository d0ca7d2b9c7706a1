"""Answers of a notebook drawn, as HoloViews elements that hold their figures; what draws is loaded when it is first needed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pandas as pd

from dashboard.answers.catalogue import windows_at
from dashboard.answers.question import Question
from dashboard.calls.understood import AskError, word
from dashboard.terms.traits import HEADLINE, TRAITS

# What else a notebook has to load before the first picture: the page's own parts, where it is to be shown too. Loaded after a picture,
# they would be looked for on the internet.
BEFORE: list[Callable[[], None]] = []


def _ready() -> Any:
    """What draws, loaded when it is first needed."""
    from dashboard.charts import drawing, in_a_cell, standing_alone

    drawing.ready()
    for load in BEFORE:
        load()
    in_a_cell.shown_by_bokeh()
    return standing_alone


def tradeoff(asked: Question, table: pd.DataFrame, *traits: str) -> Any:
    """Two traits of the cultivars in the table against each other."""
    ways = {key: key for key in HEADLINE} | {TRAITS[key].label: key for key in HEADLINE}
    across, up = _two(traits, ways)
    names = [name for name in table.index if name in asked.catalogue.cultivars.index]
    return _ready().tradeoff(asked, names, across, up)


def calendar(asked: Question, table: pd.DataFrame) -> Any:
    """When the cultivars in the table are picked."""
    windows = windows_at(asked.catalogue, asked.site, asked.season_kind)
    return _ready().calendar(asked, windows.loc[[name for name in table.index if name in windows.index]])


def cover(asked: Question, _table: pd.DataFrame) -> Any:
    """How surely each day has fruit, and the gaps."""
    if asked.cover is None:
        raise AskError(f"There is no picture of the cover: {asked.catalogue.ripening.refused}")
    return _ready().cover(asked)


def intervals(column: str, table: pd.DataFrame) -> Any:
    """Estimates with their intervals, from the highest."""
    if column not in table:
        raise AskError(f"The column {column} was taken away; draw the table that still has it.")
    parts = {
        name: np.asarray(table[f"{column}{end}"], dtype=float)
        for name, end in (("estimate", ""), ("low", "_low"), ("high", "_high"))
    }
    heading = table.attrs.get("headings", {}).get(column, [column])[0]
    return _ready().intervals(pd.DataFrame(parts, index=table.index), str(heading))


def _two(traits: tuple[str, ...], ways: dict[str, str]) -> tuple[str, str]:
    if not traits:
        return "size", "sugar"
    found = tuple(dict.fromkeys(word(one, ways, "trait to draw") for one in traits))
    if len(found) != 2:
        raise AskError("Name two different traits to set against each other, across and up.")
    return found[0], found[1]
