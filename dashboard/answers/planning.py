"""Which set of cultivars fills the selling season of one buyer or of several, why each is in it, and what would help where none does.

Everything is counted by the cover's own rule over its own draws, so a proposal and the page never disagree.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import pandas as pd

from dashboard.answers.catalogue import windows_at
from dashboard.answers.planting import takes
from dashboard.answers.selling import Spans, Wanted, by_market, days_in, filling, refusal
from dashboard.market.verdict import SURE
from dashboard.ripening.cover import CERTAINTIES, Cover
from dashboard.ripening.exchanging import filled, likelier
from dashboard.ripening.fewest import Fewest, fewest
from dashboard.ripening.filling import greedy

REMEMBERED = 64
ENOUGH, SHORT = 2, 30  # ways to ask for less that are planned, and exchanges by which they are picked
SHORTER = ("later", "earlier")  # ways that ask for fewer days
NEAR = 1.17  # of a most: the greedy set that needs none is so much larger at the most where exchanges may still bring it within


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
        return self.plan.bare_days + (self.by if self.what in SHORTER else 0)


@lru_cache(maxsize=REMEMBERED)
def plan(asked: Wanted) -> Plan:
    """The proposal: fewest cultivars that cover every day that can be, or with ``most`` the most days; of equals one with few that only may qualify, and the most welcome."""
    if why := refusal(asked):
        return Plan(asked, refused=why)
    return _planned(asked, _chosen(asked))


def smallest(asked: Wanted, seconds: float) -> tuple[Plan, Fewest]:
    """The plan, and how few there could be as far as ``seconds`` tell; a smaller plan, where the proof meets with one. ``refusal`` is empty."""
    now, told = plan(asked), bound(asked, seconds)
    if asked.most is None and 0 < len(told.chosen) < len(now.picks):
        now = _planned(asked, filled(filling(asked), told.chosen, exchanges=0))
    return now, told


def _planned(asked: Wanted, chosen: tuple[int, ...]) -> Plan:
    task, names = filling(asked), asked.candidates
    odds = (
        asked.merits["clears"].loc[list(names)].fillna(1.0).to_numpy()
    )  # without a chance the averages decide
    chosen = likelier(task, chosen, odds, SURE)
    covers = [asked.cover(tuple(names[at] for at in chosen), market) for market in range(len(asked.markets))]
    losses = [cover.losses for cover in covers]
    windows = windows_at(asked.catalogue, asked.basis.site, asked.season_kind).loc[list(names)]
    told = asked.merits.loc[list(names)]
    taken = takes(asked.catalogue, asked.markets, asked.basis, asked.pool.may)
    picks = [
        Pick(
            names[at],
            tuple(bool(taken.loc[names[at], market]) for market in range(len(asked.markets))),
            tuple(cover.left_bare(names[at]) for cover in covers),
            tuple(float(lost.get(names[at], 0.0)) for lost in losses),
            told.iloc[at],
            (float(windows["first"].iloc[at]), float(windows["last"].iloc[at])),
            names[at] in asked.pool.kept,
        )
        for at in chosen
    ]
    picks.sort(
        key=lambda pick: sum(pick.window)
    )  # the task's own days are those of one buyer after the other's
    return Plan(asked, tuple(picks), by_market(asked, ~task.possible), task.standing(chosen)[1], len(names))


def with_unoffered(asked: Wanted) -> Plan | None:
    """The proposal of the same, were what no nursery offers let in; None where it was."""
    pool = asked.pool._replace(offered=False)
    return plan(replace(asked, pool=pool)) if asked.pool.offered and not pool.filters.nursery else None


def bound(asked: Wanted, seconds: float = 0.0) -> Fewest:
    """How few there could be at the least for the days that can be covered, ``most`` aside; ``refusal`` is empty. No longer than ``seconds``, the relaxation
    aside."""
    return fewest(filling(asked), seconds, _chosen(asked) if asked.most is None else ())


@lru_cache(maxsize=REMEMBERED)
def easings(asked: Wanted) -> tuple[Easing, ...]:
    """The ``ENOUGH`` that leave fewest days bare of what could be eased, each planned anew, the one with fewest days forgone first, of
    equals the one with fewest cultivars; () where nothing lies bare. Which are planned, a short search from today's plan tells."""
    now = plan(asked)
    if now.refused or now.whole:
        return ()
    may = [(what, by, one) for what, by, one in _eased(now) if one.first <= one.last and not refusal(one)]
    helps: list[Easing] = []
    for what, by, one in sorted(may, key=lambda told: _promise(now, *told)):
        if len(helps) == ENOUGH:
            break
        if (plan(one).lacking, plan(one).bare_days) < (now.lacking, now.bare_days):
            helps.append(Easing(what, by, plan(one)))
    return tuple(sorted(helps, key=lambda one: (one.plan.lacking, one.forgone, len(one.plan.picks))))


def _eased(now: Plan) -> list[tuple[str, int, Wanted]]:
    """What could be eased, by how much, and what would then be asked."""
    asked = now.asked
    pool, (first, last) = asked.pool, asked.span
    tried = []
    if asked.most is not None:
        tried.append(("more", 1, replace(asked, most=asked.most + 1)))
    if asked.certainty > min(CERTAINTIES):
        tried.append(("certainty", 1, replace(asked, certainty=asked.certainty - 1)))
    starts = [end for spans in now.bare for start, end in spans if start == first]
    ends = [start for spans in now.bare for start, end in spans if end == last]
    if starts:
        tried.append(("later", int(max(starts) - first + 1), replace(asked, first=max(starts) + 1)))
    if ends:
        tried.append(("earlier", int(last - min(ends) + 1), replace(asked, last=min(ends) - 1)))
    if not pool.may:
        tried.append(("may", 1, replace(asked, pool=pool._replace(may=True))))
    if pool.offered or pool.filters.nursery:
        anyone = pool._replace(offered=False, filters=replace(pool.filters, nursery=()))
        tried.append(("not offered", 1, replace(asked, pool=anyone)))
    if pool.filters.seasons > 1:
        fewer = pool._replace(filters=replace(pool.filters, seasons=1))
        tried.append(("fewer seasons", pool.filters.seasons - 1, replace(asked, pool=fewer)))
    return tried


def _promise(now: Plan, what: str, by: int, one: Wanted) -> tuple[int, int, int]:
    """The less, the better: members that shares lack, days forgone and cultivars, as a short search from today's plan finds them."""
    task = filling(one)
    start = [one.candidates.index(name) for name in now.names if name in one.candidates]
    bare, lacking, size, _ = task.standing(filled(task, start, exchanges=SHORT if one.most else 0))
    return lacking, bare + int((~task.possible).sum()) + (by if what in SHORTER else 0), size


@lru_cache(maxsize=REMEMBERED)
def _chosen(asked: Wanted) -> tuple[int, ...]:
    """What is chosen at more certainty is tried too, so that less of it never takes more cultivars."""
    if asked.most is not None:
        return _within(asked, asked.most)
    found, surer = _alone(asked), replace(asked, certainty=asked.certainty + 1)
    if surer.certainty in CERTAINTIES and filling(surer).possible.all() and len(_chosen(surer)) < len(found):
        return filled(filling(asked), _chosen(surer))
    return found


def _within(asked: Wanted, most: int) -> tuple[int, ...]:
    """With a most: what is chosen without one where it fits, or else begun from it, if the greedy set is near enough."""
    task, free = filling(asked), replace(asked, most=None)
    if len(greedy(filling(free))) > NEAR * most:
        return filled(task)
    found = _alone(free)
    if len(found) == most + 1:
        found = _chosen(free)
    return found if len(found) <= most else filled(task, found)


@lru_cache(maxsize=REMEMBERED)
def _alone(asked: Wanted) -> tuple[int, ...]:
    return filled(filling(asked))
