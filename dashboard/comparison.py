"""One question, frozen, and its answer in parts, each remembered by exactly the fields it needs.

Asking the same question again gives the same objects, so a view whose part did not change need not move.
What is handed out is shared: it is read, never written to.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import lru_cache
from typing import Any

import numpy as np
import pandas as pd

from dashboard import catalogue as catalogues
from dashboard import filters as filtering
from dashboard import market as markets
from dashboard.catalogue import Basis, Catalogue
from dashboard.dossier import dossier, limit_chances
from dashboard.filters import REMEMBERED, WORD_FIELDS, Emptied, Filters
from dashboard.ripening import half_span, halves, season_of
from dashboard.ripening.model import ANY, KINDS
from dashboard.season import Cover, Gap, draws
from dashboard.traits import CLASSES, TRAITS
from dashboard.units import SYSTEMS
from dashboard.weeks import ClassWeeks, class_weeks

BETTER = {"size": "more", "sugar": "more", "firmness": "more"}


@dataclass(frozen=True)
class Comparison:
    """A question to a catalogue. Empty tuples and None ask for anything; ``market`` "" for no market."""

    catalogue: Catalogue
    fruit_type: tuple[str, ...] = ()
    flesh_colour: tuple[str, ...] = ()
    acidity_class: tuple[str, ...] = ()
    shape_type: tuple[str, ...] = ()
    stone: tuple[str, ...] = ()
    status: tuple[str, ...] = ()
    ripening: tuple[str, ...] = ()  # halves of months; the usual window must overlap one
    seasons: int = 1  # picked in at least so many
    market: str = ""
    shortlist: tuple[str, ...] = ()
    chosen: tuple[str, ...] = ()  # picked out in the pictures
    cultivar: str = ""
    units: str = "us"
    site: str = ""  # figures over all sites, or at one
    ripeness: str = "picked"  # of fruit as picked, or at "equal" firmness
    year: str = "ordinary"  # kind of season: an early, ordinary or late one, or any
    least: int = 1  # how many at once make a day covered

    @property
    def basis(self) -> Basis:
        return Basis(self.site, self.ripeness)

    @property
    def values(self) -> dict[str, pd.DataFrame]:
        """Estimates by trait on this basis, of all cultivars in catalogue order."""
        return self.catalogue.figures[self.basis]

    @property
    def filters(self) -> Filters:
        return Filters(*(getattr(self, name) for name in Filters._fields))

    @property
    def passes(self) -> np.ndarray:
        """One True or False a cultivar, in catalogue order (read-only)."""
        return filtering.passes(self.catalogue, self.filters)

    @property
    def counts(self) -> dict[str, dict[Any, int]]:
        """How many cultivars would pass if just this option of this field were chosen, the rest held."""
        return filtering.counts(self.catalogue, self.filters)

    @property
    def market_counts(self) -> dict[str, int]:
        """How many of the passing cultivars clear every limit of each market; "" is no market."""
        return _market_counts(self.catalogue, self.filters, self.basis)

    @property
    def emptied(self) -> Emptied | None:
        """None while any cultivar passes."""
        return filtering.emptied(self.catalogue, self.filters)

    @property
    def fit(self) -> pd.DataFrame:
        """``market.fit`` of all cultivars, in catalogue order."""
        return _fit(self.catalogue, self.market, self.basis)

    @property
    def ranking(self) -> pd.DataFrame:
        """The passing cultivars: those that meet the market first, then by score, then by name."""
        return _ranking(self.catalogue, self.filters, self.market, self.basis)

    @property
    def not_beaten(self) -> np.ndarray:
        """Passing cultivars that clear the market and no other such one beats in size, sugar and firmness."""
        return _not_beaten(self.catalogue, self.filters, self.market, self.basis)

    @property
    def windows(self) -> pd.DataFrame:
        """Ripening windows of the passing cultivars in this kind of season, by middle; those never picked are not in it."""
        return _windows(self.catalogue, self.filters, self.site, self.year)

    @property
    def covering(self) -> tuple[str, ...]:
        """Whose cover is told: the shortlist or, while that is empty, all that pass and clear the market."""
        if self.shortlist:
            return self.shortlist
        return _clearing(self.catalogue, self.filters, self.market, self.basis)

    @property
    def cover(self) -> Cover | None:
        """The season cover of ``covering`` over the wanted days; None without a ripening model."""
        return _cover(self.catalogue, self.covering, self.site, self.year, self.filters.ripening, self.least)

    @property
    def closers(self) -> tuple[tuple[Gap, pd.Series], ...]:
        """Each gap with the passing, market-clearing cultivars, of any status, that would close it and the days each adds."""
        anyone = self.filters._replace(ripening=(), status=())
        clearing = _clearing(self.catalogue, anyone, self.market, self.basis)
        return _closers(self.cover, clearing) if self.cover else ()

    @property
    def dossier(self) -> dict[str, Any] | None:
        """``dossier`` of the opened cultivar with its fit (Series) and reason; None for none."""
        return _dossier(self.catalogue, self.cultivar, self.market, self.basis, self.units)

    @property
    def class_weeks(self) -> ClassWeeks | None:
        """Each class of fruit by week, counting what passes and clears the market; candidates are of any status. None without a
        ripening model."""
        clearing = _clearing(self.catalogue, self.filters._replace(ripening=()), self.market, self.basis)
        pool = _clearing(self.catalogue, self.filters._replace(ripening=(), status=()), "", self.basis)
        return class_weeks(self.catalogue, clearing, pool, self.site, self.year, self.least)

    def reason(self, cultivar: str) -> str:
        """Why a cultivar is in or out of the market, in one sentence; "" without a market."""
        return _reasons(self.catalogue, self.market, self.basis, self.units)[cultivar]

    @property
    def shortlisted(self) -> pd.DataFrame:
        """The shortlist in its own order, columns as ``ranking``; rank is the place within the shortlist.

        Filters do not touch it: a shortlisted cultivar stays whatever is asked next.
        """
        return _shortlisted(self.catalogue, self.shortlist, self.market, self.basis)


QUESTION = tuple(item.name for item in fields(Comparison) if item.name != "catalogue")


def known_values(catalogue: Catalogue) -> dict[str, tuple]:
    """What each field of a question may be asked for; fields of several values take any of them."""
    names = tuple(catalogue.cultivars.index)
    words = {name: filtering.coded(catalogue, name)[0] for name in WORD_FIELDS}
    return {
        **words,
        "ripening": halves(catalogue.windows, catalogue.south),
        "seasons": filtering.season_steps(catalogue),
        "market": ("", *catalogue.markets),
        "shortlist": names,
        "chosen": names,
        "cultivar": ("", *names),
        "units": SYSTEMS,
        "site": tuple(dict.fromkeys(basis.site for basis in catalogue.figures)),
        "ripeness": ("picked", "equal"),
        "year": (*KINDS, ANY),
        "least": (1, 2, 3),
    }


@lru_cache(maxsize=REMEMBERED)
def _market_counts(catalogue: Catalogue, filters: Filters, basis: Basis) -> dict[str, int]:
    passes = filtering.passes(catalogue, filters)
    every = ("", *catalogue.markets)
    return {key: int((passes & _fit(catalogue, key, basis)["meets"].to_numpy()).sum()) for key in every}


@lru_cache(maxsize=REMEMBERED)
def _fit(catalogue: Catalogue, market: str, basis: Basis) -> pd.DataFrame:
    if market not in catalogue.markets:
        return markets.neutral(catalogue.cultivars)
    values = catalogue.figures[basis]
    return markets.fit(catalogue.markets[market], catalogue.cultivars, values, catalogue.fruit)


@lru_cache(maxsize=REMEMBERED)
def _reasons(catalogue: Catalogue, market: str, basis: Basis, units: str) -> dict[str, str]:
    written = markets.reasons(catalogue.markets.get(market), _fit(catalogue, market, basis), units)
    return {str(name): sentence for name, sentence in written.items()}


@lru_cache(maxsize=REMEMBERED)
def _ranking(catalogue: Catalogue, filters: Filters, market: str, basis: Basis) -> pd.DataFrame:
    table, order = _standings(catalogue, market, basis)
    return _ranked(table.take(order[filtering.passes(catalogue, filters)[order]]))


@lru_cache(maxsize=REMEMBERED)
def _not_beaten(catalogue: Catalogue, filters: Filters, market: str, basis: Basis) -> np.ndarray:
    passes = filtering.passes(catalogue, filters) & _fit(catalogue, market, basis)["meets"].to_numpy()
    values = catalogue.figures[basis]
    estimates = pd.DataFrame({trait: values[trait]["estimate"] for trait in BETTER})
    answer = np.zeros(len(passes), dtype=bool)
    answer[passes] = markets.not_beaten(estimates[passes], BETTER)
    answer.setflags(write=False)
    return answer


@lru_cache(maxsize=REMEMBERED)
def _clearing(catalogue: Catalogue, filters: Filters, market: str, basis: Basis) -> tuple[str, ...]:
    clears = filtering.passes(catalogue, filters) & _fit(catalogue, market, basis)["meets"].to_numpy()
    return tuple(catalogue.cultivars.index[clears])


@lru_cache(maxsize=REMEMBERED)
def _cover(
    catalogue: Catalogue, names: tuple[str, ...], site: str, year: str, wanted: tuple[str, ...], least: int
) -> Cover | None:
    ripe = catalogue.ripening
    if ripe.refused:
        return None
    every = catalogues.windows_at(catalogue, site, year)
    spans = [half_span(half, catalogue.south) for half in wanted] or [season_of(every)]
    span = (float(np.floor(min(a for a, _ in spans))), float(np.ceil(max(b for _, b in spans))))
    return Cover(draws(ripe, ripe.known_site(site), year), names, span, least)


@lru_cache(maxsize=REMEMBERED)
def _closers(cover: Cover, candidates: tuple[str, ...]) -> tuple[tuple[Gap, pd.Series], ...]:
    return tuple((gap, cover.closers(gap, candidates)) for gap in cover.gaps)


@lru_cache(maxsize=REMEMBERED)
def _windows(catalogue: Catalogue, filters: Filters, site: str, year: str) -> pd.DataFrame:
    every = catalogues.windows_at(catalogue, site, year)
    passing = every[filtering.passes(catalogue, filters)]
    return passing.dropna(subset="middle").sort_values("middle", kind="stable")


@lru_cache(maxsize=REMEMBERED)
def _dossier(
    catalogue: Catalogue, cultivar: str, market: str, basis: Basis, units: str
) -> dict[str, Any] | None:
    known = dossier(catalogue, cultivar)
    if known is None:
        return None
    row = _fit(catalogue, market, basis).loc[cultivar]
    profile = catalogue.markets.get(market)
    asked = limit_chances(catalogue, cultivar, profile, basis.site)
    return {**known, "fit": row, "reason": markets.reason(profile, row, units), "chances": asked}


@lru_cache(maxsize=REMEMBERED)
def _shortlisted(catalogue: Catalogue, shortlist: tuple[str, ...], market: str, basis: Basis) -> pd.DataFrame:
    table, order = _standings(catalogue, market, basis)
    names = [name for name in dict.fromkeys(shortlist) if name in table.index]
    places = table.index.get_indexer(pd.Index(names))
    ranked = _ranked(table.take(order[np.isin(order, places)]))
    return ranked.loc[names]


@lru_cache(maxsize=REMEMBERED)
def _standings(catalogue: Catalogue, market: str, basis: Basis) -> tuple[pd.DataFrame, np.ndarray]:
    """Every cultivar's row of a ranking in catalogue order, and the order in which they are ranked."""
    fit = _fit(catalogue, market, basis)
    table = pd.concat([fit[["meets", "score"]], _columns(catalogue, basis)], axis=1)
    score = np.nan_to_num(fit["score"].to_numpy(), nan=-1.0)
    order = np.lexsort((np.arange(len(fit)), -score, ~fit["meets"].to_numpy()))  # names are sorted already
    return table, order


def _ranked(table: pd.DataFrame) -> pd.DataFrame:
    table.insert(0, "rank", np.arange(1, len(table) + 1))
    return table


@lru_cache(maxsize=64)
def _columns(catalogue: Catalogue, basis: Basis) -> pd.DataFrame:
    columns: dict[str, Any] = {name: catalogue.cultivars[name] for name in (*CLASSES, "status", "check")}
    for name in ("first", "middle", "last", "from_check", "seasons", "sites"):
        columns[name] = catalogue.windows[name]
    index = catalogue.cultivars.index
    for name in ("samples", "fruit"):
        table = catalogue.summaries if name == "samples" else catalogue.fruit
        columns[name] = table["cultivar"].value_counts().reindex(index, fill_value=0)
    values = catalogue.figures[basis]
    if basis.site:  # what the figures at one site rest on there
        columns |= {name: values["size"][name] for name in ("seasons", "sites", "samples", "fruit")}
    for trait in TRAITS:
        frame = values[trait]
        columns |= {trait: frame["estimate"], f"{trait}_low": frame["low"], f"{trait}_high": frame["high"]}
    return pd.DataFrame(columns, index=index)
