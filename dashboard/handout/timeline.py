"""Days of the season drawn from left to right: months, bars of picking time, the chance of cover."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from dashboard.charts import style
from dashboard.handout.paper import GREY, PALE, Pen
from dashboard.ripening import axis_days, day_label, of_calendar
from dashboard.ripening.cover import Cover

AXIS = 12.0  # points that the months take over the rows
SMALL = 6.6
ROOM = 28.0  # points from one date to the next


@dataclass(frozen=True)
class Bar:
    """A row: picked from ``first`` to ``last``, which lies between ``low`` and ``high`` with 90 % certainty (NaN: not told)."""

    label: str
    first: float
    last: float
    low: float = np.nan
    high: float = np.nan
    told: str = ""
    filled: bool = True
    to: str = ""  # the heading that its name leads to


@dataclass(frozen=True)
class Days:
    """Where a day stands: ``span`` of days from ``left`` over ``width`` points."""

    span: tuple[float, float]
    left: float
    width: float

    def at(self, day: float) -> float:
        part = (day - self.span[0]) / max(self.span[1] - self.span[0], 1.0)
        return self.left + self.width * float(np.clip(part, 0.0, 1.0))


def span_of(ends: Sequence[float], around: float = 4.0) -> tuple[float, float]:
    """From the earliest to the latest of some days, and a little around it."""
    known = [day for day in ends if np.isfinite(day)]
    return (min(known) - around, max(known) + around) if known else (150.0, 250.0)


def months(pen: Pen, days: Days, y: float, tall: float, south: bool) -> None:
    """A thin line at each marked day with its date over it; those that are no first of a month are dashed, and dated where there is
    room."""
    marks = [day for day, _ in axis_days(*days.span, south)]
    room = min(np.diff(marks), default=np.inf) * days.width / max(days.span[1] - days.span[0], 1.0)
    for day in marks:
        x, begins = days.at(day), of_calendar(day, south)[0] == 1
        pen.line(x, y, x, y + tall, 0.3, GREY, dashed=not begins)
        if begins or room > ROOM:
            pen.write(x, y - 2.5, day_label(day, south), SMALL, align="middle", colour=GREY)


def bars(
    pen: Pen, rows: Sequence[Bar], x: float, y: float, width: float, step: float, span: tuple[float, float], south: bool,
    names: float, dates: float,
) -> None:  # fmt: skip
    """``names`` and ``dates``: points kept for the words to the left and to the right of the bars."""
    days = Days(span, x + names, width - names - dates)
    top = y + AXIS
    months(pen, days, top, len(rows) * step, south)
    for number, row in enumerate(rows):
        middle = top + (number + 0.5) * step
        pen.write(x, middle + 2.4, row.label, SMALL + 0.4, room=names - 5)
        if row.to:
            pen.leads(x, middle - step / 2, names, step, row.to)
        pen.write(x + width - dates + 4, middle + 2.4, row.told, SMALL, room=dates - 4)
        if not np.isfinite(row.first):
            continue
        thick = min(step * 0.5, 6.0)
        if np.isfinite(row.low) and np.isfinite(row.high):
            pen.line(days.at(row.low), middle, days.at(row.high), middle, 0.7)
        start, end = days.at(row.first - 0.5), days.at(row.last + 0.5)
        fill = style.INK if row.filled else style.PAPER
        pen.box(start, middle - thick / 2, max(end - start, 1.0), thick, fill, style.INK)


def cover(
    pen: Pen, covered: Cover, x: float, y: float, width: float, tall: float, span: tuple[float, float], south: bool, names: float,
    dates: float,
) -> None:  # fmt: skip
    """The chance of each day that enough are being picked; gaps are hatched and named."""
    days = Days(span, x + names, width - names - dates)
    top, bottom = y + AXIS, y + tall
    high = bottom - top
    wide = days.width / max(days.span[1] - days.span[0], 1.0)
    previous = None
    for day, chance in zip(covered.days, covered.chance, strict=True):
        left, level = days.at(day - 0.5), bottom - high * float(chance)
        pen.box(left, level, wide + 0.2, bottom - level, PALE)
        if previous is not None:
            pen.line(left, previous, left, level, 0.9)
        pen.line(left, level, days.at(day + 0.5), level, 0.9)
        previous = level
    months(pen, days, top, high, south)
    for gap in covered.gaps:
        _hatched(pen, days.at(gap.first - 0.5), days.at(gap.last + 0.5), top, bottom)
    for part in (0.0, covered.wanted, 1.0):
        level = bottom - high * part
        pen.line(days.left, level, days.left + days.width, level, 0.5, GREY, dashed=part == covered.wanted)
        pen.write(days.left - 4, level + 2.4, f"{100 * part:.0f} %", SMALL, align="right")


def _hatched(pen: Pen, left: float, right: float, top: float, bottom: float) -> None:
    tall = bottom - top
    pen.box(left, top, right - left, tall, edge=style.INK)
    start = left - tall
    while start < right:
        a, b = max(start, left), min(start + tall, right)
        if b > a:
            pen.line(a, bottom - (a - start), b, bottom - (b - start), 0.35)
        start += 5.0
    label = 16.0
    if right - left > label + 6:
        middle = (left + right) / 2
        pen.box(middle - label / 2 - 2, (top + bottom) / 2 - 6, label + 4, 11, style.PAPER)
        pen.write(middle, (top + bottom) / 2 + 2.4, "gap", SMALL + 0.8, bold=True, align="middle")
