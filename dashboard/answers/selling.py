"""What a plan is asked for: whose fruit, from which selling day to which, how surely, out of whom; and the same in numbers."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import pandas as pd

from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.planting import Pool, could_be_planted, merits, takes
from dashboard.market import Market
from dashboard.records.names import nearest
from dashboard.ripening import day_label
from dashboard.ripening.cover import CERTAINTY, Cover, draws
from dashboard.ripening.filling import Filling, Quota, fruit_days, needed_seasons
from dashboard.ripening.seen import stretches

LONGEST = 365  # days of a selling season
BACKWARDS = "The last selling day, {last}, comes before the first, {first}."
SOME = 0.001  # a share that one cultivar of any set keeps
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
    season_kind: str = "ordinary"
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
        found = draws(ripe, ripe.known_site(self.basis.site), self.season_kind)
        return Cover(found, inside, self.span, self.least, self.certainty)


def share_of(key: str) -> tuple[ClassShare, ...]:
    """The share of a slate that a key of ``choices.SHARES`` asks for; () for none."""
    if not key:
        return ()
    field, word, parts = key.rsplit(" ", 2)
    return (ClassShare(field, (word,), 1 / int(parts)),)


def backwards(first: float, last: float, south: bool) -> str:
    """What is wrong with selling days whose last comes before the first, one sentence; "" where it does not."""
    told = {"first": day_label(first, south), "last": day_label(last, south)}
    return BACKWARDS.format(**told) if last < first else ""


def some_of_each(asked: Wanted, field: str, words: tuple[str, ...]) -> tuple[ClassShare, ...]:
    """Who ticks several ``words`` of a class wants at least one cultivar of each that there is a candidate of; () for fewer."""
    there = set(asked.catalogue.cultivars[field].astype(str).loc[list(asked.candidates)])
    each = [word for word in words if word in there]
    return tuple(ClassShare(field, (word,), SOME) for word in each) if len(each) > 1 else ()


def refusal(asked: Wanted) -> str:
    """Why nothing can be planned, in one sentence; "" where something can."""
    south, known = asked.catalogue.south, asked.catalogue.cultivars.index
    if asked.catalogue.ripening.refused:
        return asked.catalogue.ripening.refused
    if not asked.markets:
        return "No market is named; a plan is made for one at least."
    if not (np.isfinite(asked.first) and np.isfinite(asked.last)):
        return "The first or the last selling day is not known."
    if why := backwards(asked.first, asked.last, south):
        return why
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
        sold = " and that a nursery offers now" if asked.pool.offered else ""
        return f"No cultivar that passes the filters{sold} qualifies for {called}, or may, so there is nothing to plan with."
    return ""


@lru_cache(maxsize=16)
def filling(asked: Wanted) -> Filling:
    """The task in numbers: candidates in their order, days of the first market, then those of the next."""
    names, catalogue = asked.candidates, asked.catalogue
    taken = takes(catalogue, asked.markets, asked.basis, asked.pool.may).loc[list(names)].to_numpy()
    days = _fruit(catalogue, names, asked.basis.site, asked.season_kind, asked.span)
    fruit = np.concatenate([days * inside[:, None, None].astype(np.uint64) for inside in taken.T], axis=1)
    seasons = len(
        draws(catalogue.ripening, catalogue.ripening.known_site(asked.basis.site), asked.season_kind).first
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


@lru_cache(maxsize=8)
def _fruit(
    catalogue: Catalogue, names: tuple[str, ...], site: str, season_kind: str, span: tuple[float, float]
) -> np.ndarray:
    ripe = catalogue.ripening
    return fruit_days(draws(ripe, ripe.known_site(site), season_kind), names, span)


def _quotas(catalogue: Catalogue, names: tuple[str, ...], share: ClassShare) -> list[Quota]:
    inside = catalogue.cultivars[share.field].astype(str).loc[list(names)].isin(share.words).to_numpy()
    told = [Quota(tuple(inside.tolist()), share.least)] if share.least > 0 else []
    return told + ([Quota(tuple((~inside).tolist()), 1 - share.most)] if share.most < 1 else [])
