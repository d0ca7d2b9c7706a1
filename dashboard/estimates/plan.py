"""What these records can tell about one trait: which parts of the model they carry, and why not the others.

The whole model of a sample p of cultivar i at site j in season k, the mean of n fruit, is

    y = mean + pick + c_i + (cs)_ij + (cy)_ik + (csy)_ijk + e_jk + s_ijkp + fruit / n

A part that the records cannot tell from another one is left out and lies inside that other one from then on, which
changes what the estimate means; both are said. Degrees of freedom of a part are the rank it adds to the parts before
it, cultivar by cultivar, less what the site-seasons take up.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from scipy import sparse
from scipy.sparse import csgraph

from dashboard.estimates.readings import Readings
from dashboard.terms.traits import trait_called

CULTIVAR, BY_SITE, BY_SEASON = "cultivar", "cultivar:site", "cultivar:season"
BY_BOTH, ENVIRONMENT = "cultivar:site:season", "site:season"
SAMPLE, RESIDUAL = "sample", "residual"
INTERACTIONS = (BY_SITE, BY_SEASON, BY_BOTH)

RANDOM_FROM = 6  # site-seasons from which on they are drawn from a population rather than listed
FIRST_CROPS = (1, 2, 3)  # of a tree; later ones are taken as alike
CROP_FROM = 10  # samples from which on a first crop is told apart
COHORT_FROM = 5  # seasons of entry from which on a trend over them can be told
WEAK = 10  # degrees of freedom under which a spread is only roughly known
FEW_CULTIVARS = 20


@dataclass(frozen=True)
class Plan:
    """``kept`` parts in order; ``dropped`` and ``weak`` give a plain sentence a part. ``refused`` says why there is no model."""

    meaning: str  # what an estimate stands for: "over sites and seasons", …
    kept: tuple[str, ...] = ()
    dropped: dict[str, str] = field(default_factory=dict)
    weak: dict[str, str] = field(default_factory=dict)
    freedom: dict[str, int] = field(default_factory=dict)
    environment: str = "none"  # "random", "fixed" or "none"
    sampled: bool = False  # the spread among the fruit of a sample is told apart from that among samples
    cohort: bool = False
    pick: bool = False
    crops: tuple[int, ...] = ()  # of young trees, each set apart from those of grown ones
    components: int = 1  # groups of cultivars without any site-season between them
    notes: tuple[str, ...] = ()
    refused: str = ""

    @property
    def one_season(self) -> bool:
        """Whether nothing separates a cultivar from its luck of one season."""
        return BY_SEASON not in self.kept

    @property
    def sentences(self) -> tuple[str, ...]:
        return (*filter(None, [self.refused]), *self.dropped.values(), *self.weak.values(), *self.notes)


def plan(read: Readings, checks: frozenset[str] = frozenset(), firmness: bool = False) -> Plan:
    """The plan for the readings of one trait; ``firmness``: values are wanted at the same firmness at picking."""
    meaning, label = _meaning(read), trait_called(read.trait).label.lower()
    seen = len(np.unique(read.cultivar))
    if refused := _refusal(read, seen, label):
        return Plan(meaning, notes=read.aside, refused=refused)
    freedom = _freedom(read)
    dropped = _dropped(read, freedom)
    kept = (CULTIVAR, *(part for part in INTERACTIONS if part not in dropped))
    weak = {
        part: f"{WORDS[part][0].upper()}{WORDS[part][1:]} rests on {freedom[part]} degrees of freedom and is only roughly known."
        for part in (*kept, SAMPLE)
        if part in freedom and 1 <= freedom[part] < WEAK
    }
    site_seasons = len(np.unique(read.environment))
    environment = "none" if site_seasons < 2 else "random" if site_seasons >= RANDOM_FROM else "fixed"
    sampled, how = _sampled(read)
    cohort, why = _cohort(read, checks)
    notes = [*read.aside, *how, *why]
    pick = np.nanmax(read.pick, initial=-np.inf) > np.nanmin(read.pick, initial=np.inf)
    if not pick:
        notes.append(
            "The number of the pick does not vary or was not written down, so picks are taken as alike."
        )
    elif missing := int(np.isnan(read.pick).sum()):
        notes.append(f"{missing} samples without the number of their pick are taken as of the usual one.")
    crops, young = _crops(read)
    notes += young
    components = int(connected(read).max()) + 1
    if components > 1:
        notes.append(
            f"The cultivars fall into {components} groups that never shared a site in a season, not even through others. "
            "Nothing is compared between the groups."
        )
    if seen < FEW_CULTIVARS:
        notes.append(f"Only {seen} cultivars, so what is usual is known roughly and the model helps little.")
    if firmness:
        notes.append("Values are at the same firmness at picking, the usual one of these records.")
    return Plan(
        meaning, kept, dropped, weak, freedom, environment, sampled, cohort, bool(pick), crops, components, tuple(notes)
    )  # fmt: skip


def connected(read: Readings) -> np.ndarray:
    """(cultivars,) the group each belongs to through shared site-seasons, the largest first; -1 without readings."""
    count, environment = len(read.cultivars), read.environment
    if not len(read):
        return np.full(count, -1)
    width = int(environment.max()) + 1
    links = sparse.coo_array(
        (np.ones(len(read)), (read.cultivar, count + environment)), shape=(count + width, count + width)
    )
    _, group = csgraph.connected_components(links, directed=False)
    found = np.where(np.bincount(read.cultivar, minlength=count) > 0, group[:count], -1)
    order = np.argsort(-np.bincount(found[found >= 0], minlength=group.max() + 1), kind="stable")
    rank = np.empty_like(order)
    rank[order] = np.arange(len(order))
    return np.where(found >= 0, rank[np.maximum(found, 0)], -1)


WORDS = {
    CULTIVAR: "how much cultivars differ",
    BY_SITE: "how differently cultivars do from site to site",
    BY_SEASON: "how differently cultivars do from season to season",
    BY_BOTH: "how differently cultivars do in one site-season",
    SAMPLE: "how much samples of one cultivar in one site-season differ",
}


def _meaning(read: Readings) -> str:
    sites, seasons = np.unique(read.site), np.unique(read.season)
    if not len(read):
        return "nothing was measured"
    site, season = read.sites[sites[0]], read.seasons[seasons[0]]
    if len(sites) > 1 and len(seasons) > 1:
        return "over sites and seasons"
    if len(seasons) > 1:
        return f"at {site}, over its seasons"
    return f"over sites, in {season} only" if len(sites) > 1 else f"at {site} in {season} only"


def _refusal(read: Readings, seen: int, label: str) -> str:
    if not len(read):
        return f"There is no reading of {label}."
    if len(read) == 1:
        return f"There is one sample with a reading of {label}; nothing can be judged by one."
    if seen == 1:
        return f"Only {read.cultivars[read.cultivar[0]]} has a reading of {label}; there is nothing to set it against."
    if np.ptp(read.y) == 0:
        return f"Every sample has the same reading of {label}, {read.y[0]:.4g}; there is no variation to share out."
    if len(read) == seen:
        return f"Each cultivar has one sample with a reading of {label}, so cultivars cannot be told from samples."
    if np.ptp(read.y) <= 1e-9 * np.abs(read.y).max():
        return f"The samples differ by nothing but rounding in {label}; there is no variation to share out."
    return ""


def _freedom(read: Readings) -> dict[str, int]:
    """Degrees of freedom of each part, in the order of the model."""

    cultivars, sites, seasons = (_kinds(code) for code in (read.cultivar, read.site, read.season))
    by_site, by_season = _kinds(read.cultivar, read.site), _kinds(read.cultivar, read.season)
    cells, environments = _kinds(read.cultivar, read.site, read.season), _kinds(read.environment)
    # Sites and seasons of a cultivar are linked where it stood; each unlinked group costs one degree.
    count = len(read.cultivars) * (len(read.sites) + len(read.seasons))
    spot = read.cultivar * len(read.sites) + read.site
    time = len(read.cultivars) * len(read.sites) + read.cultivar * len(read.seasons) + read.season
    links = sparse.coo_array((np.ones(len(read)), (spot, time)), shape=(count, count))
    groups = csgraph.connected_components(links, directed=False)[1]
    linked = len(np.unique(groups[spot]))
    taken = {
        BY_SITE: sites - 1,
        BY_SEASON: seasons - 1,
        BY_BOTH: max(environments - sites - seasons + 1, 0),
    }
    own = {
        BY_SITE: by_site - cultivars,
        BY_SEASON: by_season - linked,
        BY_BOTH: cells - by_site - by_season + linked,
    }
    found = {part: max(own[part] - taken[part], 0) for part in INTERACTIONS}
    return {CULTIVAR: cultivars - 1, **found, SAMPLE: len(read) - cells}


def _kinds(*codes: np.ndarray) -> int:
    """How many different ones there are, of codes (R,) taken together."""
    whole = np.zeros_like(codes[0])
    for code in codes:
        whole = whole * (int(code.max(initial=0)) + 1) + code
    return len(np.unique(whole))


def _dropped(read: Readings, freedom: dict[str, int]) -> dict[str, str]:
    """Why a part cannot be told, part by part."""
    dropped: dict[str, str] = {}
    if len(np.unique(read.site)) == 1:
        dropped[BY_SITE] = (
            "All samples come from one site: what a cultivar owes to that site is within its value."
        )
    elif freedom[BY_SITE] < 1:
        dropped[BY_SITE] = (
            "No cultivar stood at two sites so that they can be compared: what it owes to its site is within its value."
        )
    if len(np.unique(read.season)) == 1:
        dropped[BY_SEASON] = (
            "All samples come from one season: what a cultivar owes to that season is within its value."
        )
    elif freedom[BY_SEASON] < 1:
        dropped[BY_SEASON] = (
            "No cultivar was seen in two seasons so that they can be compared: the luck of its season is within its value."
        )
    if BY_SITE in dropped or BY_SEASON in dropped:
        dropped[BY_BOTH] = "One site or one season: no separate part for a cultivar in one site-season."
    elif freedom[BY_BOTH] < 1:
        dropped[BY_BOTH] = (
            "Too few cultivars stood at several sites in several seasons: no part of its own for one site-season."
        )
    elif freedom[SAMPLE] < 1:
        dropped[BY_BOTH] = (
            "One sample a site-season: the luck of a site-season and of its sample cannot be told apart."
        )
    if freedom[SAMPLE] < 1:  # then samples stand for the finest part that is left
        for part, of in ((BY_SITE, read.site), (BY_SEASON, read.season)):
            if part not in dropped and _kinds(read.cultivar, of) == len(read):
                dropped[part] = f"One sample each: {WORDS[part]} cannot be told from the samples."
    return dropped


def _sampled(read: Readings) -> tuple[bool, list[str]]:
    """Whether fruit are told apart from samples, and what to say if not."""
    if not trait_called(read.trait).on_fruit:
        return False, []
    if not (read.n > 1).any():
        return False, ["Samples of one fruit: the spread among fruit cannot be told from that among samples."]
    if (read.n < 1).any() or np.isnan(read.ss).any():
        return False, [
            "The spread of the fruit within samples is not known for all of them, so samples count alike."
        ]
    if not read.ss.sum() > 1e-12 * len(read) * np.square(read.y).max():
        return False, ["The fruit of a sample are all alike, so samples count alike."]
    return True, []


def _cohort(read: Readings, checks: frozenset[str]) -> tuple[bool, list[str]]:
    years = entry_seasons(read)
    is_check = read.cultivars.isin(list(checks))
    seasons = len(np.unique(years[~is_check & (years >= 0)]))
    if seasons >= COHORT_FROM:
        return True, []
    return False, [
        f"Cultivars entered in {seasons} {'season' if seasons == 1 else 'seasons'}; a trend from older to newer ones is looked for from {COHORT_FROM} on."
    ]


def _crops(read: Readings) -> tuple[tuple[int, ...], list[str]]:
    """The first crops that are told apart from later ones, and what to say of them."""
    crop = np.where(np.isnan(read.crop), np.inf, read.crop)
    oldest = np.full(int(read.environment.max()) + 1, -np.inf)
    np.maximum.at(oldest, read.environment, crop)
    beside = oldest[read.environment] > crop  # an older crop stood in the same site-season
    seen = [one for one in FIRST_CROPS if (beside & (crop == one)).sum() >= CROP_FROM]
    if not seen:
        if (crop == min(FIRST_CROPS)).sum() < CROP_FROM:
            return (), []
        return (), ["First crops never stood beside older ones, so trees of all ages are taken as alike."]
    told = [
        f"Crops of young trees are told apart: crop {', '.join(map(str, seen))}. Values are of older ones."
    ]
    if missing := int(np.isnan(read.crop).sum()):
        told.append(
            f"{missing} samples of trees that were planted in no known year are taken as of older ones."
        )
    return tuple(seen), told


def entry_seasons(read: Readings) -> np.ndarray:
    """(cultivars,) code of the first season each was judged in; -1 without readings."""
    first = np.full(len(read.cultivars), len(read.seasons))
    np.minimum.at(first, read.cultivar, read.season)
    return np.where(first < len(read.seasons), first, -1)
