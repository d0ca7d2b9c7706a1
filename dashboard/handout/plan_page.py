"""The first page of a slate that somebody chose: the plan. The strip, how well it covers the selling days, and who is picked when and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import pandas as pd

from dashboard.answers.planting import merits
from dashboard.answers.question import Question
from dashboard.answers.strip import Strip
from dashboard.handout import strip as drawing
from dashboard.handout.blocks import Block, Words
from dashboard.handout.columns import Cell, Column, Page, Rows
from dashboard.handout.layout import Section
from dashboard.ripening import day_label
from dashboard.wording import figures as words
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.gaps import days_told, usual_told
from dashboard.wording.lists import unoffered_told
from dashboard.wording.my_site import slate_told
from dashboard.wording.planning import spans_told
from dashboard.wording.strip import drawn, heading, said, seasons_told

NEVER = "never picked"


def plan(
    asked: Question, strip: Strip, keys: Mapping[str, str], answered: Sequence[tuple[str, str]] = ()
) -> Section:
    """``keys`` are the places of the cultivars' pages, by name; ``answered`` what is said of a proposal, each with its bold word."""
    told, south = drawn(asked, strip), asked.catalogue.south
    buyers = " and ".join(row.buyer for row in strip.rows if row.buyer)
    at_once = "fruit" if asked.least == 1 else f"at least {asked.least} cultivars at once"
    blocks: list[Block] = [
        Words(f"My slate for {buyers}" if buyers else "My slate", size=17, bold=True, heading=True, after=1, most=3),
        Words(words.records_name(asked.catalogue), size=9.5, quiet=True, after=5, most=2),
        Words(heading(asked), size=11, bold=True, after=2),
        *(Words(line, size=9.5, after=2, most=3) for line in seasons_told(asked, strip)),
        Words(f"Selling {days_told(*strip.span, south)}; a covered day has {at_once} in at least {words.years_in_ten(asked)}.", size=8.5, after=6),
        *drawing.pictures(asked, strip, told, keys),
        *_gaps(strip, south),
        *(Words(line, size=8, most=6) for line in said(asked, strip)),
        *(Words(line, size=8, most=6) for line in unoffered_told(asked.catalogue, asked.shortlist, len(asked.shortlist))),
        *(Words(line, size=8, most=6) for line in (slate_told(asked) if asked.chosen_winters is not None else ())),
        *(Words(line, lead=f"{lead}:", size=8) for lead, line in answered),
        table(asked, strip, keys),
        *([Words(usual, size=8, after=2)] if (usual := usual_told(asked.catalogue.ripening)) else []),
        Words(" ".join(CAUTIONS), size=7.2, quiet=True, after=1),
    ]  # fmt: skip
    return Section("plan", "Plan", tuple(blocks), whole=True)


def table(asked: Question, strip: Strip, keys: Mapping[str, str]) -> Rows:
    """The slate in order of picking, last those never picked: verdict of each buyer, score, evidence, and what its loss would leave bare."""
    south, several = asked.catalogue.south, len(strip.rows) > 1
    known = merits(asked.catalogue, asked.buyers, asked.basis).loc[list(asked.shortlist)]
    judged = asked.profile is not None
    heads = [
        Column("Cultivar", 84), Column("Usually picked", 78), Column("Class", 92),
        *(Column(f"For {row.buyer}" if several else "For this market", 58) for row in strip.rows if judged),
        *([Column("Score", 32, right=True)] if judged else []),
        Column("Seasons", 46, right=True), Column("Without it, not covered", 110, most=3), Column("Page", 28, right=True),
    ]  # fmt: skip
    dated = {bar.name: days_told(bar.first, bar.last, south) for bar in strip.bars}
    order = [*dated, *strip.unpicked]
    rows: list[tuple[Cell, ...]] = []
    for name in order:
        of: dict[Any, Any] = known.loc[name].to_dict()
        verdicts = [str(of[f"verdict {at}"]) for at in range(len(strip.rows)) if judged]
        score = [f"{100 * of['score 0']:.0f}" if pd.notna(of["score 0"]) else "–"] if judged else []
        rows.append(
            (
                name, dated.get(name, NEVER), str(of["class"]), *verdicts, *score, str(int(of["seasons"])), _needed(strip, name, south),
                Page(keys[name]),
            )
        )  # fmt: skip
    return Rows(
        "In order of picking", tuple(heads), tuple(rows), leads=tuple(keys[name] for name in order), before=4
    )


def _needed(strip: Strip, name: str, south: bool) -> str:
    """``Jul 3 to Jul 9``, by buyer where there are several."""
    left = [
        (f"{row.buyer}: " if len(strip.rows) > 1 else "") + spans_told(bare, south, 3)
        for row in strip.rows
        if (bare := row.cover.left_bare(name))
    ]
    if left:
        return "; ".join(left)
    return "others cover its days" if any(name in row.cover.names for row in strip.rows) else "covers no day"


def _gaps(strip: Strip, south: bool) -> list[Block]:
    """A line a buyer with its gaps; none where there is none: that was said."""
    told: list[Block] = []
    for row in strip.rows:
        every = [
            f"{days_told(gap.first, gap.last, south)} ({words.counted(int(gap.last - gap.first) + 1, 'day')})"
            for gap in row.gaps
        ]
        lead = f"Gaps of {row.buyer}:" if len(strip.rows) > 1 else "Gaps:"
        told += [Words(f"{', '.join(every)}.", lead=lead)] if every else []
    return told


def day_rows(asked: Question, strip: Strip) -> pd.DataFrame:
    """A row a selling day: whether each buyer has fruit on it often enough, and in how many years of 100 it has."""
    columns: dict[str, list] = {
        "Date": [day_label(day, asked.catalogue.south) for day in strip.rows[0].cover.days]
    }
    for row in strip.rows:
        whose = f", {row.buyer}" if row.buyer else ""
        columns[f"Covered{whose}"] = [
            "no" if not covered else "yes" if surely else "yes, with fruit that may qualify"
            for covered, surely in zip(row.covered, row.surely, strict=True)
        ]
        columns[f"Years of 100 with fruit{whose}"] = [int(100 * chance) for chance in row.cover.chance]
    return pd.DataFrame(columns)
