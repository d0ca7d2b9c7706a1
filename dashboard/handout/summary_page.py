"""The first page: what was asked, and how the shortlist stands."""

from __future__ import annotations

import datetime as dt
from typing import Any

from dashboard.answers.question import Question
from dashboard.handout.asking import from_ranking
from dashboard.handout.blocks import Block, Words
from dashboard.handout.columns import Column, Page, Rows, headed
from dashboard.handout.layout import Section
from dashboard.handout.paper import lacking
from dashboard.ripening import date_label
from dashboard.terms.traits import HEADLINE
from dashboard.wording import columns
from dashboard.wording import figures as words
from dashboard.wording.cautions import CAUTIONS, averages_decide

NUMBERED = "A letter that this print has no shape for stands as its number, for example [U+6843]."
LONGEST = 24  # lines of one answer: a market may have many limits
# Parts of the width.
ROOMS = {"name": 82, "mark": 86, "score": 60, "verdict": 44, "second": 52, "clears": 46, "first": 78, "seasons": 44, "sites": 44, "samples": 44}  # fmt: skip
ROOMS_BY_NAME = {
    "name": 64,
    "mark": 72,
    **dict.fromkeys(HEADLINE, 69),
    "first": 68,
    "seasons": 44,
    "samples": 44,
}


def summary(asked: Question, keys: dict[str, str]) -> Section:
    """``keys`` are the places of the cultivars' pages, by name."""
    lines = [
        Words(told, lead=f"{lead}:", size=8.0, after=2.0, most=LONGEST) for lead, told in question(asked)
    ]
    blocks: list[Block] = [
        Words(heading(asked), size=17, bold=True, heading=True, after=1, most=3),
        Words(words.records_name(asked.catalogue), size=9.5, quiet=True, after=7, most=2),
        *lines,
        standings(asked, keys),
        *besides(asked, keys),
        *([Words(averages_decide(asked.refused))] if asked.refused else []),
        Words(" ".join(CAUTIONS), size=7.2, quiet=True, after=1),
    ]
    if lacking(" ".join((*asked.shortlist, asked.catalogue.records_title, market_name(asked)))):
        blocks.append(Words(NUMBERED, size=7.2, quiet=True, after=1))
    return Section("summary", "Summary", tuple(blocks), whole=True)


def heading(asked: Question) -> str:
    if asked.profile is None:
        return "Peach and nectarine cultivars to look at"
    return f"Cultivars for {asked.profile.name}"


def today() -> str:
    return date_label(dt.date.today())


def market_name(asked: Question) -> str:
    return asked.profile.name if asked.profile else "none"


def question(asked: Question) -> list[tuple[str, str]]:
    """What was asked and what came of it, a line each."""
    catalogue, market = asked.catalogue, asked.profile
    lines = [("Market", " – ".join(filter(None, (market.name, market.summary))) if market else "none chosen")]
    if market:
        limits = "; ".join(words.limit_told(limit, asked.units) for limit in market.limits)
        weights = sum(wish.weight for wish in market.wishes)
        wishes = "; ".join(words.wish_told(wish, weights, asked.units) for wish in market.wishes)
        lines += [("Limits that must hold", limits or "none"), ("Wishes that are weighed", wishes or "none")]
    where = words.site_name(catalogue, asked.site) if asked.site else "all sites of the records"
    return [
        *lines,
        ("Filters", words.filters_told(asked)),
        ("Figures", f"{words.basis_told(asked)}; for {where}"),
        (
            "Records",
            f"{catalogue.region or 'region not recorded'}; data version {catalogue.version}; made {today()}",
        ),
        ("Answer", answer(asked)),
    ]


def answer(asked: Question) -> str:
    """How many pass and clear, and who is on these pages."""
    catalogue, passes = asked.catalogue, asked.passes
    sampled = words.counted(int((catalogue.windows["seasons"] > 0).sum()), "sampled cultivar")
    told = f"{int(passes.sum()):,} of {sampled} pass the filters"
    if asked.profile:
        told += f"; {words.qualify_told(asked)}"
    here = len(asked.shortlisted)
    first = f"the first {here} of the ranking" if asked.profile else f"the first {here} by name"
    whose = first if from_ranking(asked) else f"a slate of {here}"
    return f"{told}. On these pages: {whose}."


def standings(asked: Question, keys: dict[str, str]) -> Rows:
    """The shortlist in the order of its ranking."""
    market = asked.profile is not None
    shown = columns.shown(asked, "paper", listed=True)
    rooms = ROOMS if market else ROOMS_BY_NAME
    return Rows(
        "My slate, those that qualify first, then those that may, by score"
        if market
        else "My slate, by name",
        (
            Column("", 17, right=True),
            *(headed(asked, one, rooms[one.key]) for one in shown),
            Column("Page", 30, right=True),
        ),
        tuple(
            (str(row["rank"]), *(one.told(asked, row) for one in shown), Page(keys[row["name"]]))
            for row in in_order(asked)
        ),
        size=7.2 if market and len(asked.buyers) == 1 else 6.6,
        empty="No cultivar passes the filters.",
        leads=tuple(keys[row["name"]] for row in in_order(asked)),
        before=6,
    )


def besides(asked: Question, keys: dict[str, str]) -> tuple[Rows, ...]:
    """What a reader chose to see beside the usual columns, in a table of its own: there is no room in the first."""
    shown = columns.chosen(asked)
    if not shown or not asked.shortlist:
        return ()
    every = (columns.COLUMNS["name"], *shown)
    rows = in_order(asked)
    return (
        Rows(
            "The columns you chose, in the same order",
            tuple(headed(asked, one, 80, most=4) for one in every),
            tuple(tuple(one.told(asked, row) for one in every) for row in rows),
            leads=tuple(keys[row["name"]] for row in rows),
        ),
    )


def in_order(asked: Question) -> list[dict[Any, Any]]:
    """The rows of the shortlist by rank, each with its name."""
    table = asked.shortlisted.sort_values("rank", kind="stable")
    return [
        {**row, "name": str(name)} for name, row in zip(table.index, table.to_dict("records"), strict=True)
    ]
