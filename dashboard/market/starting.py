"""What a limit or wish starts from when it is added: figures to move, not figures to follow.

They are quantiles of what the catalogue's cultivars are estimated to be, rounded to the reader's decimals: a limit
starts where a quarter of them would miss it, a wish runs over the middle four fifths. Nothing in them is advice, and
no publication stands behind them. Where nothing was measured, they are the plain figures of ``_UNMEASURED``.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from dashboard.market.profile import Limit, Wish
from dashboard.terms.traits import CLASSES, trait_called

# Low, middle and high in SI, for records in which a trait was never measured: common practice, no source.
_UNMEASURED = {
    "size": (55.0, 65.0, 75.0), "firmness": (20.0, 45.0, 70.0), "sugar": (9.0, 11.0, 13.0),
    "cheek_difference": (2.0, 6.0, 20.0), "roundness": (0.9, 1.0, 1.1),
    "split_pit": (0.0, 10.0, 40.0), "cracked_tip": (0.0, 10.0, 40.0),
}  # fmt: skip
_OFTEN = 9.0  # winters in ten: common practice, no source
_RATED = (3.0, 5.0, 8.0)


def starting_limit(kind: str, key: str, estimates: Iterable[float], system: str) -> Limit:
    """About the mean, without a share; a class limit starts with every word, so that what is not wanted is unticked."""
    if kind == "class":
        return Limit("class", key, CLASSES[key][1])
    if kind == "place":
        return Limit("place", key, at_least=_OFTEN)
    low, high = _ends(key, estimates, (0.25, 0.75), system)
    better = trait_called(key).better
    return Limit(
        "trait",
        key,
        at_least=low if better != "less" else None,
        at_most=high if better != "more" else None,
    )


def starting_wish(key: str, estimates: Iterable[float], system: str) -> Wish:
    low, middle, high = _ends(key, estimates, (0.1, 0.5, 0.9), system)
    shape = {"more": "larger", "less": "smaller"}.get(trait_called(key).better, "target")
    target = {"larger": high, "smaller": low}.get(shape, middle)
    return Wish(key, shape, low, target, high)


def ideal_between(key: str, low: float, high: float, system: str) -> float:
    """The middle of two bounds (SI), rounded for the reader where that keeps it between them."""
    (rounded,) = _rounded(key, [(low + high) / 2], system)
    return rounded if low < rounded < high else (low + high) / 2


def _ends(key: str, estimates: Iterable[float], shares: tuple[float, ...], system: str) -> list[float]:
    known = np.asarray(list(estimates), dtype=float)
    known = known[np.isfinite(known)]
    if len(known):
        ends = _rounded(key, np.quantile(known, shares), system)
        if len(set(ends)) == len(ends):  # few cultivars may all round to one figure
            return ends
    plain = _UNMEASURED.get(key, _RATED)
    return list(plain) if len(shares) == len(plain) else [plain[0], plain[-1]]


def _rounded(key: str, values: Iterable[float], system: str) -> list[float]:
    trait = trait_called(key)
    unit, decimals = trait.unit(system), trait.decimals(system)
    return [float(unit.to_si(round(float(unit.from_si(value)), decimals))) for value in values]
