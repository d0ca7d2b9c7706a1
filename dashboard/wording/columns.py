"""Every column of a table of cultivars, declared once.

The page's list with its phone cards, the shortlist, side by side, the files, the paper and the slate take their columns from here: a
cell is made by the column whose heading it stands under, so the two cannot fall apart. A new column is one entry in ``COLUMNS``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

import pandas as pd

from dashboard.answers.question import Comparison
from dashboard.ripening import day_label
from dashboard.terms.glossary import meaning
from dashboard.terms.traits import CLASSES, HEADLINE, TRAITS, UNKNOWN
from dashboard.terms.units import Unit, figure, rounded, shown_in
from dashboard.wording.figures import chance, counted, evidence, interval, kind, picked, score

Row = Mapping[Any, Any]  # a cultivar's row of ``Comparison.ranking``, and its name
Words = str | Callable[[Comparison], str]


@dataclass(frozen=True)
class Filed:
    """A column of a file: its heading, and a number or a text for each of the rows of a ranking."""

    heading: Words
    cells: Callable[[Comparison, pd.DataFrame], Any]


@dataclass(frozen=True)
class Column:
    """``told`` is the cell as a reader sees it, ``filed`` how it reads in a file: not at all, or in several columns."""

    key: str
    label: Words
    told: Callable[[Comparison, Row], str]
    meaning: Words = ""
    unit: Words = ""
    kind: str = (
        "text"  # how it is drawn: text, number, date, evidence, reason; the list's own keep, mark and name
    )
    by: str = ""  # the figure of a ranking that it is sorted by; "" where it is not
    ways: tuple[str, str] = ("the highest first", "the lowest first")
    upwards: bool = False  # sorted from the lowest on, when it is first asked
    filed: tuple[Filed, ...] = ()
    ranked: bool = False  # there only with a market
    passing: bool = False  # told of those that pass, so not of a shortlist
    offered: bool = False  # there only where a reader chose it
    headings: Mapping[str, Words] = field(
        default_factory=dict
    )  # by place, where it goes by more than its label

    def heading(self, asked: Comparison, place: str = "list") -> str:
        """Label and unit, in the reader's units."""
        if place in self.headings:
            return words(self.headings[place], asked)
        unit = words(self.unit, asked)
        return words(self.label, asked) + (f" ({unit})" if unit else "")


def words(said: Words, asked: Comparison) -> str:
    return said if isinstance(said, str) else said(asked)


def plain(key: str, label: Words, kind: str = "text", paper: str = "") -> Column:
    """A column of a table whose rows hold its texts already; ``paper``: what it is called there, where there is more room."""
    return Column(
        key, label, lambda _asked, row: str(row[key]), kind=kind, headings={"paper": paper} if paper else {}
    )


def _as_it_is(key: str) -> Callable[[Comparison, pd.DataFrame], Any]:
    return lambda _asked, rows: rows[key].tolist()


def _word(key: str, label: str) -> Column:
    return Column(
        key,
        label,
        lambda _asked, row: str(row[key]),
        filed=(Filed(label, lambda _, rows: rows[key].astype(str).tolist()),),
    )


def _percent(key: str) -> Callable[[Comparison, pd.DataFrame], Any]:
    return lambda _asked, rows: (100 * rows[key].astype(float)).round(1).tolist()


def _chance(key: str, label: Words, in_file: Words, **more: Any) -> Column:
    return Column(
        key, label, lambda _asked, row: chance(row[key]), kind="number", by=key, ranked=True, filed=(Filed(in_file, _percent(key)),), **more
    )  # fmt: skip


def _place(key: str, label: str) -> Column:
    return Column(
        key, label, lambda _asked, row: str(row[key]), kind="number", ranked=True, passing=True,
        filed=(Filed(label, lambda _, rows: rows[key].astype("Int64").array),),
    )  # fmt: skip


def _count(key: str, label: str, beside: str) -> Column:
    return Column(
        key, label, lambda _asked, row: f"{int(row[key]):,}", kind="number", by=key,
        filed=(Filed(label, _as_it_is(key)),), headings={"beside": beside},
    )  # fmt: skip


def _trait(key: str) -> Column:
    trait = TRAITS[key]

    def cells(column: str) -> Callable[[Comparison, pd.DataFrame], Any]:
        return lambda asked, rows: rounded(
            trait.unit(asked.units).from_si(rows[column].astype(float)), trait.decimals(asked.units) + 1
        ).tolist()

    def named(end: str) -> Words:
        return lambda asked: trait.heading(asked.units) + end

    return Column(
        key, trait.label, lambda asked, row: interval(key, row, asked.units), trait.meaning,
        unit=lambda asked: trait.unit(asked.units).symbol, kind="number", by=key, headings={"paper": named(", 90 % interval")},
        filed=(Filed(named(""), cells(key)), Filed(named(", low"), cells(f"{key}_low")), Filed(named(", high"), cells(f"{key}_high"))),
    )  # fmt: skip


def _recorded(row: Row, **units: str) -> str:
    """``51 portions, 725 hours``: what is known of several figures, each with its unit."""
    told = [f"{row[key]:g} {unit}".strip() for key, unit in units.items() if row[key] == row[key]]
    return ", ".join(told) or UNKNOWN


def _mass(asked: Comparison) -> Unit:
    return shown_in("mass", asked.units)


def _in_mass(said: str) -> Words:
    return lambda asked: f"{said} ({_mass(asked).symbol})"


def _masses(key: str) -> Callable[[Comparison, pd.DataFrame], Any]:
    return lambda asked, rows: rounded(_mass(asked).from_si(rows[key]), 1).tolist()


def _crops(asked: Comparison, row: Row) -> str:
    """``80, 52 to 116 in 25 crops``."""
    if row["yield_kg"] != row["yield_kg"]:
        return UNKNOWN
    mean, least, most = (
        figure(_mass(asked).from_si(row[key]), 0) for key in ("yield_kg", "yield_low", "yield_high")
    )
    crops = counted(int(row["crops"]), "crop")
    return f"{mean}, {least} to {most} in {crops}" if row["crops"] > 1 else f"{mean} in {crops}"


def _in_money(said: str) -> Words:
    return lambda asked: f"{said} ({asked.catalogue.currency or 'currency not stated'})"


def _price(asked: Comparison, row: Row) -> str:
    """``USD 8.65 to 11.35 (2026)``; in which season its trees are planted, for an old offer is no price of today."""
    low, high, currency = row["price_low"], row["price_high"], asked.catalogue.currency
    if not row["nurseries"]:
        return _sold_out(row)
    if low != low:
        return f"not stated ({row['offers']})"
    span = f"{low:,.2f}" + (f" to {high:,.2f}" if high > low else "")
    return (
        f"{currency} {span} ({row['offers']})"
        if currency
        else f"{span}, currency not stated ({row['offers']})"
    )


def _sold_out(row: Row) -> str:
    return f"none left ({row['offers']})" if row["offers"] else UNKNOWN


def _market(asked: Comparison) -> str:
    return asked.profile.name if asked.profile else ""


def _day(key: str) -> Callable[[Comparison, pd.DataFrame], Any]:
    return lambda asked, rows: [
        "" if day != day else day_label(day, asked.catalogue.south) for day in rows[key]
    ]


def _rests_on(_asked: Comparison, row: Row) -> str:
    """The evidence, and whether a cultivar stands apart from most others: then it is ranked with its own group only."""
    return evidence(row) + (", not joined to the others" if row["group"] else "")


_DECLARED = (
    Column("keep", "List", lambda asked, row: "yes" if row["name"] in asked.shortlist else "no", meaning("shortlist"), kind="keep"),
    Column("mark", "Fruit", lambda _asked, row: kind(row), kind="mark"),
    Column(
        "name", "Cultivar", lambda _asked, row: str(row["name"]), kind="name", by="name", ways=("from Z to A", "from A to Z"), upwards=True,
        filed=(Filed("Cultivar", lambda _asked, rows: [str(name) for name in rows.index]),),
    ),
    *(_word(key, label) for key, (label, _) in CLASSES.items()),
    _word("status", "Status"),
    Column(
        "market", "Market", lambda asked, _row: _market(asked), ranked=True,
        filed=(Filed("Market", lambda asked, rows: [_market(asked)] * len(rows)),),
    ),
    Column(
        "verdict", "For this market", lambda _asked, row: str(row["verdict"]), meaning("qualifies"), ranked=True, kind="number",
        filed=(Filed("For this market", lambda _asked, rows: rows["verdict"].astype(str).tolist()),),
    ),
    Column(
        "score", "Score", lambda _asked, row: score(row), f"{meaning('score')} In 8 cases of 10 it lies within the brackets.", kind="number", by="score", ranked=True,
        filed=(Filed("Score (0 to 100)", _percent("score")), Filed("Score, low (80 %)", _percent("score_low")), Filed("Score, high (80 %)", _percent("score_high"))),
        headings=dict.fromkeys(("paper", "beside"), "Score (80 % interval)"),
    ),
    _chance("clears", "Chance it qualifies", "Chance that all limits hold (%)", meaning=meaning("chance that all limits hold")),
    _chance("on_means", "Chance on class and mean", "Chance that limits on class and mean hold (%)"),
    _chance("on_fruit", "Chance on the share of fruit", "Chance that limits on the share of fruit hold (%)"),
    _chance(
        "leads", lambda asked: f"Among first {asked.top}", lambda asked: f"Chance of being among the first {asked.top} (%)", passing=True,
        meaning="chance of being one of them: of those that pass your filters and hold every limit, those that score most",
    ),
    _place("foremost", "Foremost place, weights moved"),
    _place("hindmost", "Hindmost place, weights moved"),
    Column(
        "rests", "Rests on", _rests_on, meaning("evidence"), kind="evidence", by="seasons", ways=("the most seasons first", "the fewest seasons first"),
    ),
    Column(
        "reason", "For this market", lambda asked, row: asked.reason(row["name"]), meaning("qualifies"), kind="reason", ranked=True,
        filed=(Filed("Why", lambda asked, rows: [asked.reason(name) for name in rows.index]),), headings={"beside": lambda asked: f"For {_market(asked)}"},
    ),
    Column(
        "first", "Usually picked", lambda asked, row: picked(row, asked.catalogue.south), meaning("ripening window"), kind="date", by="first",
        ways=("the latest first", "the earliest first"), upwards=True, filed=(Filed("First pick, usual", _day("first")), Filed("Last pick, usual", _day("last"))),
    ),
    Column(
        "from_check", "Days from the check cultivar", lambda _asked, row: f"{row['from_check']:.1f}", kind="number", by="from_check",
        filed=(Filed("Days from the check cultivar", lambda _asked, rows: rounded(rows["from_check"], 1).tolist()),),
    ),
    *map(_trait, TRAITS),
    _count("seasons", "Seasons", "Seasons of evidence"), _count("sites", "Sites", "Sites"), _count("samples", "Samples", "Samples"), _count("fruit", "Fruit", "Fruit measured"),
    Column(
        "winter_chill", "Winter chill", lambda _asked, row: _recorded(row, chill_cp="portions", chill_h="hours"),
        "winter chill it needs, as recorded: chill portions, or hours at or below 7.2 °C; an estimate, not insurance", offered=True,
        filed=(Filed("Winter chill (portions)", _as_it_is("chill_cp")), Filed("Winter chill (hours)", _as_it_is("chill_h"))),
    ),
    Column(
        "bacterial_spot", "Bacterial spot", lambda _asked, row: _recorded(row, bacterial_spot=""), "bacterial spot seen, 0 none to 5 severe",
        unit="0 none to 5", kind="number", by="bacterial_spot", ways=("the most first", "the least first"), upwards=True, offered=True,
        filed=(Filed("Bacterial spot (0 none to 5)", _as_it_is("bacterial_spot")),),
    ),
    Column(
        "yield_per_tree", "Yield a tree", _crops, "what a tree bore on average, the least and the most of its crops; a crop is all picks of a site and year",
        unit=lambda asked: _mass(asked).symbol, kind="number", by="yield_kg", offered=True,
        filed=(
            *(Filed(_in_mass(f"Yield a tree, {word}"), _masses(key)) for word, key in (("mean", "yield_kg"), ("least", "yield_low"), ("most", "yield_high"))),
            Filed("Crops weighed", _as_it_is("crops")),
        ),
    ),
    Column(
        "price", "Price a tree", _price, "of the newest offers on record that still have trees, with their planting season", kind="number", by="price_low",
        ways=("the dearest first", "the cheapest first"), upwards=True, offered=True,
        filed=(Filed(_in_money("Price a tree, lowest"), _as_it_is("price_low")), Filed(_in_money("Price a tree, highest"), _as_it_is("price_high"))),
    ),
    Column(
        "nursery", "Nursery", lambda _asked, row: f"{row['nurseries']} ({row['offers']})" if row["nurseries"] else _sold_out(row),
        "who offers its trees, of the newest offers on record that still have some, with their planting season", offered=True,
        filed=(Filed("Nurseries", _as_it_is("nurseries")), Filed("Newest offers are for", _as_it_is("offers"))),
    ),
)  # fmt: skip

COLUMNS = {column.key: column for column in _DECLARED}
OFFERED = tuple(column.key for column in _DECLARED if column.offered)
CHOSEN = "…"  # where those stand that a reader chose
PLACES = {
    "list": ("keep", "mark", "name", "score", "clears", "leads", "rests", "reason", "first", *HEADLINE, CHOSEN),
    "paper": ("name", "mark", "score", "verdict", "clears", "first", "seasons", "sites", "samples"),
    "beside": ("reason", "score", "clears", *TRAITS, "seasons", "sites", "samples", "fruit", CHOSEN, "status"),
    "file": (
        "name", *CLASSES, "status", "market", "verdict", "score", "clears", "on_means", "on_fruit", "leads", "foremost", "hindmost",
        "reason", "first", "from_check", *TRAITS, "seasons", "sites", "samples", "fruit", CHOSEN,
    ),
}  # fmt: skip
# The same without a market, where more than what belongs to one is told otherwise.
BY_NAME = {
    "list": ("keep", "mark", "name", "first", *HEADLINE, "rests", CHOSEN),
    "paper": ("name", "mark", *HEADLINE, "first", "seasons", "samples"),
}


def shown(asked: Comparison, place: str = "list", listed: bool = False) -> tuple[Column, ...]:
    """The columns of a place, in their order; ``listed``: of a shortlist."""
    keys = PLACES[place] if asked.profile else BY_NAME.get(place, PLACES[place])
    found: list[Column] = []
    for key in keys:
        found += chosen(asked) if key == CHOSEN else [COLUMNS[key]]
    return tuple(one for one in found if (asked.profile or not one.ranked) and not (listed and one.passing))


def chosen(asked: Comparison) -> list[Column]:
    """Those that a reader chose beside the usual ones."""
    return [COLUMNS[key] for key in asked.columns if key in OFFERED]
