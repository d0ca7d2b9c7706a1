"""Every choice there is, declared once: its place in the question, the link and the page, its words, and whom it lets pass.

A new filter is one entry of ``Filters``; what follows from it: DEVELOPERS.md, "To add a choice". The order here is that of the link
and of the page. A link that was made must still open: names and defaults stay as they are.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

from dashboard.answers.catalogue import Catalogue, site_name
from dashboard.answers.chill_choices import (
    chill_asked,
    chill_bound,
    chill_bounds,
    chill_needed,
    chill_needs,
    chill_place,
)
from dashboard.answers.choosing import MOST, at_least, at_most, choice, declared, several, words
from dashboard.answers.facts import Fact, parted, token
from dashboard.answers.my_site import enough_in, need_unknown
from dashboard.answers.my_site_choices import (
    HIGHER,
    enough_offered,
    enough_written,
    higher_written,
    station_keys,
    station_written,
)
from dashboard.answers.order_choices import OrderChoices
from dashboard.market.statements import Statements
from dashboard.records.schema import TABLES
from dashboard.ripening import half_label, half_span, halves
from dashboard.ripening.cover import CERTAINTIES, CERTAINTY
from dashboard.ripening.days import day_keys as _every_day
from dashboard.ripening.model import ANY, KINDS
from dashboard.terms.traits import CLASSES
from dashboard.terms.units import SYSTEMS

SEASON_STEPS = (1, 2, 3, 5, 8)
# Shares of a slate that can be asked for: class, word and the part of it, as ``selling.share_of`` reads them.
SHARES = {"": "no rule"} | {
    f"{field} {word} {parts}": f"{part} {called}"
    for field, word, called in (
        ("flesh_colour", "white", "white"),
        ("flesh_colour", "yellow", "yellow"),
        ("fruit_type", "nectarine", "nectarines"),
    )
    for parts, part in ((4, "a quarter"), (3, "a third"), (2, "half"))
}
WEEKS_OF = {"passing": "all that pass", "slate": "my slate"}
YEARS = {
    "early": "an early season, the earliest of ten",
    "ordinary": "an ordinary season",
    "late": "a late season, the latest of ten",
    "any": "any year",
}


def _classed(column: str, short: str = "{}") -> Any:
    label, trade = CLASSES[column]
    return words(column, label, trade, short)


def _halves(catalogue: Catalogue) -> tuple[str, ...]:
    return halves(catalogue.windows, catalogue.south)


def _overlaps(catalogue: Catalogue, half: str) -> np.ndarray:
    """Whose usual window touches a half month; ends are rounded to days as they are written."""
    opens, closes = half_span(half, catalogue.south)
    first, last = (catalogue.windows[end].to_numpy() for end in ("first", "last"))
    return (last >= opens - 0.5) & (first < closes + 0.5)  # a missing window compares False


def _season_steps(catalogue: Catalogue) -> tuple[int, ...]:
    """The least numbers of seasons that can be asked for: those some cultivar has."""
    most = int(catalogue.windows["seasons"].max()) if len(catalogue.windows) else 1
    return tuple(step for step in SEASON_STEPS if step <= max(most, 1))


ANY_NURSERY = "any"
BOUGHT = {"now": "only what can be bought now", "any": "also what no nursery offers yet"}


def on_offer(catalogue: Catalogue) -> pd.DataFrame:
    """The newest season's offers that still have trees, or do not say how many."""
    offers = catalogue.records_tables.get(
        "nursery", pd.DataFrame(columns=["cultivar", "nursery", "season", "trees_available"])
    )
    return offers[(offers["season"] == offers["season"].max()) & ~(offers["trees_available"] == 0)]


def _nurseries(catalogue: Catalogue) -> tuple[str, ...]:
    named = sorted(set(on_offer(catalogue)["nursery"].dropna().astype(str)))
    return () if not named else (ANY_NURSERY, *(named if len(named) < MOST else ()))


def _offered(catalogue: Catalogue, nursery: str) -> np.ndarray:
    offers = on_offer(catalogue)
    theirs = offers if nursery == ANY_NURSERY else offers[offers["nursery"] == nursery]
    return catalogue.cultivars.index.isin(theirs["cultivar"])


def _noted(catalogue: Catalogue) -> tuple[str, ...]:
    return tuple(token(fact.name, option) for fact in catalogue.own_facts.values() for option in fact.options)


def _fact(catalogue: Catalogue, said: str) -> Fact:
    return catalogue.own_facts[parted(said)[0]]


def _noted_asked(catalogue: Catalogue, said: str) -> bool:
    name, option = parted(said)
    return name in catalogue.own_facts and catalogue.own_facts[name].knows(option)


def _noted_place(catalogue: Catalogue, said: str) -> tuple[int, float]:
    return list(catalogue.own_facts).index(parted(said)[0]), _fact(catalogue, said).place(parted(said)[1])


@dataclass(frozen=True, kw_only=True)
class Filters:
    """What was asked of the cultivars. Several options of one filter take any of them; none takes all."""

    fruit_type: tuple[str, ...] = _classed("fruit_type")
    flesh_colour: tuple[str, ...] = _classed("flesh_colour")
    acidity_class: tuple[str, ...] = _classed("acidity_class", "{} acidity")
    shape_type: tuple[str, ...] = _classed("shape_type")
    stone: tuple[str, ...] = _classed("stone", "{}stone")
    status: tuple[str, ...] = words("status", "Status")
    ripening: tuple[str, ...] = several(  # halves of months: "07a"
        "Picked in", _halves, _overlaps, write=lambda _catalogue, half: half_label(half), look="narrow",
        short="picked in {}", full="picked in {}", relaxed="picking time ({})",
    )  # fmt: skip
    seasons: int = at_least(
        "Seasons of evidence", _season_steps, lambda catalogue, least: catalogue.windows["seasons"].to_numpy() >= least,
        option="{} or more", short="{} seasons or more", full="picked in at least {} seasons", relaxed="seasons (at least {})",
    )  # fmt: skip
    flesh_texture: tuple[str, ...] = words(
        "flesh_texture", "Flesh texture", TABLES["cultivars"].by_name["flesh_texture"].words, "{} flesh", rare=True
    )  # fmt: skip
    bacterial_spot: int | None = at_most(
        "bacterial_spot", "Bacterial spot", (0, 1, 2, 3, 4), scale="0 none to 5 severe"
    )
    chill: tuple[str, ...] = several(
        "Winter chill needed at most", chill_bounds, lambda catalogue, bound: chill_needed(catalogue, bound) <= chill_bound(bound)[2],
        missing=lambda catalogue, bound: np.isnan(chill_needed(catalogue, bound)), why_missing="not recorded in the unit asked for",
        write=lambda _catalogue, bound: chill_bound(bound)[0], short="chill needed at most {}", full="winter chill needed at most {}",
        relaxed="winter chill needed (at most {})", look="narrow", rare=True, further=chill_asked, place=chill_place, typed=chill_needs,
    )  # fmt: skip
    enough: tuple[str, ...] = several(
        "Enough winter chill in at least", enough_offered, enough_in, missing=lambda catalogue, _option: need_unknown(catalogue),
        write=enough_written, short="enough chill in {}", full="enough winter chill in {}", relaxed="enough winter chill ({})",
        look="lines", rare=True,
    )  # fmt: skip
    nursery: tuple[str, ...] = several(
        "Trees offered by", _nurseries, _offered, write=lambda _catalogue, name: "any nursery" if name == ANY_NURSERY else name,
        short="offered by {}", full="offered by {}", relaxed="offers ({})", look="lines", rare=True,
    )  # fmt: skip
    noted: tuple[str, ...] = several(  # facts of a notebook's own table: "virus tested: yes"
        "Your own table", _noted, lambda catalogue, said: _fact(catalogue, said).passes(parted(said)[1]),
        missing=lambda catalogue, said: _fact(catalogue, said).missing(), write=lambda _catalogue, said: parted(said)[1],
        part=lambda said: parted(said)[0], further=_noted_asked, place=_noted_place, short="{}", full="{}", relaxed="{}",
    )  # fmt: skip


def _names(catalogue: Catalogue) -> tuple[str, ...]:
    return tuple(catalogue.cultivars.index)


def _as_many(_catalogue: Catalogue, most: int | None) -> str:
    return "" if most is None else str(most)


def day_keys(_catalogue: Catalogue) -> tuple[str, ...]:
    return ("", *_every_day())


def _market_written(catalogue: Catalogue, market: str) -> str:
    return catalogue.markets[market].name if market else "nobody else"


def _site_written(catalogue: Catalogue, site: str) -> str:
    return site_name(catalogue, site) if site else "all sites"


def _one_of(told: dict[Any, str]) -> Any:
    return lambda _catalogue, value: told[value]


@dataclass(frozen=True, kw_only=True)
class Choices(OrderChoices, Filters):
    """All that can be asked. Empty tuples and None ask for anything; ``market`` "" for no market."""

    market: str = choice("", lambda catalogue: ("", *catalogue.markets))
    shortlist: tuple[str, ...] = choice((), _names)
    chosen: tuple[str, ...] = choice((), _names)  # picked out in the pictures
    cultivar: str = choice("", lambda catalogue: ("", *_names(catalogue)))
    units: str = choice("us", SYSTEMS, "Units", write=_one_of({"us": "inches, pounds", "si": "mm, newtons"}))
    site: str = choice(  # figures over all sites, or at one
        "", lambda catalogue: tuple(dict.fromkeys(basis.site for basis in catalogue.figures)),
        "Figures for", write=_site_written, short="figures at {}",
    )  # fmt: skip
    station: str = choice(  # whose weather is that of my site; "" that of the site of the figures or, without one, the first
        "", station_keys, "Weather of", write=station_written
    )
    higher: int = choice(0, HIGHER, "My site lies", write=higher_written)  # meters above the station
    ripeness: str = choice(  # of fruit as picked, or at "equal" firmness
        "picked", ("picked", "equal"),
        "Size and sugar of fruit", write=_one_of({"picked": "as picked", "equal": "at equal firmness"}), short="size and sugar {}",
    )  # fmt: skip
    season_kind: str = choice(  # kind of season: an early, ordinary or late one, or any
        "ordinary", (*KINDS, ANY), "In", write=_one_of(YEARS | {"any": "any year (use this to order)"})
    )
    built_for: str = choice(
        ANY, (*KINDS, ANY), "Built for", write=_one_of(YEARS)
    )  # whatever kind is looked at
    least: int = choice(  # how many at once make a day covered
        1, (1, 2, 3), "At once at least", write=_one_of({1: "one cultivar", 2: "two", 3: "three"})
    )
    certainty: int = choice(  # in so many seasons of ten
        CERTAINTY, CERTAINTIES, "A day is covered with fruit in", option="{} years in 10"
    )
    opens: str = choice("", day_keys)  # first selling day, "06-10"; "" for the season's first
    closes: str = choice("", day_keys)  # last selling day
    gap: str = choice("", day_keys)  # a day of the gap that is looked at
    most: int | None = choice(
        None, (None, 5, 6, 7, 8, 10, 12, 15, 20), "Cultivars at most", option="{}", free="as few as do", write=_as_many
    )  # fmt: skip
    barred: tuple[str, ...] = choice((), _names)  # never to be proposed
    bought: str = choice("now", tuple(BOUGHT), "Trees", write=_one_of(BOUGHT))  # what a proposal may hold
    share: str = choice("", tuple(SHARES), "With at least", write=_one_of(SHARES))
    second: str = choice(  # another buyer of the same slate
        "", lambda catalogue: ("", *catalogue.markets), "Who else do you sell to?", write=_market_written, look="lines",
    )  # fmt: skip
    own: tuple[str, ...] = choice(
        (), lambda catalogue: Statements(catalogue.own_traits)
    )  # in place of the market's limits and wishes
    beside: tuple[str, ...] = choice((), _names)  # set side by side
    other: tuple[str, ...] = choice((), _names)  # a list that the shortlist is compared with
    top: int = choice(5, (3, 5, 10), "Chance of being among the", option="first {}")
    apart: int = choice(7, (3, 7, 10, 14), "A stand-in ripens within", option="{} days")  # earlier or later
    weeks_of: str = choice(  # whose fruit By class counts
        "passing", tuple(WEEKS_OF), "The boxes count", write=_one_of(WEEKS_OF)
    )
    columns: tuple[str, ...] = choice(
        (), ()
    )  # shown beside the usual ones; which there are, their room knows (``wording.columns``)


FILTERS = declared(Filters)
CHOICES = declared(Choices)
