"""When a cultivar is to be expected, at a site, in an early, ordinary or late season, and how sure that is.

The day of the first pick of cultivar i at site j in season k, and likewise how many days it is picked for:

    day = site_j + c_i + (cs)_ij + (cy)_ik + season_k + (season, site)_jk + rest

everything but the site random, fitted by REML (``dashboard.mixed``). Seasons run early or late for all cultivars
together; the checks, seen in every one, carry that to cultivars that were seen in one season only. The middle is the
first day and half the days picked. Where days are known from visits only, what these leave open is no spread of the fruit.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import Any

import numpy as np
import pandas as pd
from scipy import stats

from dashboard.mixed import Fit, Prediction, UnfittedError, why_not
from dashboard.ripening.few_seasons import LUCK_SD, Spread, assumed, half_width, half_width_over
from dashboard.ripening.parts import CS, CY, LOCAL, PARTS, SEASON, C, fitted, kept_terms, recorded

METHOD = "ripening model"
LEVEL = 0.9
KINDS = {"early": -1.0, "ordinary": 0.0, "late": 1.0}
ANY = "any"  # a season not known beforehand
ONE_IN_TEN = float(stats.norm.ppf(0.9))  # an early season is the earliest of ten, a late one the latest
FEWEST = 3  # cultivars, and records beyond them, from which on there is something to fit


@dataclass(frozen=True, eq=False)
class Ripening:
    """``windows(site, kind)``; ``site`` "" is over the sites of the records. ``refused`` says why there is no model."""

    cultivars: pd.Index
    sites: tuple[str, ...]
    fits: dict[str, Fit]  # by part; no fit of what is the same in every record
    kept: tuple[str, ...]
    seasons: int
    seen: (
        pd.DataFrame
    )  # what was picked: cultivar, site, season, first, middle, last; as ``visits.ripe_days``
    refused: str = ""
    spread: dict[str, Spread] = field(default_factory=dict)  # of seasons, by part, where few were seen

    @cached_property
    def known(self) -> np.ndarray:
        """(cultivars,) whether a pick of it is on record."""
        return self.cultivars.isin(self.seen["cultivar"])

    def known_site(self, site: str) -> str:
        """``site`` where something was picked there, else "", over the sites."""
        return site if site in self.sites else ""

    def never_at(self, site: str) -> np.ndarray:
        """(cultivars,) picked somewhere, but never at this site."""
        there = self.seen.loc[self.seen["site"] == site, "cultivar"] if site else self.seen["cultivar"]
        return self.known & ~self.cultivars.isin(there)

    def windows(self, site: str = "", kind: str = "ordinary") -> pd.DataFrame:
        """When each cultivar is picked.

        Parameters
        ----------
        site : str
            Its key; "" over the sites.
        kind : str
            Kind of season: "early", "ordinary", "late", or "any": an ordinary one, its outer ends those of not_before and not_after.

        Returns
        -------
        DataFrame
            One row a cultivar in days of the season, NaN for one never picked: first, middle, last and their 90 % intervals (``_low``,
            ``_high``), se of the middle. not_before, not_after: in a season not known beforehand the first day falls after the one and
            the last before the other, each with a chance of 95 %. unseen: never picked at this site.
        """
        return _windows(self, site, kind)

    def from_check(self, check: str, site: str = "") -> pd.DataFrame:
        """How long after a check each cultivar is picked.

        Parameters
        ----------
        check : str
            Name of the check.
        site : str
            Its key; "" over the sites.

        Returns
        -------
        DataFrame
            One row a cultivar: days its middle comes after that of ``check``, with se, low and high (90 %).
        """
        return _from_check(self, check, site)

    def shift(self, kind: str) -> float:
        """Days by which a season of this kind is later than an ordinary one; 0 for one not known beforehand."""
        sign = KINDS.get(kind, 0.0)
        if "first" not in self.spread:
            return sign * ONE_IN_TEN * float(np.sqrt(self.common("first")))
        of_ten = half_width_over(np.array([self._of("first", LOCAL)]), self.spread["first"], 0.9)
        return sign * float(of_ten[0])

    def expected(self, part: str, site: str) -> Prediction:
        """The lasting part of "first" or "days" of every known cultivar at a site, or over the sites."""
        return _expected(self, part, site)

    def unseen_variance(self, part: str, site: str) -> np.ndarray:
        """What is not known of cultivars never picked at a site, nor, after one season, of their luck in it; for
        ``expected``'s rows."""
        count = 1 if site else len(self.sites)
        own = self.seen.drop_duplicates(["cultivar", "site"])
        if site:
            stood = own.loc[own["site"] == site, "cultivar"]
            missing = np.where(self.cultivars[self.known].isin(stood), 0.0, 1.0)
        else:
            stands = own["cultivar"].value_counts().reindex(self.cultivars[self.known])
            missing = count - stands.to_numpy(dtype=float)
        return self._of(part, CS) * missing / count**2 + self._luck(part)

    def peculiar(self, part: str) -> float:
        """Variance of what a cultivar does in one season beside the others; what visits leave open of its days is no part of it."""
        rest = max(self._of(part, "residual") - self._unsure(part), 0.0)
        return self._of(part, CY) + rest + self._luck(part)

    def common(self, part: str) -> float:
        """Variance of what a season at one site does to all cultivars."""
        return self._of(part, SEASON) + self._of(part, LOCAL) + self.untold(part)

    def untold(self, part: str) -> float:
        """Variance of what the one season seen did to all cultivars, which no fit can tell; 0 where there were more."""
        return self.spread.get(part, assumed(part)).mean if self.seasons < 2 else 0.0

    def of_seasons(self, part: str, site: str) -> float:
        """Variance of the mean of the seasons seen at a site, or over the sites: the part of the error all cultivars share."""
        here = self.seen[self.seen["site"] == site] if site else self.seen
        seasons, local = here["season"].nunique(), len(here[["site", "season"]].drop_duplicates())
        return self._of(part, SEASON) / seasons + self._of(part, LOCAL) / local + self.untold(part)

    @property
    def df(self) -> int:
        """Degrees of freedom by which the spread of seasons is known, where they are not few."""
        return self.seasons - 1

    def off(self, variance: np.ndarray, common: np.ndarray | float, first: float) -> np.ndarray:
        """How far off days lie at most, 95 times in 100 to one side. Of their ``variance`` (k,) a part ``common`` is of seasons, and
        of that ``first`` times what a season does to the first day."""
        if "first" not in self.spread:
            return half_width(variance - common, common, self.df, 0.5 + LEVEL / 2)
        spread = self.spread["first"]
        own = np.maximum(variance - first * spread.mean, 0.0)
        return half_width_over(own, spread._replace(variance=first * spread.variance), 0.5 + LEVEL / 2)

    def every(self, site: str) -> tuple[float, float]:
        """The usual days from visit to visit at a site, or the fewest and the most over the sites; 1 where days are exact."""
        if "every" not in self.seen or self.seen.empty:
            return 1.0, 1.0
        here = self.seen.loc[self.seen["site"] == site, "every"] if site else self.seen["every"]
        return float(here.min()), float(here.max())

    def _unsure(self, part: str) -> float:
        """Variance of how far off the recorded days are, as visits leave them open; of "days" those of both ends."""
        ends = {"first": ("first_off",), "days": ("first_off", "last_off")}[part]
        return float(sum(self.seen[end].mean() for end in ends if end in self.seen))

    def _luck(self, part: str) -> float:
        return LUCK_SD[part] ** 2 if self.seasons < 2 else 0.0

    def _of(self, part: str, term: str) -> float:
        return self.fits[part].variance.get(term, 0.0) if part in self.fits else 0.0


def ripening(picks: pd.DataFrame, cultivars: pd.Index) -> Ripening:
    """The model of when cultivars are picked.

    Parameters
    ----------
    picks : DataFrame
        ``visits.ripe_days``: cultivar, site, season, and first, middle and last ripe day in days of the season, with first_off and
        last_off, the variances of what visits leave open of them, and every, the days from visit to visit; or ``seen.picks``, taken
        as exact.
    cultivars : Index
        Names, in the order that answers keep.

    Returns
    -------
    Ripening
        Without enough picks, one that refuses and says why.
    """
    seen = picks[picks["cultivar"].isin(cultivars)].reset_index(drop=True)
    sites = tuple(sorted(seen["site"].astype(str).unique()))
    plain = Ripening(cultivars, sites, {}, (), int(seen["season"].nunique()), seen)
    if seen["cultivar"].nunique() < FEWEST or len(seen) < seen["cultivar"].nunique() + FEWEST:
        return Ripening(**{**plain.__dict__, "refused": "Too few picks are on record for a ripening model."})
    kept = kept_terms(seen)
    while True:
        try:
            both = {
                part: fitted(seen, part, kept, sites) for part in PARTS if np.ptp(recorded(seen, part)) > 0
            }
            if "first" not in both:
                raise UnfittedError("everything was first picked on the same day.")
            fits = {part: found for part, (found, _) in both.items()}
            spread = {part: one for part, (_, one) in both.items() if one is not None}
            return Ripening(**{**plain.__dict__, "fits": fits, "kept": kept, "spread": spread})
        except (ValueError, np.linalg.LinAlgError) as fault:
            if len(kept) == 1:
                why = f"The ripening model could not be fitted: {why_not(fault)}"
                return Ripening(**{**plain.__dict__, "refused": why})
            kept = kept[:-1]


@lru_cache(maxsize=64)
def _expected(ripe: Ripening, part: str, site: str) -> Prediction:
    names = ripe.cultivars[ripe.known].astype(str)
    if part not in ripe.fits:  # it is the same everywhere, and sure
        same = ripe.fits["first"].predict(np.zeros((len(names), len(ripe.sites))))
        same.__dict__["estimate"] = np.full(len(names), recorded(ripe.seen, part)[0])
        return same
    found = ripe.fits[part]
    where = (site,) if site else ripe.sites
    if not set(where) <= set(ripe.sites):
        raise ValueError(f"Nothing was picked at {site!r}.")
    weights = np.array([float(name in where) / len(where) for name in ripe.sites])
    effects: dict[str, Any] = {C: names}
    if CS in ripe.kept:
        levels = found.effect[CS].index
        of_site = np.zeros((len(names), len(levels)))
        for place in where:
            at = levels.get_indexer(pd.Index(names) + "\t" + place)
            of_site[np.flatnonzero(at >= 0), at[at >= 0]] = 1 / len(where)
        effects[CS] = of_site
    return found.predict(weights, effects)


@lru_cache(maxsize=64)
def _windows(ripe: Ripening, site: str, kind: str) -> pd.DataFrame:
    names = ripe.cultivars[ripe.known]
    columns: dict[str, Any] = {}
    first, days = (ripe.expected(part, site) for part in PARTS)
    error = {
        part: one.variance + ripe.unseen_variance(part, site) + ripe.untold(part)
        for part, one in zip(PARTS, (first, days), strict=True)
    }
    shared = {part: ripe.of_seasons(part, site) for part in PARTS}
    begins = first.estimate + ripe.shift(kind)
    lasts = np.maximum(days.estimate, 0.0)
    for name, share in (("first", 0.0), ("middle", 0.5), ("last", 1.0)):
        at = begins + share * lasts
        variance = error["first"] + share**2 * error["days"]
        seasons = np.minimum(shared["first"] + share**2 * shared["days"], variance)
        half = ripe.off(variance, seasons, 1 / ripe.seasons)
        columns |= {name: at, f"{name}_low": at - half, f"{name}_high": at + half}
        if name == "middle":
            columns["se"] = np.sqrt(variance)
    ends = {}
    for name, share in (("first", 0.0), ("last", 1.0)):
        own = error["first"] + ripe.peculiar("first") + share**2 * (error["days"] + ripe.peculiar("days"))
        common = ripe.common("first") + share**2 * ripe.common("days")
        ends[name] = ripe.off(own + common, common, 1 + 1 / ripe.seasons)
    columns["not_before"] = first.estimate - ends["first"]
    columns["not_after"] = first.estimate + lasts + ends["last"]
    if kind == ANY:
        columns |= {"first_low": columns["not_before"], "last_high": columns["not_after"]}
    frame = pd.DataFrame(columns, index=names).reindex(ripe.cultivars)
    return frame.assign(unseen=ripe.never_at(site))


@lru_cache(maxsize=64)
def _from_check(ripe: Ripening, check: str, site: str) -> pd.DataFrame:
    names = ripe.cultivars[ripe.known]
    beside = names.get_indexer(pd.Index([check]))[0]
    middle, variance = np.zeros(len(names)), np.zeros(len(names))
    less = np.eye(len(names))
    less[:, beside] -= 1.0
    for part, share in zip(PARTS, (1.0, 0.5), strict=True):
        difference = ripe.expected(part, site).contrast(less)
        middle += share * difference.estimate
        unseen = ripe.unseen_variance(part, site)
        variance += share**2 * (difference.variance + unseen + unseen[beside])
    variance[beside] = 0.0
    se = np.sqrt(variance)
    half = stats.norm.ppf(0.5 + LEVEL / 2) * se
    columns = {"from_check": middle, "se": se, "low": middle - half, "high": middle + half}
    return pd.DataFrame(columns, index=names).reindex(ripe.cultivars)
