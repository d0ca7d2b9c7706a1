"""Every column of a table of cultivars, declared once.

The page's list with its phone cards, the shortlist, side by side, the files, the paper and the slate take their columns from here: a
cell is made by the column whose heading it stands under, so the two cannot fall apart. A new column is one entry in ``COLUMNS``.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pandas as pd

from dashboard.answers import standing
from dashboard.answers.catalogue import Catalogue
from dashboard.answers.question import Question
from dashboard.market.desirability import desirability
from dashboard.market.verdict import MAY_QUALIFY, QUALIFIES
from dashboard.ripening import day_label
from dashboard.terms.glossary import meaning
from dashboard.terms.traits import CLASSES, HEADLINE, TRAITS, UNKNOWN
from dashboard.terms.units import Unit, figure, rounded, shown_in
from dashboard.wording.column_kinds import (
    Column,
    Drawn,
    Filed,
    Row,
    Words,
    as_it_is,
    chance_of,
    count,
    fact_of,
    percent,
    place_of,
    trait_of,
    word,
)
from dashboard.wording.figures import chance, classed, counted, evidence, kind, picked, score
from dashboard.wording.weather_columns import CHILL, HAIL, recorded

HALF = 0.5  # of a wish, below which a weakest point says something


def _mass(asked: Question) -> Unit:
    return shown_in("mass", asked.units)


def _in_mass(said: str) -> Words:
    return lambda asked: f"{said} ({_mass(asked).symbol})"


def _masses(key: str) -> Callable[[Question, pd.DataFrame], Any]:
    return lambda asked, rows: rounded(_mass(asked).from_si(rows[key]), 1).tolist()


def _crops(asked: Question, row: Row) -> str:
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


def _price(asked: Question, row: Row) -> str:
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


def _market(asked: Question) -> str:
    return asked.profile.name if asked.profile else ""


def _second(asked: Question) -> str:
    return asked.second_buyer.name if asked.second_buyer else ""


def _of_second(asked: Question, name: Any) -> str:
    """What the other buyer says of a cultivar, in one word."""
    return str(standing.fits(asked.catalogue, asked.second_buyer, asked.basis)["verdict"][name])


def _day(key: str) -> Callable[[Question, pd.DataFrame], Any]:
    return lambda asked, rows: [
        "" if day != day else day_label(day, asked.catalogue.south) for day in rows[key]
    ]


def _rests_on(_asked: Question, row: Row) -> str:
    """The evidence, and whether a cultivar stands apart from most others: then it is ranked with its own group only."""
    return evidence(row) + (", not joined to the others" if row["group"] else "")


def _stands(_asked: Question, row: Row) -> str:
    """``qualifies, 95 %``: the verdict with the chance behind it, where one can be told."""
    return str(row["verdict"]) + (f", {chance(row['clears'])}" if row["clears"] == row["clears"] else "")


def _shortly(verdict: str, told: str) -> str:
    return {QUALIFIES: "✓", MAY_QUALIFY: told}.get(verdict, verdict)


def why(asked: Question, row: Row) -> str:
    """What a cultivar misses, or its weakest point; of one that qualifies its weakest point, where that meets less than half of
    what is wished for."""
    if asked.profile is None:
        return ""
    told = asked.reason(row["name"])
    if row["verdict"] != QUALIFIES:
        return told.partition(". " if told.startswith(f"{MAY_QUALIFY.capitalize()}. ") else ": ")[2]
    key, value = (asked.fit[part][row["name"]] for part in ("held_back", "held_value"))
    wishes = [wish for wish in asked.profile.wishes if wish.key == key]
    met = min((float(desirability(wish, value)) for wish in wishes), default=1.0)
    return told.partition(". ")[2] if met < HALF else ""


def _selling(asked: Question) -> tuple[float, float]:
    """The strip's own axis: a day lasts until the next."""
    return asked.selling[0], asked.selling[1] + 1


_DECLARED = (
    Column("keep", "List", lambda asked, row: "yes" if row["name"] in asked.shortlist else "no", meaning("my slate"), kind="keep"),
    Column("mark", "Fruit", lambda _asked, row: kind(row), kind="mark"),
    Column(
        "name", "Cultivar", lambda _asked, row: str(row["name"]), kind="name", by="name", drawn=Drawn("name", lambda _asked, row: classed(row)), ways=("from Z to A", "from A to Z"), upwards=True,
        filed=(Filed("Cultivar", lambda _asked, rows: [str(name) for name in rows.index]),),
    ),
    *(word(key, label) for key, (label, _) in CLASSES.items()),
    word("status", "Status"),
    Column(
        "market", "Market", lambda asked, _row: _market(asked), ranked=True,
        filed=(Filed("Market", lambda asked, rows: [_market(asked)] * len(rows)),),
    ),
    Column(
        "verdict", "For this market", lambda _asked, row: str(row["verdict"]), meaning("qualifies"), ranked=True, kind="number",
        filed=(Filed("For this market", lambda _asked, rows: rows["verdict"].astype(str).tolist()),),
    ),
    Column(
        "score", "Score", lambda _asked, row: score(row), f"{meaning('score')} In brackets its likely range: it lies there in 8 cases of 10.", kind="number", by="score", ranked=True,
        drawn=Drawn("score", lambda _asked, row: f"{100 * row['score']:.0f}", lambda _asked, row: (row["score"], row["score_low"], row["score_high"])),
        filed=(Filed("Score (0 to 100)", percent("score")), Filed("Score, low (80 %)", percent("score_low")), Filed("Score, high (80 %)", percent("score_high"))),
        headings=dict.fromkeys(("paper", "beside"), "Score, likely range"),
    ),
    Column(
        "stands", "Qualifies", _stands, meaning("qualifies"), kind="verdict", by="clears", ranked=True,
        drawn=Drawn("verdict", lambda _asked, row: _shortly(row["verdict"], chance(row["clears"]) if row["clears"] == row["clears"] else "may")),
    ),
    chance_of("clears", "Chance it qualifies", "Chance that all limits hold (%)", meaning=meaning("chance that all limits hold")),
    chance_of("on_means", "Chance on class and mean", "Chance that limits on class and mean hold (%)"),
    chance_of("on_fruit", "Chance on the share of fruit", "Chance that limits on the share of fruit hold (%)"),
    place_of("foremost", "Foremost place, weights moved"),
    place_of("hindmost", "Hindmost place, weights moved"),
    Column(
        "rests", "Seasons", _rests_on, meaning("evidence"), kind="evidence", by="seasons", ways=("the most seasons first", "the fewest seasons first"),
        drawn=Drawn("seasons", lambda _asked, row: f"{int(row['seasons'])}", lambda _asked, row: (row["seasons"],), lambda _asked: (0.0, 5.0)),
    ),
    Column(
        "reason", "For this market", lambda asked, row: asked.reason(row["name"]), meaning("qualifies"), kind="reason", ranked=True,
        filed=(Filed("Why", lambda asked, rows: [asked.reason(name) for name in rows.index]),), headings={"beside": lambda asked: f"For {_market(asked)}"},
    ),
    Column(
        "second", lambda asked: f"For {_second(asked)}", lambda asked, row: _of_second(asked, row["name"]), meaning("qualifies"), kind="verdict", two_buyers=True,
        drawn=Drawn("verdict", lambda asked, row: _shortly(_of_second(asked, row["name"]), "may")),
        filed=(Filed(lambda asked: f"For {_second(asked)}", lambda asked, rows: [_of_second(asked, name) for name in rows.index]),),
    ),
    Column(
        "first", "Usually picked", lambda asked, row: picked(row, asked.catalogue.south), meaning("ripening window"), kind="date", by="first",
        drawn=Drawn("picking", lambda asked, row: picked(row, asked.catalogue.south), lambda _asked, row: (row["first"], row["last"] + 1), _selling),
        ways=("the latest first", "the earliest first"), upwards=True, filed=(Filed("First pick, usual", _day("first")), Filed("Last pick, usual", _day("last"))),
    ),
    Column(
        "from_check", "Days from the check cultivar", lambda _asked, row: f"{row['from_check']:.1f}", kind="number", by="from_check",
        filed=(Filed("Days from the check cultivar", lambda _asked, rows: rounded(rows["from_check"], 1).tolist()),),
    ),
    *map(trait_of, TRAITS),
    count("seasons", "Seasons", "Seasons of evidence"), count("sites", "Sites", "Sites"), count("samples", "Samples", "Samples"), count("fruit", "Fruit", "Fruit measured"),
    Column(
        "winter_chill", "Winter chill", lambda _asked, row: recorded(row, chill_cp="portions", chill_h="hours"),
        "winter chill it needs, as recorded: chill portions, or hours at or below 7.2 °C; an estimate, not insurance", kind="evidence", offered=True,
        filed=(Filed("Winter chill (portions)", as_it_is("chill_cp")), Filed("Winter chill (hours)", as_it_is("chill_h"))),
    ),
    CHILL,
    Column(
        "bacterial_spot", "Bacterial spot", lambda _asked, row: recorded(row, bacterial_spot=""), "bacterial spot seen, 0 none to 5 severe",
        unit="0 none to 5", kind="number", by="bacterial_spot", ways=("the most first", "the least first"), upwards=True, offered=True,
        filed=(Filed("Bacterial spot (0 none to 5)", as_it_is("bacterial_spot")),),
    ),
    HAIL,
    Column(
        "yield_per_tree", "Yield per tree", _crops, "what a tree bore on average, the least and the most of its crops; a crop is all picks of a site and year",
        unit=lambda asked: _mass(asked).symbol, kind="evidence", by="yield_kg", offered=True,
        filed=(
            *(Filed(_in_mass(f"Yield per tree, {word}"), _masses(key)) for word, key in (("mean", "yield_kg"), ("least", "yield_low"), ("most", "yield_high"))),
            Filed("Crops weighed", as_it_is("crops")),
        ),
    ),
    Column(
        "price", "Price per tree", _price, "of the newest offers on record that still have trees, with their planting season", kind="evidence", by="price_low",
        ways=("the dearest first", "the cheapest first"), upwards=True, offered=True,
        filed=(Filed(_in_money("Price per tree, lowest"), as_it_is("price_low")), Filed(_in_money("Price per tree, highest"), as_it_is("price_high"))),
    ),
    Column(
        "nursery", "Nursery", lambda _asked, row: f"{row['nurseries']} ({row['offers']})" if row["nurseries"] else _sold_out(row),
        "who offers its trees, of the newest offers on record that still have some, with their planting season", kind="evidence", offered=True,
        filed=(Filed("Nurseries", as_it_is("nurseries")), Filed("Newest offers are for", as_it_is("offers"))),
    ),
    chance_of(
        "leads", lambda asked: f"Among first {asked.top}", lambda asked: f"Chance of being among the first {asked.top} (%)", passing=True, offered=True,
        meaning="chance of being one of them: of those that pass your filters and hold every limit, those that score most",
    ),
)  # fmt: skip

COLUMNS = {column.key: column for column in _DECLARED}
OFFERED = tuple(column.key for column in _DECLARED if column.offered)  # of any records
CHOSEN = "…"  # where those stand that a reader chose
PLACES = {
    "list": ("keep", "name", "score", "stands", "second", "first", *HEADLINE, "rests", CHOSEN),
    "paper": ("name", "mark", "score", "verdict", "second", "clears", "first", "seasons", "sites", "samples"),
    "beside": ("reason", "second", "score", "clears", *TRAITS, "seasons", "sites", "samples", "fruit", CHOSEN, "status"),
    "file": (
        "name", *CLASSES, "status", "market", "verdict", "score", "clears", "on_means", "on_fruit", "leads", "foremost", "hindmost",
        "reason", "second", "first", "from_check", *TRAITS, "seasons", "sites", "samples", "fruit", CHOSEN,
    ),
}  # fmt: skip
# The same without a market, where more than what belongs to one is told otherwise.
BY_NAME = {
    "list": ("keep", "name", "first", *HEADLINE, "rests", CHOSEN),
    "paper": ("name", "mark", *HEADLINE, "first", "seasons", "samples"),
}


def shown(asked: Question, place: str = "list", listed: bool = False) -> tuple[Column, ...]:
    """The columns of a place, in their order; ``listed``: of a shortlist."""
    keys = PLACES[place] if asked.profile else BY_NAME.get(place, PLACES[place])
    if place == "beside":  # what somebody worked out stands behind the other traits
        keys = (*keys[: keys.index("seasons")], *asked.catalogue.own_traits, *keys[keys.index("seasons") :])
    found: list[Column] = []
    for key in keys:
        found += chosen(asked, passing=place == "list" and not listed) if key == CHOSEN else [column(asked.catalogue, key)]  # fmt: skip
    return tuple(
        one for one in found
        if (asked.profile or not one.ranked) and (asked.second_buyer or not one.two_buyers) and not (listed and one.passing)
    )  # fmt: skip


def offered(catalogue: Catalogue) -> tuple[str, ...]:
    """The columns to choose from: those of any records, then what a notebook works out and what its own table tells."""
    return (*OFFERED, *catalogue.own_traits, *catalogue.own_facts)


def column(catalogue: Catalogue, key: str) -> Column:
    """The column of that key."""
    if key in COLUMNS:
        return COLUMNS[key]
    return (
        fact_of(catalogue.own_facts[key])
        if key in catalogue.own_facts
        else replace(trait_of(key), offered=True)
    )


def chosen(asked: Question, passing: bool = False) -> list[Column]:
    """Those that a reader chose beside the usual ones; what is told only of those that pass where all of these are listed."""
    known = offered(asked.catalogue)
    found = [column(asked.catalogue, key) for key in asked.columns if key in known]
    return [one for one in found if passing or not one.passing]


def called(text: str) -> tuple[str, ...]:
    """The columns to choose that a command names, by key or label, parted by commas; ValueError, one sentence, for another."""
    named = {name.casefold(): key for key in OFFERED for name in (key, str(COLUMNS[key].label))}
    found = []
    for part in filter(None, (part.strip() for part in text.split(","))):
        if part.casefold() not in named:
            raise ValueError(f"There is no column {part[:60]!r} to choose; there are {', '.join(OFFERED)}.")
        found.append(named[part.casefold()])
    return tuple(dict.fromkeys(found))
