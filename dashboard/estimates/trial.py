"""The readings of one trait arranged for a fit: random parts, fixed columns, and the weights of what is asked."""

from __future__ import annotations

from functools import cached_property

import numpy as np
import pandas as pd
from scipy import sparse

from dashboard.estimates.kinds import OWN_KIND, levels_of_kinds
from dashboard.estimates.plan import (
    BY_BOTH,
    BY_SEASON,
    BY_SITE,
    CULTIVAR,
    ENVIRONMENT,
    Plan,
    entry_seasons,
)
from dashboard.estimates.readings import Readings
from dashboard.estimates.relatives import RELATIVES
from dashboard.estimates.unequal import unequal
from dashboard.mixed.kin import Kin

MEAN, PICK, CHECK, ENTERED = "mean", "pick", "check", "entered"
# What a sample's firmness is away from the usual one of its cultivar, and that from the usual one of all (Mundlak 1978,
# Econometrica 46: 69-85): fruit of one cultivar that is softer is riper, a cultivar that is softer may only be of that kind.
FIRMNESS, USUAL_FIRMNESS = "firmness", "usual firmness"
KIND = "kind"  # and its name: those of one kind among the cultivars
CROP = "crop"  # and its number: that of young trees
SITE_SEASON = "site-season"  # and its number: listed site-seasons, as deviations that add up to zero
_ALIKE = {
    PICK: "Picks cannot be told from site-seasons, so they are taken as alike.",
    ENTERED: "A trend over seasons of entry cannot be told from the seasons themselves.",
    FIRMNESS: "No cultivar was picked now firmer, now softer, so values at equal firmness are as picked.",
}


class Trial:
    """``X`` (R, p) and ``groups`` (labels (R,) by part) for ``dashboard.mixed.fit``; ``left_out`` says what X lacks.

    ``cultivars``: codes of those with readings, in order; ``where``, ``when``: site and season of each
    site-season.
    """

    def __init__(
        self,
        read: Readings,
        planned: Plan,
        checks: frozenset[str],
        firmness: bool,
        kinds: pd.Series | None = None,
    ) -> None:
        self.read, self.plan, self.firmness = read, planned, firmness
        self.kinds = levels_of_kinds(kinds, read)
        self.kin: Kin | None = None  # of its cultivars, where they speak for each other
        self.environment = read.environment
        self.cultivars = np.unique(read.cultivar)
        self.where = np.zeros(int(self.environment.max()) + 1, dtype=np.int64)
        self.where[self.environment] = read.site
        self.when = np.zeros(len(self.where), dtype=np.int64)
        self.when[self.environment] = read.season
        self.picks = read.pick - np.nanmean(read.pick) if planned.pick else np.zeros(len(read))
        self.picks = np.nan_to_num(self.picks)  # where it was not written down, the usual one
        self.entered, self.check = self._entered(checks)
        self.usual_firmness = self._usual_firmness() if firmness else np.zeros(len(read.cultivars))
        self.rough, self.rough_at, self.spread_told, self.doubt = unequal(read)
        self.left_out: list[str] = []
        self.X = self._columns()

    @cached_property
    def groups(self) -> dict[str, np.ndarray]:
        read = self.read
        spot = read.cultivar * len(read.sites) + read.site
        labels = {
            CULTIVAR: read.cultivar,
            BY_SITE: spot,
            BY_SEASON: read.cultivar * len(read.seasons) + read.season,
            BY_BOTH: spot * len(read.seasons) + read.season,
        }
        found = {part: labels[part] for part in self.plan.kept}
        return found | ({ENVIRONMENT: self.environment} if self.plan.environment == "random" else {})

    @property
    def kinds_told(self) -> str:
        """Which kinds have a level of their own, in a sentence; none where none has."""
        kinds = [kind for kind in self.kinds if f"{KIND} {kind}" in self.X.columns]
        return OWN_KIND.format(", ".join(kinds) + " or not") if kinds else ""

    @property
    def rough_of_sites(self) -> dict[str, float]:
        """By site how far all vary there beside the usual."""
        return {str(site): float(one) for site, one in zip(self.read.sites, self.rough_at, strict=True)}

    @cached_property
    def _spots(self) -> np.ndarray:
        """Levels of the part of a cultivar at a site, in their order."""
        return np.unique(self.groups[BY_SITE])

    @property
    def asked_of(self) -> tuple[np.ndarray, pd.DataFrame, dict[str, object], float]:
        """y, X, groups and squares within samples for ``fit``, each record over how far its cultivar varies there: so interactions, samples and
        fruit vary alike in all of them, and what varies is seen through that in the rest."""
        read = self.read
        rough = self.rough[read.cultivar] * self.rough_at[read.site]
        if (rough == 1).all():
            return read.y, self.X, dict(self.groups) | self._relatives(None), float(read.ss.sum())
        groups: dict[str, object] = {
            part: (labels, 1 / rough) if part in (CULTIVAR, ENVIRONMENT) else labels
            for part, labels in self.groups.items()
        }
        groups |= self._relatives(1 / rough)
        return read.y / rough, self.X.div(rough, axis=0), groups, float((read.ss / np.square(rough)).sum())

    def _relatives(self, covariate: np.ndarray | None) -> dict[str, object]:
        return {} if self.kin is None else {RELATIVES: self.kin.seen(self.read.cultivar, covariate)}

    @property
    def listed(self) -> list[str]:
        """Columns of X for listed site-seasons."""
        return [name for name in self.X.columns if name.startswith(SITE_SEASON)]

    def counted(self, site: int | None) -> np.ndarray:
        """Weights of the site-seasons in a mean over all of them, or over those of one site."""
        at = np.ones(len(self.where)) if site is None else (self.where == site).astype(float)
        return at / at.sum()

    def at_site(self, site: int) -> sparse.csr_array:
        """(cultivars, levels) which cultivar-by-site part each cultivar has there, by how far it varies; a row of zeros: it never stood
        there."""
        wanted, levels = self.cultivars * len(self.read.sites) + site, self._spots
        place = np.minimum(np.searchsorted(levels, wanted), len(levels) - 1)
        rows = np.flatnonzero(levels[place] == wanted)
        entries = (self.rough[self.cultivars[rows]] * self.rough_at[site], (rows, place[rows]))
        return sparse.csr_array(sparse.coo_array(entries, shape=(len(wanted), len(levels))))

    def asked(self, site: int | None) -> tuple[np.ndarray, dict[str, object]]:
        """Fixed weights and effects of each cultivar's value: over all site-seasons, or at one site."""
        count, counted = len(self.cultivars), self.counted(site)
        fixed = np.zeros((count, self.X.shape[1]))
        for place, name in enumerate(self.X.columns):
            if name == MEAN:
                fixed[:, place] = 1.0
            elif name == CHECK:
                fixed[:, place] = self.check[self.cultivars]
            elif name == ENTERED:
                fixed[:, place] = self.entered[self.cultivars]
            elif name.startswith(KIND):
                fixed[:, place] = self.kinds[name.removeprefix(f"{KIND} ")][self.cultivars]
            elif name == FIRMNESS:
                fixed[:, place] = -self.usual_firmness[self.cultivars]
            elif name == USUAL_FIRMNESS:
                fixed[:, place] = self.usual_firmness[self.cultivars]
            elif name.startswith(SITE_SEASON):
                fixed[:, place] = counted[int(name.split()[1])] - counted[-1]
        effects: dict[str, object] = {CULTIVAR: sparse.eye_array(count, format="csr")}
        if self.kin is not None:
            effects[RELATIVES] = effects[CULTIVAR]
        if ENVIRONMENT in self.groups:
            effects[ENVIRONMENT] = pd.Series(counted)
        if site is not None and BY_SITE in self.groups:
            effects[BY_SITE] = self.at_site(site)
        return fixed, effects

    def whole(self, by_seen: np.ndarray) -> np.ndarray:
        """By every cultivar of the records, NaN for those without a reading."""
        out = np.full((len(self.read.cultivars), *by_seen.shape[1:]), np.nan)
        out[self.cultivars] = by_seen
        return out

    def _entered(self, checks: frozenset[str]) -> tuple[np.ndarray, np.ndarray]:
        """By cultivar: season of entry about the mean of the others, 0 for checks; and whether it is a check."""
        check, season = self.read.cultivars.isin(list(checks)), entry_seasons(self.read)
        year = pd.to_numeric(pd.Series(self.read.seasons), errors="coerce").to_numpy(dtype=float)
        year = np.where(np.isnan(year), np.arange(len(year)), year)[np.maximum(season, 0)]
        others = ~check & (season >= 0)
        middle = year[others].mean() if others.any() else 0.0
        return np.where(others, year - middle, 0.0), check.astype(float)

    def _usual_firmness(self) -> np.ndarray:
        """By cultivar: mean firmness of its samples, less that of all samples."""
        read, count = self.read, len(self.read.cultivars)
        total = np.bincount(read.cultivar, read.firmness - read.firmness.mean(), minlength=count)
        return total / np.maximum(np.bincount(read.cultivar, minlength=count), 1)

    def _columns(self) -> pd.DataFrame:
        """The fixed effects (R, p): those that add something to the ones before them."""
        read, wanted = self.read, {MEAN: np.ones(len(self.read))}
        if self.plan.environment == "fixed":
            last = len(self.where) - 1
            for one in range(last):
                wanted[f"{SITE_SEASON} {one}"] = (self.environment == one) - 1.0 * (self.environment == last)
        if self.plan.pick:
            wanted[PICK] = self.picks
        if self.plan.cohort:
            wanted[CHECK], wanted[ENTERED] = self.check[read.cultivar], self.entered[read.cultivar]
        for kind, level in self.kinds.items():
            wanted[f"{KIND} {kind}"] = level[read.cultivar]
        for crop in self.plan.crops:
            wanted[f"{CROP} {crop}"] = (read.crop == crop).astype(float)
        if self.firmness:
            usual = self.usual_firmness[read.cultivar]
            wanted[FIRMNESS] = read.firmness - read.firmness.mean() - usual
            wanted[USUAL_FIRMNESS] = usual
        columns: dict[str, np.ndarray] = {}
        basis = np.empty((len(read), 0))
        for name, column in wanted.items():
            rest = column - basis @ (basis.T @ column)
            rest -= basis @ (basis.T @ rest)  # once more, for what rounding left
            if np.linalg.norm(rest) > 1e-6 * np.linalg.norm(column):
                columns[name] = column
                basis = np.column_stack([basis, rest / np.linalg.norm(rest)])
            elif name in _ALIKE:
                self.left_out.append(_ALIKE[name])
            elif name.startswith(CROP):
                self.left_out.append(
                    f"{name.capitalize()} cannot be told from site-seasons, so it is taken as of older trees."
                )
        return pd.DataFrame(columns)
