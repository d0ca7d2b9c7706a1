"""The slate strip in words: what is on it, how well it covers the selling days, and what its gaps and bars say."""

from __future__ import annotations

from typing import Any

import numpy as np

from dashboard.answers.question import Question
from dashboard.answers.selling import BACKWARDS
from dashboard.answers.strip import Bar, Row, Strip
from dashboard.market.verdict import MAY_QUALIFY, QUALIFIES
from dashboard.ripening import axis_days, day_label
from dashboard.ripening.model import ANY
from dashboard.wording.covered import often, statement
from dashboard.wording.figures import called, counted, stretches, years_in_ten
from dashboard.wording.gaps import days_told, near_told, uncovering_told, usual_told

SURE_FROM = 0.95  # chance from which a day is drawn in full
BARE, MAY, COVERED, SURE = (
    "0123"  # a day: a gap, covered only with what may qualify, covered, covered almost always
)
NEVER_PICKED = "Never picked in these trials, so it covers no day: {names}."
NOT_CHANGED = "Nothing was changed; move the other one first."
WRONG_WAY = f"{BACKWARDS} {NOT_CHANGED}"
FILL, BUILD = "Fill the gaps", "Build a slate"
LOOKS = {QUALIFIES: "full", MAY_QUALIFY: "hatched"}  # of a bar; all else is hollow


def drawn(asked: Question, strip: Strip) -> dict[str, Any]:
    """The strip as plain texts and numbers: days are places from the first selling day on."""
    south, first = asked.catalogue.south, strip.span[0]
    return {
        "heading": heading(asked),
        "ends": [day_label(day, south) for day in strip.span],
        "days": len(strip.rows[0].cover.days),
        "marks": [[day - first, label] for day, label in axis_days(*strip.span, south)],
        "dates": [day_label(day, south) for day in strip.rows[0].cover.days],
        "certainty": asked.certainty,
        "years": years_told(asked),
        "rows": [_row(asked, row, first, len(strip.rows) > 1) for row in strip.rows],
        "bars": [_bar(asked, bar, first, [row.buyer for row in strip.rows]) for bar in strip.bars],
        "said": [*seasons_told(asked, strip), *said(asked, strip)],
        "usual": usual_told(asked.catalogue.ripening) if asked.season_kind == ANY and _parted(strip) else "",
        "fill": filled_how(strip),
    }


def years_told(asked: Question) -> str:
    """``early years in 10``: behind the number that can be chosen."""
    return years_in_ten(asked).split(" ", 1)[1]


def heading(asked: Question) -> str:
    return f"{len(asked.shortlist)} on my slate" if asked.shortlist else "My slate is empty"


def filled_how(strip: Strip | None) -> str:
    """What the button says that fills the slate."""
    return FILL if strip is None or strip.bars else BUILD


def covered_told(asked: Question, row: Row, named: bool) -> str:
    """``34 of 83 days, 8 years in 10``, as short as it stands beside the strip; ``named``: for whom, where there are two buyers."""
    told = f"{int(row.covered.sum())} of {counted(len(row.covered), 'day')}, {years_in_ten(asked)}"
    return f"{row.buyer}: {told}" if named else told


def longest_told(asked: Question, strip: Strip) -> str:
    """``9 on my slate.``, on how many days it has fruit often enough, and ``Longest gap: Jun 10–Jun 21.``, by buyer where there are several."""
    south, several, told = asked.catalogue.south, len(strip.rows) > 1, [f"{heading(asked)}."]
    for row in strip.rows:
        told.append(often(row.cover, asked.season_kind, row.buyer if several else ""))
        if longest := max(row.gaps, key=lambda gap: gap.last - gap.first, default=None):
            told.append(f"Longest gap: {days_told(longest.first, longest.last, south).replace(' to ', '–')}.")
    return " ".join(told)


def seasons_told(asked: Question, strip: Strip) -> list[str]:
    """How well it fills the selling days, a buyer a line. Nothing of an empty slate."""
    named = len(strip.rows) > 1
    return [
        statement(row.cover, asked.season_kind, row.buyer if named else "")
        for row in strip.rows
        if asked.shortlist
    ]


def said(asked: Question, strip: Strip) -> list[str]:
    """What the pictures alone do not say: what covers nothing, or not surely, and what was never picked."""
    lines = uncovering_told(asked, asked.shortlist)
    if strip.unpicked:
        lines.append(NEVER_PICKED.format(names=", ".join(strip.unpicked[:6])))
    return lines


def left_bare(asked: Question, name: str) -> tuple[str, ...]:
    """The gap that taking a cultivar off the slate leaves, a sentence a buyer; () where it leaves none."""
    told = []
    for row in asked.strip.rows if asked.strip else ():
        if bare := row.cover.left_bare(name):
            whose = f" for {row.buyer}" if len(asked.buyers) > 1 else ""
            days = stretches(bare, asked.catalogue.south, 4)
            told.append(f"Without {called(name)} there is a gap{whose}: {days}. Undo brings it back.")
    return tuple(told)


def gap_label(first: float, last: float, south: bool) -> str:
    """``Jun 10–Jun 21 · 12 days``."""
    return f"{days_told(first, last, south).replace(' to ', '–')} · {counted(int(last - first) + 1, 'day')}"


def _parted(strip: Strip) -> bool:
    """Whether a day is covered on which nobody is usually picked: the bars leave a hole there, and there is no gap."""
    days = strip.rows[0].cover.days
    usual = (
        np.any([(days >= bar.first - 0.5) & (days <= bar.last + 0.5) for bar in strip.bars], axis=0)
        if strip.bars
        else False
    )
    return bool((strip.rows[0].covered & ~np.asarray(usual)).any())


def _row(asked: Question, row: Row, first: float, named: bool) -> dict[str, Any]:
    south = asked.catalogue.south
    cells = [
        BARE if not covered else MAY if not surely else SURE if chance >= SURE_FROM else COVERED
        for covered, surely, chance in zip(row.covered, row.surely, row.cover.chance, strict=True)
    ]
    return {
        "buyer": row.buyer,
        "cells": "".join(cells),
        "chances": [int(100 * chance) for chance in row.cover.chance],
        "told": covered_told(asked, row, named),
        "gaps": [
            [gap.first - first, gap.last - first, gap_label(gap.first, gap.last, south)] for gap in row.gaps
        ],
        "near": [near_told(row.cover, gap, south) for gap in row.gaps],
    }


def _bar(asked: Question, bar: Bar, first: float, buyers: list[str]) -> dict[str, Any]:
    best = QUALIFIES if QUALIFIES in bar.verdicts else MAY_QUALIFY if MAY_QUALIFY in bar.verdicts else ""
    for_whom = [
        f"{verdict} for {buyer}" if buyer else "" for verdict, buyer in zip(bar.verdicts, buyers, strict=True)
    ]
    when = days_told(bar.first, bar.last, asked.catalogue.south)
    return {
        "name": bar.name,
        "flesh": str(asked.catalogue.cultivars.at[bar.name, "flesh_colour"]),
        "first": round(bar.first - first, 1),
        "last": round(bar.last - first, 1),
        "look": LOOKS.get(best, "hollow"),
        "tip": ", ".join([bar.name, f"usually picked {when}", *filter(None, for_whom)]),
    }
