"""Every choice there is, declared once: its place in the question, the link and the page, its words, and whom it lets pass.

A new filter is one entry of ``Filters``; what follows from it: DEVELOPERS.md, "To add a choice". The order here is that of the link
and of the page. A link that was made must still open: names and defaults stay as they are.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from dashboard.answers.catalogue import Catalogue, site_name
from dashboard.answers.choosing import at_least, choice, declared, several, words
from dashboard.market.statements import Statements
from dashboard.ripening import half_label, half_span, halves
from dashboard.ripening.cover import CERTAINTIES, CERTAINTY
from dashboard.ripening.days import day_keys as _every_day
from dashboard.ripening.model import ANY, KINDS
from dashboard.terms.traits import CLASSES
from dashboard.terms.units import SYSTEMS

SEASON_STEPS = (1, 2, 3, 5, 8)
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


@dataclass(frozen=True, kw_only=True)
class Filters:
    """What was asked of the cultivars. Several options of one filter take any of them; none takes all."""

    fruit_type: tuple[str, ...] = _classed("fruit_type")
    flesh_colour: tuple[str, ...] = _classed("flesh_colour")
    acidity_class: tuple[str, ...] = _classed("acidity_class", "{} acidity")
    shape_type: tuple[str, ...] = _classed("shape_type")
    stone: tuple[str, ...] = _classed("stone", "{} stone")
    status: tuple[str, ...] = words("status", "Status")
    ripening: tuple[str, ...] = several(  # halves of months: "07a"
        "Picked in", _halves, _overlaps, write=lambda _catalogue, half: half_label(half), look="narrow",
        short="picked in {}", full="picked in {}", relaxed="picking time ({})",
    )  # fmt: skip
    seasons: int = at_least(
        "Seasons of evidence", _season_steps, lambda catalogue, least: catalogue.windows["seasons"].to_numpy() >= least,
        option="{} or more", short="{} seasons or more", full="picked in at least {} seasons", relaxed="seasons (at least {})",
    )  # fmt: skip


def _names(catalogue: Catalogue) -> tuple[str, ...]:
    return tuple(catalogue.cultivars.index)


def day_keys(_catalogue: Catalogue) -> tuple[str, ...]:
    return ("", *_every_day())


def _site_written(catalogue: Catalogue, site: str) -> str:
    return site_name(catalogue, site) if site else "all sites"


def _one_of(told: dict[Any, str]) -> Any:
    return lambda _catalogue, value: told[value]


@dataclass(frozen=True, kw_only=True)
class Choices(Filters):
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
    ripeness: str = choice(  # of fruit as picked, or at "equal" firmness
        "picked", ("picked", "equal"),
        "Size and sugar of fruit", write=_one_of({"picked": "as picked", "equal": "at equal firmness"}), short="size and sugar {}",
    )  # fmt: skip
    year: str = choice(  # kind of season: an early, ordinary or late one, or any
        "ordinary", (*KINDS, ANY), "In", write=_one_of(YEARS | {"any": "any year (use this to order)"})
    )
    least: int = choice(  # how many at once make a day covered
        1, (1, 2, 3), "At once at least", write=_one_of({1: "one cultivar", 2: "two", 3: "three"})
    )
    certainty: int = choice(  # in so many seasons of ten
        CERTAINTY, CERTAINTIES, "A day is covered with fruit in", option="{} years in 10"
    )
    opens: str = choice("", day_keys)  # first selling day, "06-10"; "" for the season's first
    closes: str = choice("", day_keys)  # last selling day
    gap: str = choice("", day_keys)  # a day of the gap that is looked at
    second: str = choice("", lambda catalogue: ("", *catalogue.markets))  # another buyer of the same slate
    own: tuple[str, ...] = choice(
        (), lambda _catalogue: Statements()
    )  # in place of the market's limits and wishes
    beside: tuple[str, ...] = choice((), _names)  # set side by side
    top: int = choice(5, (3, 5, 10), "Chance of being among the", option="first {}")
    apart: int = choice(7, (3, 7, 10, 14), "A stand-in ripens within", option="{} days")  # earlier or later


FILTERS = declared(Filters)
CHOICES = declared(Choices)
