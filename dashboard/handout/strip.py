"""The slate strip on paper: a bar a cultivar in order of picking, a cell a day, a row of cells a buyer, in grays and hatches that print."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Any

from dashboard.answers.question import Question
from dashboard.answers.strip import Strip
from dashboard.charts import style
from dashboard.handout.blocks import Block, Picture, Words
from dashboard.handout.paper import GREY, PALE, Pen
from dashboard.handout.timeline import AXIS, SMALL, Days, months
from dashboard.ripening import axis_days
from dashboard.wording.gaps import days_told
from dashboard.wording.strip import BARE, MAY, SURE

NAMES, DATES = 112.0, 82.0  # points beside the days
STEP, CELL, LABEL = 10.0, 11.0, 12.0  # a bar's row; a day; the dates of gaps under it
AT_ONCE = 48  # bars of one picture
DARK = "#59636a"
LEGEND = (
    "Bars: usual days of picking; black qualifies, hatched may, white covers nothing for these buyers. Days: dark with fruit in "
    "95 years of 100 or more, gray covered, hatched covered only with fruit that may qualify, white not covered."
)


def pictures(asked: Question, strip: Strip, told: Mapping[str, Any], keys: Mapping[str, str]) -> list[Block]:
    """``told`` as ``wording.strip.drawn``; ``keys`` are the places of the cultivars' pages, by name."""
    span, south = (strip.span[0] - 0.5, strip.span[1] + 0.5), asked.catalogue.south
    bars, every = told["bars"], list(strip.bars)
    dates = [days_told(bar.first, bar.last, south) for bar in every]
    blocks: list[Block] = []
    for start in range(0, len(bars), AT_ONCE):
        part = slice(start, start + AT_ONCE)
        blocks.append(
            Picture(
                AXIS + STEP * len(bars[part]) + 4,
                partial(_bars, bars[part], dates[part], keys, span, south, strip.span[0]),
            )
        )
    tall = (CELL + LABEL) * len(told["rows"])
    blocks.append(Picture(tall + AXIS + 2, partial(_rows, told["rows"], span, south, strip.span[0])))
    blocks.append(Words(LEGEND, size=7.2, quiet=True, after=5))
    return blocks


def _bars(
    bars: Sequence[Mapping[str, Any]], dates: Sequence[str], keys, span, south, first, pen: Pen, x, y, width
) -> None:
    days, top = Days(span, x + NAMES, width - NAMES - DATES), y + AXIS
    months(pen, days, top, len(bars) * STEP, south)
    for number, (bar, told) in enumerate(zip(bars, dates, strict=True)):
        line = top + number * STEP
        pen.write(x, line + STEP / 2 + 2.4, bar["name"], SMALL + 0.4, room=NAMES - 5)
        pen.leads(x, line, NAMES, STEP, keys[bar["name"]])
        pen.write(x + width - DATES + 4, line + STEP / 2 + 2.4, told, SMALL, room=DATES - 4)
        start, end = days.at(first + bar["first"] - 0.5), days.at(first + bar["last"] + 0.5)
        if end <= start:  # picked before the first selling day, or after the last
            continue
        fill = style.INK if bar["look"] == "full" else style.PAPER
        pen.box(start, line + 2, end - start, STEP - 4, fill, style.INK)
        if bar["look"] == "hatched":
            _hatched(pen, start, end, line + 2, line + STEP - 2)


def _rows(rows: Sequence[Mapping[str, Any]], span, south, first, pen: Pen, x, y, width) -> None:
    days, top = Days(span, x + NAMES, width - NAMES - DATES), y
    wide = days.width / (span[1] - span[0])
    for row in rows:
        pen.write(x, top + CELL / 2 + 2.4, row["buyer"], SMALL + 0.4, bold=True, room=NAMES - 5)
        for day, look in enumerate(row["cells"]):
            left = days.at(first + day - 0.5)
            fill = {SURE: DARK, MAY: style.PAPER, BARE: style.PAPER}.get(look, PALE)
            pen.box(left, top, wide, CELL, fill, GREY if look != BARE else None)
            if look == MAY:
                _hatched(pen, left, left + wide, top, top + CELL, 3.0)
        _gaps(pen, row["gaps"], days, first, top + CELL)
        top += CELL + LABEL
    for marked, label in axis_days(span[0], span[1], south):
        pen.write(days.at(marked), top + SMALL, label, SMALL, align="middle", colour=GREY)


def _gaps(pen: Pen, gaps: Sequence[Sequence[Any]], days: Days, first: float, bottom: float) -> None:
    """Each as a bracket under its days, with its dates where there is room for them: all of them stand in the words below."""
    taken = days.left
    for start, last, label in gaps:
        left, right = days.at(first + start - 0.5), days.at(first + last + 0.5)
        pen.line(left, bottom + 1.2, right, bottom + 1.2, 1.4)
        wanted = len(label) * SMALL * 0.55
        begins = max((left + right - wanted) / 2, days.left)
        if begins >= taken and begins + wanted <= days.left + days.width + DATES:
            pen.write(begins, bottom + 2 + SMALL, label, SMALL)
            taken = begins + wanted + 6


def _hatched(pen: Pen, left: float, right: float, top: float, bottom: float, step: float = 3.5) -> None:
    tall, at = bottom - top, left - (bottom - top)
    while at < right:
        a, b = max(at, left), min(at + tall, right)
        if b > a:
            pen.line(a, bottom - (a - at), b, bottom - (b - at), 0.35)
        at += step
