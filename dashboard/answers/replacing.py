"""What a list has too much of and too little: who closes days that lie bare, who cannot be taken off without a gap, who can.

The list is anybody's, of a plan or a shortlist. Days and cover are those of ``selling.Wanted``, by the page's own rule.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
import pandas as pd

from dashboard.answers.planning import REMEMBERED
from dashboard.answers.selling import Spans, Wanted, filling
from dashboard.ripening.cover import Gap
from dashboard.ripening.exchanging import filled
from dashboard.ripening.filling import Filling

EXCHANGES = 20  # at most one more of 139 could go at once with twelve times as many; a list is short, and its owner waits

A_DAY = 1.0  # more days of a season without fruit that are felt: a choice of ours


@dataclass(frozen=True)
class Droppable:
    """Who of a list could be dropped without a new gap: each of ``alone`` by itself, all of ``together`` at once."""

    alone: tuple[str, ...]
    together: tuple[str, ...]


@lru_cache(maxsize=REMEMBERED)
def closers(
    asked: Wanted, names: tuple[str, ...], days: tuple[float, float], market: int = 0
) -> pd.DataFrame:
    """Candidates not in the list that give fruit on bare days from the first to the last of ``days``, for one of the markets.

    closes: days that are covered with it and not without; adds: days of a season on which enough are picked with it and not
    without (days already covered left out); chance: that of the worst of the days, with it; both: that it qualifies for that market and is
    picked on a day of them, on average (fruit and dates are estimated apart, so the chances multiply); then ``planting.merits``. The one
    order of who helps: days closed times the chance to qualify, then days added times it, then most welcome.
    """
    candidates = tuple(name for name in asked.candidates if name not in names)
    task, places = _with(asked, (*names, *candidates))
    length = len(task.needed) // len(asked.markets)
    span = np.arange(length)
    inside = (span + asked.first >= days[0]) & (span + asked.first <= days[1])
    at = np.flatnonzero(inside) + market * length
    found = task.layers(places[: len(names)])[:, at]
    have = np.bitwise_count(found[-1]).sum(axis=1, dtype=np.int64)
    fruit = task.fruit[np.array(places[len(names) :], dtype=int)][:, at]
    with_it = found[-1] | (fruit if task.least == 1 else fruit & found[-2])
    count = np.bitwise_count(with_it).sum(axis=2, dtype=np.int64)
    bare = have < task.needed[at]
    frame = pd.DataFrame(
        {
            "closes": (bare & (count >= task.needed[at])).sum(axis=1),
            "adds": ((count - have) * bare).sum(axis=1) / task.seasons,
            "chance": count.min(axis=1, initial=task.seasons) / task.seasons,
            "picked": np.bitwise_count(fruit).sum(axis=2, dtype=np.int64).mean(axis=1) / task.seasons,
        },
        index=pd.Index(candidates, dtype="str", name="cultivar"),
    ).join(asked.merits)
    frame["both"] = frame.pop("picked") * frame[f"clears {market}"]
    likely = frame[f"clears {market}"].fillna(1.0)  # without a chance the averages decide: in full
    order = pd.DataFrame(
        {"closes": frame["closes"] * likely, "adds": frame["adds"] * likely, "worth": frame["worth"]}
    )
    return frame.loc[order[frame["adds"] > 0].sort_values([*order], ascending=False, kind="stable").index]


@lru_cache(maxsize=REMEMBERED)
def each_closed(
    asked: Wanted, names: tuple[str, ...], gaps: tuple[Gap, ...]
) -> tuple[tuple[Gap, pd.DataFrame], ...]:
    """Each gap of the first market with its ``closers``."""
    return tuple((gap, closers(asked, names, (gap.first, gap.last))) for gap in gaps)


@lru_cache(maxsize=REMEMBERED)
def needed(asked: Wanted, names: tuple[str, ...]) -> dict[str, tuple[Spans, ...]]:
    """By name the days, by market, that are covered by the list and would not be without it; none for one that nothing needs."""
    covers = [asked.cover(names, market) for market in range(len(asked.markets))]
    return {name: tuple(cover.left_bare(name) for cover in covers) for name in names}


@lru_cache(maxsize=REMEMBERED)
def droppable(asked: Wanted, names: tuple[str, ...]) -> Droppable:
    """Those of the list whose days others of it cover: one at a time, and as many at once as are found. Not who gives a gap most of what fruit it
    has: the days of that lie in a gap already, and would be barer by a day of a season or more."""
    missed = _missed_in_gaps(asked, names)
    alone = tuple(name for name, days in needed(asked, names).items() if not any(days) and name not in missed)
    if not alone:
        return Droppable((), ())
    task, places = _with(_of_these(asked, names), names)
    covered = task.covered(places)
    kept = tuple(at for at, name in zip(places, names, strict=True) if name not in alone)
    whole = replace(task, needed=np.where(covered, task.needed, 0), kept=kept, quotas=(), most=None)
    left = set(filled(whole, exchanges=EXCHANGES))
    return Droppable(alone, tuple(name for at, name in zip(places, names, strict=True) if at not in left))


def _missed_in_gaps(asked: Wanted, names: tuple[str, ...]) -> set[str]:
    """Without whom ``A_DAY`` more of the days that lie in gaps would have no fruit in a season."""
    missed = set()
    for market in range(len(asked.markets)):
        cover = asked.cover(names, market)
        bare = (cover.counts == cover.least) & (cover.chance < cover.wanted)
        lost = cover.picked_on(cover.names, bare)
        missed |= set(lost.index[lost >= A_DAY])
    return missed


def _of_these(asked: Wanted, names: tuple[str, ...]) -> Wanted:
    """The same asked of ``names`` alone: what is taken off a list is made up for by nobody else, and few are counted fast."""
    others = tuple(name for name in asked.candidates if name not in set(names))
    return replace(asked, pool=asked.pool._replace(barred=(*asked.pool.barred, *others)))


def _with(asked: Wanted, names: tuple[str, ...]) -> tuple[Filling, list[int]]:
    """The task with all ``names`` among its candidates, and their places there; what no market takes covers nothing."""
    pool = asked.pool
    kept = tuple(dict.fromkeys((*pool.kept, *(name for name in names if name not in asked.candidates))))
    barred = tuple(name for name in pool.barred if name not in names)
    wider = replace(asked, pool=pool._replace(kept=kept, barred=barred), most=None)
    order = {name: at for at, name in enumerate(wider.candidates)}
    return filling(wider), [order[name] for name in names]
