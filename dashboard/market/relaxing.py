"""What would open a market: who misses it least, and the one limit whose relaxation lets in most."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import pandas as pd
from scipy.special import ndtri

from dashboard.market.profile import Limit, Market

NEAREST = 5


@dataclass(frozen=True)
class Opening:
    """Without ``limit`` alone, ``lets_in`` more would clear the market. ``bound`` is what would do for ``first``, the nearest
    of them: a class word, or the bound or share that it just reaches; None where it has no reading."""

    limit: Limit
    lets_in: int
    first: str
    bound: float | str | None
    end: str = ""  # which part of the limit the bound is put for: at_least, at_most, share or any_of


def openings(market: Market, fit: pd.DataFrame, among: np.ndarray) -> tuple[Opening, ...]:
    """For each limit that keeps somebody of ``among`` out on its own, what relaxing it would let in; most first.

    ``fit`` as from ``standing.fits``: who of them is out is said by its verdict, what it would take by its averages.
    """
    alone: dict[Limit, list[tuple[str, object]]] = {}
    for name, missed in fit.loc[among & ~fit["taken"].to_numpy(), "missed"].items():
        if len(missed) == 1:
            limit, observed = missed[0]
            alone.setdefault(limit, []).append((str(name), observed))
    found = [_opening(limit, kept_out) for limit, kept_out in alone.items()]
    order = {limit: place for place, limit in enumerate(market.limits)}
    return tuple(sorted(found, key=lambda one: (-one.lets_in, order[one.limit])))


def nearest_misses(
    fit: pd.DataFrame, chance: np.ndarray | None, among: np.ndarray, spread: Mapping[str, float]
) -> list[str]:
    """Who of ``among`` misses the market by least: by the chance that it holds after all, in whole per cent, then by how far it
    falls short, all limits together; those whose class is wrong last.

    ``spread`` is by trait how far cultivars lie apart, so that short in size can be set against short in sugar.
    """
    out = among & ~fit["taken"].to_numpy()
    rows = fit[out]
    wrong = np.array(
        [any(limit.kind == "class" for limit, _ in missed) for missed in rows["missed"]], dtype=bool
    )
    short = np.array(
        [sum(_short(limit, seen, spread) for limit, seen in missed) for missed in rows["missed"]]
    )
    after_all = np.zeros(len(fit)) if chance is None else np.nan_to_num(chance)
    order = np.lexsort((short, -np.floor(100 * after_all[out]), wrong))
    return [str(name) for name in rows.index[order[:NEAREST]]]


def _short(limit: Limit, seen: object, spread: Mapping[str, float]) -> float:
    """By how much a limit is missed: in spreads of the trait, or in shares of fruit on the scale of a normal spread."""
    if not isinstance(seen, int | float):
        return 10.0  # a wrong class or no reading: farther than any figure
    if limit.share is not None:
        wanted, has = ndtri(np.clip([limit.share, float(seen)], 0.001, 0.999))
        return float(wanted - has)
    return _short_by(limit, float(seen)) / (spread.get(limit.key) or 1.0)


def _opening(limit: Limit, kept_out: list[tuple[str, object]]) -> Opening:
    if limit.kind == "class":
        words = pd.Series([word for _, word in kept_out], dtype=object)
        most = words.value_counts()
        word = str(most.index[0]) if len(most) else None
        first = next((name for name, seen in kept_out if seen == word), kept_out[0][0])
        return Opening(limit, len(kept_out), first, word, "any_of")
    read = [(name, float(seen)) for name, seen in kept_out if isinstance(seen, int | float)]
    if not read:
        return Opening(limit, len(kept_out), kept_out[0][0], None)
    if limit.share is not None:
        name, seen = max(read, key=lambda one: one[1])
        return Opening(limit, len(kept_out), name, seen, "share")
    name, seen = min(read, key=lambda one: _short_by(limit, one[1]))
    return Opening(limit, len(kept_out), name, seen, "at_least" if _too_low(limit, seen) else "at_most")


def _too_low(limit: Limit, seen: float) -> bool:
    return limit.at_least is not None and seen < limit.at_least


def _short_by(limit: Limit, seen: float) -> float:
    if _too_low(limit, seen):
        assert limit.at_least is not None
        return limit.at_least - seen
    return seen - (limit.at_most or 0.0)
