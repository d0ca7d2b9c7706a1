"""When a few cultivars are picked, each on a line of its own over one stretch of days: an SVG picture that fits any width."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
from markupsafe import Markup

from dashboard.charts import style
from dashboard.ripening import axis_days, day_label

LINE = 30  # pixels a cultivar: its name stands above its bar
EDGE = 4  # days left free at either side


def drawing(windows: pd.DataFrame, south: bool) -> Markup:
    """``windows``: one row a cultivar with first, last, first_low and last_high. Words where nobody was ever picked."""
    known = windows.dropna(subset=["first", "last"])
    if not len(known):
        return Markup("<p>{}</p>").format("No pick of them is on record.")
    ends = known[["first", "last", "first_low", "last_high"]].to_numpy(dtype=float)
    start, end = float(np.nanmin(ends)) - EDGE, float(np.nanmax(ends)) + EDGE

    def at(day: float) -> str:
        return f"{100 * (day - start) / (end - start):.2f}%"

    tall = height(len(windows))
    parts = [_tick(at(day), tall, label) for day, label in axis_days(start, end, south)]
    told = []
    for place, (name, row) in enumerate(windows.iterrows()):
        parts.append(_row(str(name), row, LINE * place + 22, at))
        told.append(f"{name} {_dates(row, south)}")
    return Markup('<svg class="picking" role="img" aria-label="{}" width="100%" height="{}">{}</svg>').format(
        f"When they are picked: {'; '.join(told)}.", tall, Markup("").join(parts)
    )


def height(cultivars: int) -> int:
    """Of a drawing of so many, in pixels."""
    return LINE * cultivars + 22


def _dates(row: Any, south: bool) -> str:
    if row["first"] != row["first"]:
        return "not known"
    return f"{day_label(row['first'], south)} to {day_label(row['last'], south)}"


def _tick(at: str, height: int, label: str) -> Markup:
    return Markup(
        '<line x1="{0}" x2="{0}" y1="16" y2="{1}" stroke="{4}"/>'
        '<text x="{0}" y="11" font-size="11" text-anchor="middle" fill="{2}" aria-hidden="true">{3}</text>'
    ).format(at, height, style.QUIET, label, style.RULE)


def _row(name: str, row: Any, top: int, at: Any) -> Markup:
    """The name, the time of picking to be expected as a bar, and the doubt of its ends as a line."""
    label = Markup('<text x="0" y="{}" font-size="12" fill="{}" aria-hidden="true">{}</text>').format(
        top + 11, style.INK, name if len(name) <= 40 else name[:39] + "…"
    )
    if row["first"] != row["first"]:
        return label + Markup(
            '<text x="0" y="{}" font-size="11" fill="{}" aria-hidden="true">not known</text>'
        ).format(top + 24, style.QUIET)
    doubt = Markup("")
    if row["first_low"] == row["first_low"] and row["last_high"] == row["last_high"]:
        doubt = _line(at(row["first_low"]), at(row["last_high"]), top + 20, style.QUIET, 1.5)
    return label + doubt + _line(at(row["first"] - 0.5), at(row["last"] + 0.5), top + 20, style.LEAF, 8)


def _line(start: str, end: str, down: int, colour: str, width: float) -> Markup:
    return Markup('<line x1="{}" x2="{}" y1="{}" y2="{}" stroke="{}" stroke-width="{}"/>').format(
        start, end, down, down, colour, width
    )
