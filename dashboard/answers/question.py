"""One question, frozen, and its answer in parts, each remembered by exactly the fields it needs.

Asking the same question again gives the same objects, so a view whose part did not change need not move.
What is handed out is shared: it is read, never written to.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

import numpy as np
import pandas as pd

from dashboard import market as markets
from dashboard.answers import covering, prospects, ranking, standing
from dashboard.answers import filters as filtering
from dashboard.answers.accounts import Account, account
from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.choices import CHOICES
from dashboard.answers.class_weeks import ClassWeeks, class_weeks
from dashboard.answers.dossier import dossier, limit_chances
from dashboard.answers.filters import REMEMBERED, Emptied
from dashboard.answers.replacing import each_closed
from dashboard.answers.side_by_side import SideBySide, offered, side_by_side
from dashboard.answers.slated import Slated
from dashboard.answers.spotlight import Spotlight, spotlight
from dashboard.answers.stand_ins import StandIn, stand_ins
from dashboard.answers.standing import Count
from dashboard.market import Market
from dashboard.market.relaxing import Opening
from dashboard.ripening import half_span
from dashboard.ripening.cover import Cover, Gap


@dataclass(frozen=True)
class Question(Slated):
    """A question to a catalogue: frozen, and each part of its answer is remembered by the choices it rests on.

    Every choice has a default that asks for anything: empty tuples, "" for no market and for all sites. ``dataclasses.replace``
    asks anew. Frames come by cultivar in catalogue order unless a part says otherwise, in SI units, and are shared: read only.
    """

    @property
    def values(self) -> dict[str, pd.DataFrame]:
        """Estimates by trait on this basis, of all cultivars in catalogue order."""
        return self.catalogue.figures[self.basis]

    @property
    def passes(self) -> np.ndarray:
        """One True or False a cultivar, in catalogue order (read-only)."""
        return filtering.passes(self.catalogue, self.filters)

    @property
    def counts(self) -> dict[str, dict[Any, int]]:
        """How many cultivars would pass if just this option of this field were chosen, the rest held."""
        return filtering.counts(self.catalogue, self.filters)

    @property
    def market_counts(self) -> dict[str, Count]:
        """How many of the passing cultivars qualify, and may qualify, for each market; "" is no market."""
        changed = (self.market, self.profile) if self.own else None
        return standing.counts(self.catalogue, self.filters, self.basis, changed, self.chosen_winters)

    @property
    def own_count(self) -> Count:
        """How many of the passing cultivars qualify, and may qualify, for the market asked for, with the visitor's changes."""
        return standing.counted(self.catalogue, self.filters, self.profile, self.basis)

    @property
    def emptied(self) -> Emptied | None:
        """None while any cultivar passes."""
        return filtering.emptied(self.catalogue, self.filters)

    @property
    def fit(self) -> pd.DataFrame:
        """``standing.fits`` of all cultivars, in catalogue order."""
        return standing.fits(self.catalogue, self.profile, self.basis)

    @property
    def ranking(self) -> pd.DataFrame:
        """The passing cultivars: those that qualify first, then those that may, each by score."""
        return ranking.ranked(self.catalogue, self.filters, self.profile, self.basis, self.top)

    @property
    def not_beaten(self) -> np.ndarray:
        """Passing cultivars that the market takes or may take and no other such one beats in size, sugar and firmness."""
        return ranking.not_beaten(self.catalogue, self.filters, self.profile, self.basis)

    @property
    def sure_not_beaten(self) -> np.ndarray | None:
        """The chance of each of them to be so, over the doubt in the estimates; None where nothing can be foretold."""
        return ranking.sure_not_beaten(self.catalogue, self.filters, self.profile, self.basis)

    @property
    def bounds(self) -> dict[str, tuple[float | None, float | None]]:
        """By trait with limits, the lowest and highest mean (SI) that clear them."""
        return ranking.bounds(self.catalogue, self.profile, self.basis)

    @property
    def refused(self) -> str:
        """Why no chances are told for this market; "" where they are."""
        return prospects.refused(self.catalogue, self.profile, self.basis)

    @property
    def openings(self) -> tuple[Opening, ...]:
        """What relaxing one limit would let in of the passing cultivars, most first."""
        return ranking.openings(self.catalogue, self.filters, self.profile, self.basis)

    @property
    def nearest(self) -> tuple[str, ...]:
        """Who of the passing cultivars misses the market by least."""
        return ranking.nearest(self.catalogue, self.filters, self.profile, self.basis)

    @property
    def stand_ins(self) -> tuple[StandIn, ...]:
        """Who could stand in for the opened cultivar, nearest first, of the status asked for."""
        return stand_ins(self.catalogue, self.cultivar, self.profile, self.basis, self.apart, self.status)

    def dossier_of(self, cultivar: str) -> dict[str, Any]:
        """``dossier`` of any cultivar there is."""
        known = dossier(self.catalogue, cultivar)
        assert known is not None
        return known

    def rows_of(self, names: tuple[str, ...]) -> pd.DataFrame:
        """Rows as of the shortlist, of any cultivars."""
        return ranking.shortlisted(self.catalogue, names, self.profile, self.basis)

    @property
    def account(self) -> Account | None:
        """What each wish costs the opened cultivar and what each missed limit would take; None without market or cultivar."""
        return account(self.catalogue, self.cultivar, self.profile, self.basis)

    @property
    def windows(self) -> pd.DataFrame:
        """Ripening windows of the passing cultivars in this kind of season, by middle; those never picked are not in it."""
        return covering.windows(self.catalogue, self.filters, self.site, self.season_kind)

    @property
    def covering(self) -> tuple[str, ...]:
        """Whose cover is told: what qualifies, or may, of the shortlist or, while that is empty, of all that pass."""
        if self.shortlist:
            return tuple(name for name in self.shortlist if self.fit["taken"].get(name, False))
        return standing.taken(self.catalogue, self.filters, self.profile, self.basis)

    @property
    def cover(self) -> Cover | None:
        """The season cover of ``covering`` over the selling days or, where none were chosen, the wanted halves of months; None
        without a ripening model."""
        chosen = self.selling if self.opens or self.closes else None
        return covering.cover(
            self.catalogue,
            self.covering,
            self.site,
            self.season_kind,
            self.ripening,
            self.least,
            self.certainty,
            chosen,
        )

    @property
    def closers(self) -> tuple[tuple[Gap, pd.DataFrame], ...]:
        """Each gap with those that would help close it, as ``replacing.closers`` tells them of a gap that is pressed."""
        cover = self.cover
        if cover is None:
            return ()
        wanted, names = (
            replace(self.wanted, first=cover.span[0], last=cover.span[1]),
            self.shortlist or self.covering,
        )
        return each_closed(wanted, names, cover.gaps)

    @property
    def dossier(self) -> dict[str, Any] | None:
        """``dossier`` of the opened cultivar with its fit (Series) and reason; None for none."""
        return _dossier(self.catalogue, self.cultivar, self.profile, self.basis, self.units)

    @property
    def spotlight(self) -> Spotlight | None:
        """The opened cultivar or, while none is, the first of the ranking; None where there is neither."""
        return spotlight(self.catalogue, self.cultivar, self.filters, self.profile, self.basis, self.top)

    @property
    def class_weeks(self) -> ClassWeeks | None:
        """Each class of fruit by week, counting what qualifies, or may, of all that pass or of my slate; candidates are of any status.
        None without a ripening model."""
        counting, anyone = (replace(self.filters, ripening=()), replace(self.filters, ripening=(), status=()))
        counts = (
            tuple(name for name in self.shortlist if self.fit["taken"].get(name, False))
            if self.weeks_of == "slate"
            else standing.taken(self.catalogue, counting, self.profile, self.basis)
        )
        pool = standing.taken(self.catalogue, anyone, None, self.basis)
        return class_weeks(
            self.catalogue, counts, pool, self.site, self.season_kind, self.least, self.certainty, self._weeks
        )

    @property
    def _weeks(self) -> tuple[float, float] | None:
        """First and last day whose weeks are asked for: the selling days or, where none were chosen, the wanted halves of months."""
        if self.opens or self.closes:
            return self.selling
        spans = [half_span(half, self.catalogue.south) for half in self.ripening]
        return (min(first for first, _ in spans), max(last for _, last in spans)) if spans else None

    @property
    def side_by_side(self) -> SideBySide | None:
        """What was set side by side, on this basis and in this kind of season; None for nothing."""
        return _side_by_side(self.catalogue, self.beside, self.basis, self.season_kind)

    @property
    def offered(self) -> tuple[str, ...]:
        """What could be set side by side: what is picked out in the pictures, else the shortlist."""
        return offered(self.chosen, self.shortlist)

    def reason(self, cultivar: str) -> str:
        """What the market says of a cultivar and why, in one sentence; "" without a market."""
        return standing.reasons(self.catalogue, self.profile, self.basis, self.units)[cultivar]

    @property
    def shortlisted(self) -> pd.DataFrame:
        """The shortlist in its own order, whatever the filters; columns as ``ranking``, rank is the place within it."""
        return ranking.shortlisted(self.catalogue, self.shortlist, self.profile, self.basis)


QUESTION = tuple(CHOICES)


def known_values(catalogue: Catalogue) -> dict[str, Any]:
    """What each field of a question may be asked for; fields of several values take any of them."""
    return {name: one.known(catalogue) for name, one in CHOICES.items()}


@lru_cache(maxsize=REMEMBERED)
def _side_by_side(
    catalogue: Catalogue, names: tuple[str, ...], basis: Basis, season_kind: str
) -> SideBySide | None:
    return side_by_side(catalogue, names, basis, season_kind) if names else None


@lru_cache(maxsize=REMEMBERED)
def _dossier(
    catalogue: Catalogue, cultivar: str, market: Market | None, basis: Basis, units: str
) -> dict[str, Any] | None:
    known = dossier(catalogue, cultivar)
    if known is None:
        return None
    row = standing.fits(catalogue, market, basis).loc[cultivar]
    asked = limit_chances(catalogue, cultivar, market, basis.site)
    return {**known, "fit": row, "reason": markets.reason(market, row, units), "chances": asked}
