"""What one cultivar is worth, trait by trait, with its interval, its place among all and what that rests on."""

from __future__ import annotations

from functools import partial
from typing import Any

import numpy as np
import pandas as pd

from dashboard.answers.question import Question
from dashboard.charts import style
from dashboard.handout.columns import Cell, Column, Rows, Strip, headed
from dashboard.handout.paper import GREY, PALE, Pen
from dashboard.wording.cautions import RELIABILITY
from dashboard.wording.figures import basis_told
from dashboard.wording.trait_rows import INTERVAL, VALUES, value_rows

STRIP = Column("Among all cultivars, lowest to highest", 98)
PARTS = (90, 58, 64, 46, 28, 38, 66)


def worth(asked: Question) -> Rows:
    """Every trait; those without a reading say so."""
    heads = [headed(asked, column, part) for column, part in zip(VALUES, PARTS, strict=True)]
    place = VALUES.index(INTERVAL) + 1
    heads.insert(place, STRIP)
    rows = []
    for row in value_rows(asked):
        cells: list[Cell] = [column.told(asked, row) for column in VALUES]
        values = asked.values[row["id"]]
        own: Any = values.loc[asked.cultivar]
        known = pd.notna(own["estimate"])
        cells.insert(place, Strip(partial(_strip, standing(values["estimate"], own))) if known else "")
        rows.append(tuple(cells))
    title = (
        f"What it is worth ({basis_told(asked)}). The dot is its place among all cultivars, the dark stretch the likely range (90 %); right is "
        f"more, not better. {RELIABILITY}."
    )
    return Rows(title, tuple(heads), tuple(rows))


def standing(every: pd.Series, own: Any) -> tuple[float, float, float]:
    """Share of cultivars (0 to 1) below its estimate and below the ends of its interval; ties count half."""
    others = every.dropna().to_numpy(dtype=float)

    def below(value: float) -> float:
        return float((others < value).mean() + 0.5 * (others == value).mean()) if value == value else np.nan

    return below(own["estimate"]), below(own["low"]), below(own["high"])


def _strip(
    place: tuple[float, float, float], pen: Pen, x: float, y: float, width: float, height: float
) -> None:
    at, low, high = place
    middle = y + height / 2
    pen.box(x, middle - 1.6, width, 3.2, PALE)
    if low == low and high == high:
        pen.box(x + width * low, middle - 1.6, width * (high - low), 3.2, GREY)
    pen.line(x + width / 2, middle - 3.4, x + width / 2, middle + 3.4, 0.3, GREY)
    pen.dot(x + width * at, middle, 2.6, style.INK)
