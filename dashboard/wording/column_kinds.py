"""What a column is, and the kinds of which there are several: a word, a chance, a count, a trait."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any

import numpy as np
import pandas as pd

from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.facts import Fact
from dashboard.answers.question import Question
from dashboard.terms.traits import UNKNOWN, trait_called
from dashboard.terms.units import rounded
from dashboard.wording.figures import chance, interval
from dashboard.wording.how_taken import trait_heading

Row = Mapping[Any, Any]  # a cultivar's row of ``Question.ranking``, and its name
Words = str | Callable[[Question], str]


@dataclass(frozen=True)
class Filed:
    """A column of a file: its heading, and a number or a text for each of the rows of a ranking."""

    heading: Words
    cells: Callable[[Question, pd.DataFrame], Any]


@dataclass(frozen=True)
class Drawn:
    """How a cell is drawn in a list: what is written there, ``short``, beside a drawing of its figures on an axis that is one for all
    rows, with the least and the most that a buyer takes, NaN for none."""

    look: str  # one of ``charts.small.LOOKS``; name and verdict are words alone
    short: Callable[[Question, Row], str]
    figures: Callable[[Question, Row], tuple[float, ...]] = lambda _asked, _row: ()
    axis: Callable[[Question], tuple[float, float]] = lambda _asked: (0.0, 1.0)
    limits: Callable[[Question], tuple[float, float]] = lambda _asked: (np.nan, np.nan)


@dataclass(frozen=True)
class Column:
    """``told`` is the cell as a reader sees it, ``filed`` how it reads in a file: not at all, or in several columns."""

    key: str
    label: Words
    told: Callable[[Question, Row], str]
    meaning: Words = ""
    unit: Words = ""
    kind: str = "text"  # how it is drawn: text, number, date, evidence (a phrase), reason; the list's own keep, mark, name
    by: str = ""  # the figure of a ranking that it is sorted by; "" where it is not
    ways: tuple[str, str] = ("the highest first", "the lowest first")
    upwards: bool = False  # sorted from the lowest on, when it is first asked
    filed: tuple[Filed, ...] = ()
    ranked: bool = False  # there only with a market
    two_buyers: bool = False  # there only with two
    passing: bool = False  # told of those that pass, so not of a shortlist
    offered: bool = False  # there only where a reader chose it
    drawn: Drawn | None = None  # in a list
    headings: Mapping[str, Words] = field(default_factory=dict)  # by place, where it is called otherwise

    def heading(self, asked: Question, place: str = "list") -> str:
        """Label and unit, in the reader's units."""
        if place in self.headings:
            return words(self.headings[place], asked)
        unit = words(self.unit, asked)
        return words(self.label, asked) + (f" ({unit})" if unit else "")


def words(said: Words, asked: Question) -> str:
    return said if isinstance(said, str) else said(asked)


def plain(key: str, label: Words, kind: str = "text", paper: str = "") -> Column:
    """A column of a table whose rows hold its texts already; ``paper``: what it is called there, where there is more room."""
    return Column(
        key, label, lambda _asked, row: str(row[key]), kind=kind, headings={"paper": paper} if paper else {}
    )


def as_it_is(key: str) -> Callable[[Question, pd.DataFrame], Any]:
    return lambda _asked, rows: rows[key].tolist()


def word(key: str, label: str) -> Column:
    return Column(
        key,
        label,
        lambda _asked, row: str(row[key]),
        filed=(Filed(label, lambda _, rows: rows[key].astype(str).tolist()),),
    )


def percent(key: str) -> Callable[[Question, pd.DataFrame], Any]:
    return lambda _asked, rows: (100 * rows[key].astype(float)).round(1).tolist()


def chance_of(key: str, label: Words, in_file: Words, **more: Any) -> Column:
    return Column(
        key, label, lambda _asked, row: chance(row[key]), kind="number", by=key, ranked=True, filed=(Filed(in_file, percent(key)),), **more
    )  # fmt: skip


def place_of(key: str, label: str) -> Column:
    return Column(
        key, label, lambda _asked, row: str(row[key]), kind="number", ranked=True, passing=True,
        filed=(Filed(label, lambda _, rows: rows[key].astype("Int64").array),),
    )  # fmt: skip


def count(key: str, label: str, beside: str) -> Column:
    return Column(
        key, label, lambda _asked, row: f"{int(row[key]):,}", kind="number", by=key,
        filed=(Filed(label, as_it_is(key)),), headings={"beside": beside},
    )  # fmt: skip


def fact_of(fact: Fact) -> Column:
    """What a table of somebody's own tells."""
    label = fact.name[:1].upper() + fact.name[1:]
    if not fact.numbers:
        return replace(word(fact.name, label), offered=True)
    return Column(
        fact.name, label, lambda _asked, row: f"{row[fact.name]:g}" if row[fact.name] == row[fact.name] else UNKNOWN,
        kind="number", by=fact.name, offered=True, filed=(Filed(label, as_it_is(fact.name)),),
    )  # fmt: skip


def trait_of(key: str) -> Column:
    trait = trait_called(key)

    def cells(column: str) -> Callable[[Question, pd.DataFrame], Any]:
        return lambda asked, rows: rounded(
            trait.unit(asked.units).from_si(rows[column].astype(float)), trait.decimals(asked.units) + 1
        ).tolist()

    def named(end: str) -> Words:
        return lambda asked: trait_heading(asked, key) + end

    return Column(
        key, trait.label, lambda asked, row: interval(key, row, asked.units), trait.meaning,
        unit=lambda asked: trait.unit(asked.units).symbol, kind="number", by=key, drawn=_dot(key), headings={"paper": named(", likely range (90 %)")},
        filed=(Filed(named(""), cells(key)), Filed(named(", low"), cells(f"{key}_low")), Filed(named(", high"), cells(f"{key}_high"))),
    )  # fmt: skip


def _dot(key: str) -> Drawn:
    def limits(asked: Question) -> tuple[float, float]:
        least, most = asked.bounds.get(key, (None, None))
        return (np.nan if least is None else least, np.nan if most is None else most)

    return Drawn(
        "dot",
        lambda asked, row: trait_called(key).written(row[key], asked.units),
        lambda _asked, row: (row[key], row[f"{key}_low"], row[f"{key}_high"]),
        lambda asked: _spread(asked.catalogue, asked.basis, key, limits(asked)),
        limits,
    )


@lru_cache(maxsize=256)
def _spread(catalogue: Catalogue, basis: Basis, key: str, limits: tuple[float, float]) -> tuple[float, float]:
    """An axis that holds every cultivar's estimate and what the buyer takes, with a little air; the same whatever the filters."""
    known = np.array([*catalogue.figures[basis][key]["estimate"].to_numpy(dtype=float), *limits])
    known = known[np.isfinite(known)]
    if not known.size:
        return 0.0, 1.0
    air = 0.06 * float(np.ptp(known)) or 0.5
    return float(known.min()) - air, float(known.max()) + air
