"""What one cultivar is worth, trait by trait, with its interval, its place among all and what that rests on."""

from __future__ import annotations

from functools import partial
from typing import Any

import numpy as np
import pandas as pd

from dashboard.answers.question import Comparison
from dashboard.charts import style
from dashboard.handout.columns import Cell, Column, Rows, Strip
from dashboard.handout.paper import GREY, PALE, Pen
from dashboard.terms.traits import TRAITS
from dashboard.wording.cautions import RELIABILITY
from dashboard.wording.figures import basis_told, counted

COLUMNS = (
    Column("Trait", 90), Column("Estimate", 58, right=True), Column("90 % interval", 64, right=True),
    Column("Among all cultivars, lowest to highest", 98), Column("Reliability", 46, right=True), Column("Fruit", 28, right=True),
    Column("Samples", 38, right=True), Column("Seasons", 66),
)  # fmt: skip


def worth(asked: Comparison) -> Rows:
    """Every trait; those without a reading say so."""
    rows: list[tuple[Cell, ...]] = []
    for key, trait in TRAITS.items():
        own: Any = asked.values[key].loc[asked.cultivar]
        if pd.isna(own["estimate"]):
            rows.append((trait.heading(asked.units), "not recorded", *[""] * 6))
            continue
        rows.append((
            trait.heading(asked.units), trait.written(own["estimate"], asked.units), _span(trait, own, asked.units),
            Strip(partial(_strip, standing(asked.values[key]["estimate"], own))),
            f"{own['reliability']:.2f}" if pd.notna(own["reliability"]) else "–",
            f"{int(own['fruit']):,}" if trait.on_fruit else "–", f"{int(own['samples'])}",
            f"{int(own['seasons'])} at {counted(int(own['sites']), 'site')}",
        ))  # fmt: skip
    title = (
        f"What it is worth ({basis_told(asked)}). The dot is its place among all cultivars, the dark stretch the 90 % interval; right is "
        f"more, not better. {RELIABILITY}."
    )
    return Rows(title, COLUMNS, tuple(rows))


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


def _span(trait, own: Any, system: str) -> str:
    if pd.isna(own["low"]):
        return "not known"
    return f"{trait.written(own['low'], system)} to {trait.written(own['high'], system)}"
