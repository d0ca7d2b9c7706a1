"""Which set of cultivars fills the selling season of one buyer or of several, why each is in it, and what would help where none does.

Everything is counted by the cover's own rule over its own draws, so a proposal and the page never disagree.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np
import pandas as pd

from dashboard.answers.catalogue import Basis, Catalogue, windows_at
from dashboard.answers.planting import Pool, could_be_planted, merits, takes
from dashboard.market import Market
from dashboard.records.names import nearest
from dashboard.ripening import day_label
from dashboard.ripening.cover import CERTAINTIES, CERTAINTY, Cover, draws
from dashboard.ripening.fewest import Fewest, fewest
from dashboard.ripening.filling import (
    Filling,
    Quota,
    filled,
    fruit_days,
    needed_seasons,
    reached_without,
)
from dashboard.ripening.seen import stretches

REMEMBERED = 64
LONGEST = 365  # days of a selling season
Spans = tuple[tuple[float, float], ...]
ANYONE, EVERYWHERE = Pool(), Basis()


@dataclass(frozen=True)
class ClassShare:
    """Of the set, at least and at most so much (0 to 1) has one of ``words`` in the class ``field``."""

    field: str
    words: tuple[str, ...]
    least: float = 0.0
    most: float = 1.0


@dataclass(frozen=True)
class Wanted:
    """What a plan is asked for. Each of ``markets`` (None: any fruit) is to have fruit it takes from day ``first`` to ``last``, at
    least ``least`` cultivars at once in ``certainty`` seasons of ten, out of at most ``most`` cultivars (None: as few as do)."""

    catalogue: Catalogue
    markets: tuple[Market | None, ...]
    first: float
    last: float
    pool: Pool = ANYONE
    basis: Basis = EVERYWHERE
    year: str = "ordinary"
    least: int = 1
    certainty: int = CERTAINTY
    most: int | None = None
    shares: tuple[ClassShare, ...] = ()

    @property
    def span(self) -> tuple[float, float]:
        return float(self.first), float(self.last)

    @property
    def candidates(self) -> tuple[str, ...]:
        return could_be_planted(self.catalogue, self.markets, self.basis, self.pool)

    @property
    def merits(self) -> pd.DataFrame:
        return merits(self.catalogue, self.markets, self.basis)

    def cover(self, names: tuple[str, ...], market: int = 0) -> Cover:
        """As the page tells it: what this market takes of ``names``."""
        ripe = self.catalogue.ripening
        taken = takes(self.catalogue, self.markets, self.basis, self.pool.may)[market]
        inside = tuple(name for name in names if taken.get(name, False))
        found = draws(ripe, ripe.known_site(self.basis.site), self.year)
        return Cover(found, inside, self.span, self.least, self.certainty)


@dataclass(frozen=True, eq=False)
class Pick:
    """A cultivar of a plan. ``serves`` and what follows by market: the days that would be in a ``gap`` without it, and ``adds``, how many more
    days of a season would lie bare; ``merits`` as ``planting.merits``; ``window`` (first, last) day it is to be expected."""

    name: str
    serves: tuple[bool, ...]
    gaps: tuple[Spans, ...]
    adds: tuple[float, ...]
    merits: pd.Series
    window: tuple[float, float]
    kept: bool


@dataclass(frozen=True, eq=False)
class Plan:
    """A proposal, in order of picking. ``impossible``: days, by market, that all ``candidates`` together do not cover; ``lacking`` how
    many members the shares still lack. ``refused``: why there is none, one sentence; "" where there is."""

    asked: Wanted
    picks: tuple[Pick, ...] = ()
    impossible: tuple[Spans, ...] = ()
    lacking: int = 0
    candidates: int = 0
    refused: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(pick.name for pick in self.picks)

    @cached_property
    def covers(self) -> tuple[Cover, ...]:
        return () if self.refused else tuple(
            self.asked.cover(self.names, at) for at in range(len(self.asked.markets))
        )  # fmt: skip

    @property
    def bare(self) -> tuple[Spans, ...]:
        """Days left uncovered, by market."""
        return tuple(tuple((gap.first, gap.last) for gap in cover.gaps) for cover in self.covers)

    @property
    def bare_days(self) -> int:
        return sum(days_in(spans) for spans in self.bare)

    @property
    def whole(self) -> bool:
        """Every day of every market is covered, and the shares are kept."""
        return not (self.refused or self.bare_days or self.lacking)


@dataclass(frozen=True, eq=False)
class Easing:
    """What is eased, ``by`` how much, and the plan it gives: one "more", "later" start or "earlier" end (days), less "certainty" (1 season in
    10), "may" qualify, "not offered", "fewer seasons" of evidence."""

    what: str
    by: int
    plan: Plan

    @property
    def forgone(self) -> int:
        """Days without fruit: those still bare, and those no longer asked for."""
        return self.plan.bare_days + (self.by if self.what in ("later", "earlier") else 0)


@lru_cache(maxsize=REMEMBERED)
def plan(asked: Wanted) -> Plan:
    """The proposal: fewest cultivars that cover every day that can be, or with ``most`` the most days; of equals the most welcome."""
    if why := refusal(asked):
        return Plan(asked, refused=why)
    task, names = filling(asked), asked.candidates
    chosen = _chosen(asked)
    without = _gaps_without(asked, task, chosen)
    covers = [asked.cover(tuple(names[at] for at in chosen), market) for market in range(len(asked.markets))]
    losses = [cover.losses for cover in covers]
    windows = windows_at(asked.catalogue, asked.basis.site, asked.year).loc[list(names)]
    told = asked.merits.loc[list(names)]
    taken = takes(asked.catalogue, asked.markets, asked.basis, asked.pool.may)
    picks = tuple(
        Pick(
            names[at],
            tuple(bool(taken.loc[names[at], market]) for market in range(len(asked.markets))),
            without[place],
            tuple(float(lost.get(names[at], 0.0)) for lost in losses),
            told.iloc[at],
            (float(windows["first"].iloc[at]), float(windows["last"].iloc[at])),
            names[at] in asked.pool.kept,
        )
        for place, at in enumerate(chosen)
    )
    return Plan(asked, picks, by_market(asked, ~task.possible), task.standing(chosen)[1], len(names))


def bound(asked: Wanted, seconds: float = 0.0) -> Fewest:
    """How few there could be at the least for the days that can be covered, ``most`` aside; ``refusal`` is empty."""
    return fewest(filling(asked), seconds)


@lru_cache(maxsize=REMEMBERED)
def easings(asked: Wanted) -> tuple[Easing, ...]:
    """What would leave fewer days bare, each planned anew, the one with fewest days forgone first, of equals the one with fewest
    cultivars; () where nothing lies bare."""
    now = plan(asked)
    if now.refused or now.whole:
        return ()
    pool, (first, last) = asked.pool, asked.span
    tried = []
    if asked.most is not None:
        tried.append(("more", 1, replace(asked, most=asked.most + 1)))
    starts = [end for spans in now.bare for start, end in spans if start == first]
    ends = [start for spans in now.bare for start, end in spans if end == last]
    if starts:
        tried.append(("later", int(max(starts) - first + 1), replace(asked, first=max(starts) + 1)))
    if ends:
        tried.append(("earlier", int(last - min(ends) + 1), replace(asked, last=min(ends) - 1)))
    if asked.certainty > min(CERTAINTIES):
        tried.append(("certainty", 1, replace(asked, certainty=asked.certainty - 1)))
    if not pool.may:
        tried.append(("may", 1, replace(asked, pool=pool._replace(may=True))))
    if pool.offered:
        tried.append(("not offered", 1, replace(asked, pool=pool._replace(offered=False))))
    if pool.filters.seasons > 1:
        fewer = pool._replace(filters=pool.filters._replace(seasons=1))
        tried.append(("fewer seasons", pool.filters.seasons - 1, replace(asked, pool=fewer)))
    found = [Easing(what, by, plan(one)) for what, by, one in tried if one.first <= one.last]
    helps = [
        one for one in found
        if not one.plan.refused and (one.plan.lacking, one.plan.bare_days) < (now.lacking, now.bare_days)
    ]  # fmt: skip
    return tuple(sorted(helps, key=lambda one: (one.plan.lacking, one.forgone, len(one.plan.picks))))


def refusal(asked: Wanted) -> str:
    """Why nothing can be planned, in one sentence; "" where something can."""
    south, known = asked.catalogue.south, asked.catalogue.cultivars.index
    if asked.catalogue.ripening.refused:
        return asked.catalogue.ripening.refused
    if not asked.markets:
        return "No market is named; a plan is made for one at least."
    if not (np.isfinite(asked.first) and np.isfinite(asked.last)):
        return "The first or the last selling day is not known."
    if asked.last < asked.first:
        ends = day_label(asked.last, south), day_label(asked.first, south)
        return f"The last selling day, {ends[0]}, comes before the first, {ends[1]}."
    if asked.last - asked.first >= LONGEST:
        return f"{asked.last - asked.first + 1:.0f} selling days: there are {LONGEST} in a year at most."
    for name in (*asked.pool.kept, *asked.pool.barred):
        if name not in known:
            close = nearest(name, known)
            hint = f"did you mean {close}?" if close else "see the names in the sheet cultivars."
            return f"No cultivar is called {name[:60]!r}; {hint}"
    if both := set(asked.pool.kept) & set(asked.pool.barred):
        return f"{min(both)} is both to be kept and never to be taken; name it in one place."
    if asked.most is not None and asked.most < max(1, len(asked.pool.kept)):
        return f"At most {asked.most}: there have to be {max(1, len(asked.pool.kept))} at least, for those to be kept."
    if not asked.candidates:
        called = " or ".join(market.name if market else "any market" for market in asked.markets)
        return f"No cultivar that passes the filters qualifies for {called}, or may, so there is nothing to plan with."
    return ""


@lru_cache(maxsize=16)
def filling(asked: Wanted) -> Filling:
    """The task in numbers: candidates in their order, days of the first market, then those of the next."""
    names, catalogue = asked.candidates, asked.catalogue
    taken = takes(catalogue, asked.markets, asked.basis, asked.pool.may).loc[list(names)].to_numpy()
    days = _fruit(catalogue, names, asked.basis.site, asked.year, asked.span)
    fruit = np.concatenate([days * inside[:, None, None].astype(np.uint64) for inside in taken.T], axis=1)
    seasons = len(
        draws(catalogue.ripening, catalogue.ripening.known_site(asked.basis.site), asked.year).first
    )
    return Filling(
        fruit, seasons, np.full(fruit.shape[1], needed_seasons(asked.certainty, seasons)), asked.least,
        asked.merits["worth"].loc[list(names)].to_numpy(),
        kept=tuple(names.index(name) for name in asked.pool.kept if name in names),
        quotas=tuple(quota for share in asked.shares for quota in _quotas(catalogue, names, share)),
        most=asked.most,
    )  # fmt: skip


def by_market(asked: Wanted, marked: np.ndarray) -> tuple[Spans, ...]:
    """Runs of ``marked`` (days of all markets) as first and last days, by market."""
    return tuple(
        tuple((asked.first + start, asked.first + end - 1) for start, end in stretches(one))
        for one in np.split(marked, len(asked.markets))
    )


def days_in(spans: Spans) -> int:
    return int(sum(last - first + 1 for first, last in spans))


def _gaps_without(asked: Wanted, task: Filling, chosen: tuple[int, ...]) -> list[tuple[Spans, ...]]:
    """Of each of the chosen, the days, by market, that are covered and would not be without it."""
    have, without = reached_without(task, chosen)
    lost = (have >= task.needed) & (without < task.needed)
    return [by_market(asked, one) for one in lost]


@lru_cache(maxsize=REMEMBERED)
def _chosen(asked: Wanted) -> tuple[int, ...]:
    """What is chosen at more certainty is tried too, so that less of it never takes more cultivars."""
    surer = replace(asked, certainty=asked.certainty + 1)
    tried = surer.certainty in CERTAINTIES and filling(surer).possible.all()
    return filled(filling(asked), *([_chosen(surer)] if tried else []))


@lru_cache(maxsize=8)
def _fruit(
    catalogue: Catalogue, names: tuple[str, ...], site: str, year: str, span: tuple[float, float]
) -> np.ndarray:
    ripe = catalogue.ripening
    return fruit_days(draws(ripe, ripe.known_site(site), year), names, span)


def _quotas(catalogue: Catalogue, names: tuple[str, ...], share: ClassShare) -> list[Quota]:
    inside = catalogue.cultivars[share.field].astype(str).loc[list(names)].isin(share.words).to_numpy()
    told = [Quota(tuple(inside.tolist()), share.least)] if share.least > 0 else []
    return told + ([Quota(tuple((~inside).tolist()), 1 - share.most)] if share.most < 1 else [])
