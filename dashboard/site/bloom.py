"""When a cultivar blooms at a site in a given spring, with an interval: heat it needs, and what no heat explains.

Two mixed models on the bloom records joined to the weather of their site and spring. The heat from the clock's start to full bloom:

    log heat = site + need for chill + cultivar + season + (season, site) + rest

and, of the days between bloom and the day on which that heat was there,

    day - day of heat = site + season + (season, site) + rest

cultivar, season and (season, site) random in both, by REML (``dashboard.mixed``). Which clock counts, the records decide.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np
import pandas as pd

from dashboard.mixed import Fit, UnfittedError, fit, why_not
from dashboard.ripening.few_seasons import half_width
from dashboard.site.clock import CLOCKS, Clock, Springs

LEVEL = 0.9
FEWEST_SEASONS, FEWEST_RECORDS = 3, 20
CULTIVAR, SEASON, LOCAL = "cultivar", "season", "season:site"


@dataclass(frozen=True, eq=False)
class Bloom:
    """The fitted model. ``refused`` says why there is none."""

    cultivars: pd.Index
    needs: np.ndarray = field(
        default_factory=lambda: np.array([])
    )  # (cultivars,) portions, the usual where none is recorded
    usual: float = 0.0  # the need from which others are counted
    clock: Clock = CLOCKS[0]
    heat: Fit | None = None
    days: Fit | None = None
    sites: tuple[str, ...] = ()
    seasons: int = 0
    records: int = 0
    refused: str = ""

    def expected(
        self, springs: Springs, years: list[int], site: str = ""
    ) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Full bloom of every cultivar in springs whose weather is known.

        Parameters
        ----------
        springs : Springs
            Of a station.
        years : list of int
            Some of its years.
        site : str
            The site of the records that it is; "" for a place without any, which is then expected to lie among them.

        Returns
        -------
        tuple of ndarray
            (years, cultivars) each: the day of the year, the standard deviation of what is each cultivar's own, and that of what all share
            in that spring, days.
        """
        assert self.heat is not None
        assert self.days is not None
        where = (site,) if site in self.sites else self.sites
        mean, variance = self._heat(where)
        off, off_variance = self._off(where)
        shape = (len(years), len(self.cultivars))
        day, own = np.empty(shape), np.empty(shape)
        for row, year in enumerate(years):
            at = springs.day_of(year, self.clock, self.needs, np.exp(mean))
            slope = np.exp(mean) / springs.pace(year, self.clock, at)  # days for a unit of log heat
            day[row] = at + off
            own[row] = np.sqrt(slope**2 * variance + off_variance + self._rest)
        common = np.sqrt(self.days.variance.get(SEASON, 0.0) + self.days.variance.get(LOCAL, 0.0))
        return day, own, np.full(shape, common)

    def interval(self, own: np.ndarray, common: np.ndarray) -> np.ndarray:
        """Half the 90 % interval, from the two deviations of ``expected``."""
        return half_width(own**2, np.maximum(common**2, 1e-12), self.seasons - 1, 0.5 + LEVEL / 2)

    @property
    def _rest(self) -> float:
        """Variance of what is left of a single date, days²: what the cultivars' own heat was fitted to counts as used up."""
        assert self.heat is not None
        assert self.days is not None
        doubt, spread = self.heat.effect_se[CULTIVAR].to_numpy(), self.heat.variance[CULTIVAR]
        used = float(np.clip(1 - doubt**2 / spread, 0, 1).sum()) if spread > 0 else 0.0
        return self.days.variance["residual"] * self.records / max(self.records - used, 1.0)

    def _heat(self, where: tuple[str, ...]) -> tuple[np.ndarray, np.ndarray]:
        """(cultivars,) log heat at a site, and its error variance; what was never seen blooming is as others of its need. Of several, a
        place that lies among them."""
        assert self.heat is not None
        seen = self.cultivars.isin(self.heat.effect[CULTIVAR].index)
        means, variances = np.empty((len(where), len(seen))), np.empty((len(where), len(seen)))
        for row, site in enumerate(where):
            fixed = np.tile([float(name == site) for name in self.sites], (len(seen), 1))
            if len(self.heat.beta) > len(self.sites):
                fixed = np.column_stack([fixed, self.needs - self.usual])
            for these, effects in ((seen, {CULTIVAR: self.cultivars[seen].astype(str)}), (~seen, None)):
                if these.any():
                    told = self.heat.predict(fixed[these], effects)
                    means[row, these], variances[row, these] = told.estimate, told.variance
        variances[:, ~seen] += self.heat.variance[CULTIVAR]
        return means.mean(axis=0), variances.max(axis=0) + _apart(means)

    def _off(self, where: tuple[str, ...]) -> tuple[float, float]:
        """Days by which bloom runs behind the clock there, and the variance of that, likewise."""
        assert self.days is not None
        at = [self.sites.index(site) for site in where]
        beta, variance = self.days.beta.to_numpy()[at], np.diag(self.days.beta_cov.to_numpy())[at]
        return float(beta.mean()), float(variance.max() + _apart(beta))


def _apart(values: np.ndarray) -> np.ndarray:
    """How far sites lie apart, as a variance over the first axis; 0 of one."""
    return values.var(axis=0, ddof=1) if len(values) > 1 else 0.0 * values[0]


def bloom_records(bloom: pd.DataFrame, springs: Mapping[str, Springs]) -> pd.DataFrame:
    """Bloom records whose spring is on record at their site: cultivar, site, year, day (of the year)."""
    frame = pd.DataFrame(
        {
            "cultivar": bloom["cultivar"].astype("str"),
            "site": bloom["site"].astype("str"),
            "year": bloom["year"],
            "day": bloom["full_bloom"].dt.day_of_year.astype(float),
        }
    ).dropna()
    frame = frame.astype({"year": int}).drop_duplicates(["cultivar", "site", "year"])
    there = {(site, year) for site, one in springs.items() for year in one.years}
    known = [key in there for key in zip(frame["site"], frame["year"], strict=True)]
    return frame[np.array(known, dtype=bool)].reset_index(drop=True)


def bloom_model(seen: pd.DataFrame, cultivars: pd.DataFrame, springs: Mapping[str, Springs]) -> Bloom:
    """The model of when cultivars bloom.

    Parameters
    ----------
    seen : DataFrame
        ``bloom_records``.
    cultivars : DataFrame
        With chill_requirement_cp; index their names, the order that answers keep.
    springs : Mapping of str to Springs
        By site.

    Returns
    -------
    Bloom
        Without enough records, one that refuses and says why.
    """
    plain = Bloom(cultivars.index)
    seasons = seen["year"].nunique()
    if seasons < FEWEST_SEASONS or len(seen) < FEWEST_RECORDS:
        return Bloom(cultivars.index, refused=f"Bloom dates need {FEWEST_RECORDS} records in {FEWEST_SEASONS} springs with weather; there are {len(seen)} in {seasons}.")  # fmt: skip
    needs = cultivars["chill_requirement_cp"].to_numpy(dtype=float)
    usual = float(np.nanmedian(needs)) if np.isfinite(needs).any() else 40.0
    needs = np.where(np.isnan(needs), usual, needs)
    place = cultivars.index.get_indexer(pd.Index(seen["cultivar"]))
    seen, place = seen[place >= 0].reset_index(drop=True), place[place >= 0]
    clock = min(CLOCKS, key=lambda one: _spread(seen, needs[place], springs, one))
    sites = tuple(sorted(seen["site"].unique()))
    where = pd.DataFrame({name: (seen["site"] == name).astype(float) for name in sites})
    try:
        heat = _heat_fit(seen, needs[place], usual, where, springs, clock)
        found = Bloom(cultivars.index, needs, usual, clock, heat, None, sites, seasons, len(seen))
        mean = {site: found._heat((site,))[0] for site in sites}
        gone = np.empty(len(seen))
        for site, year, rows in _cells(seen):
            at = springs[site].day_of(year, clock, needs[place[rows]], np.exp(mean[site][place[rows]]))
            gone[rows] = seen["day"].to_numpy()[rows] - at
        days = fit(gone, where, _seasons(seen))
    except (ValueError, np.linalg.LinAlgError) as fault:
        return Bloom(plain.cultivars, refused=f"The bloom model could not be fitted: {why_not(fault)}")
    return Bloom(cultivars.index, needs, usual, clock, heat, days, sites, seasons, len(seen))


def _seasons(seen: pd.DataFrame) -> dict[str, np.ndarray]:
    year = seen["year"].astype(str)
    groups = {SEASON: year.to_numpy()}
    if seen["site"].nunique() > 1:
        groups[LOCAL] = (year + "\t" + seen["site"]).to_numpy()
    return groups


def _heat_fit(
    seen: pd.DataFrame,
    need: np.ndarray,
    usual: float,
    where: pd.DataFrame,
    springs: Mapping[str, Springs],
    clock: Clock,
) -> Fit:
    y = np.log(_heats(seen, need, springs, clock))
    X = where.assign(need=need - usual) if np.ptp(need) > 0 else where
    if not np.ptp(y) > 0:
        raise UnfittedError("all bloomed after the same heat.")
    return fit(y, X, {CULTIVAR: seen["cultivar"].to_numpy(), **_seasons(seen)})


def _cells(seen: pd.DataFrame) -> Iterator[tuple[str, int, np.ndarray]]:
    site, year = seen["site"].to_numpy(dtype=object), seen["year"].to_numpy()
    for here, spring in sorted(set(zip(site, year, strict=True))):
        yield str(here), int(spring), np.flatnonzero((site == here) & (year == spring))


def _heats(seen: pd.DataFrame, need: np.ndarray, springs: Mapping[str, Springs], clock: Clock) -> np.ndarray:
    day, found = seen["day"].to_numpy(), np.empty(len(seen))
    for site, year, rows in _cells(seen):
        found[rows] = springs[site].heat_on(year, clock, need[rows], day[rows])
    return found


def _spread(seen: pd.DataFrame, need: np.ndarray, springs: Mapping[str, Springs], clock: Clock) -> float:
    """Variance in days of bloom about the day on which each cultivar's mean heat was there."""
    heat = np.log(_heats(seen, need, springs, clock))
    usual = pd.Series(heat).groupby(seen["cultivar"]).transform("mean").to_numpy()
    day, off = seen["day"].to_numpy(), np.empty(len(seen))
    for site, year, rows in _cells(seen):
        off[rows] = day[rows] - springs[site].day_of(year, clock, need[rows], np.exp(usual[rows]))
    return float(np.var(off))
