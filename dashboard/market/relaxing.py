"""What would open a market: who misses it least, and the one limit whose relaxation lets in most."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

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

    ``fit`` as from ``fitting.fit``.
    """
    alone: dict[Limit, list[tuple[str, object]]] = {}
    for name, missed in fit.loc[among, "missed"].items():
        if len(missed) == 1:
            limit, observed = missed[0]
            alone.setdefault(limit, []).append((str(name), observed))
    found = [_opening(limit, kept_out) for limit, kept_out in alone.items()]
    order = {limit: place for place, limit in enumerate(market.limits)}
    return tuple(sorted(found, key=lambda one: (-one.lets_in, order[one.limit])))


def nearest_misses(fit: pd.DataFrame, chance: np.ndarray | None, among: np.ndarray) -> list[str]:
    """Who of ``among`` misses the market by least: by the chance that it holds after all, then by how many limits it
    misses; those whose class is wrong last."""
    out = fit[among & ~fit["meets"].to_numpy()]
    many = np.array([len(missed) for missed in out["missed"]], dtype=float)
    wrong = np.array(
        [any(limit.kind == "class" for limit, _ in missed) for missed in out["missed"]], dtype=bool
    )
    after_all = np.zeros(len(fit)) if chance is None else np.nan_to_num(chance)
    held = after_all[among & ~fit["meets"].to_numpy()]
    order = np.lexsort((many, -held, wrong))
    return [str(name) for name in out.index[order[:NEAREST]]]


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
