"""Limits on the place the trees are to stand at: in how many winters of ten it brings the chill that a cultivar needs.

Such a limit is judged by the winters of the place it holds (``Limit.winters``). Without a place, and without a need on record, nobody can
judge it.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd

from dashboard.market.profile import Limit, Market
from dashboard.site.needs import NEEDS, enough, least_needed
from dashboard.site.winters import Winters

KIND = "place"


def placed(market: Market | None, winters: Winters | None) -> Market | None:
    """The market with its limits on the place asked of these winters; the very same where it has none."""
    if market is None or not any(limit.kind == KIND for limit in market.limits):
        return market
    there = winters if winters is not None and not winters.refused else None
    return replace(market, limits=tuple(replace(limit, winters=there) if limit.kind == KIND else limit for limit in market.limits))  # fmt: skip


def unplaced(market: Market | None) -> bool:
    """Whether it asks for a place and none was chosen."""
    return market is not None and any(one.kind == KIND and one.winters is None for one in market.limits)


def winters_in_ten(limit: Limit, cultivars: pd.DataFrame) -> np.ndarray:
    """(cultivars,) in how many winters of ten each gets the chill it needs; NaN where nobody can tell."""
    if limit.winters is None:
        return np.full(len(cultivars), np.nan)
    return 10 * enough(_needing(cultivars), limit.winters)["enough"].to_numpy(dtype=float)


def holding(limit: Limit, cultivars: pd.DataFrame, draws: int) -> tuple[np.ndarray, np.ndarray]:
    """Whether the limit holds in each draw of what the need was before it was rounded, and for whom nobody can tell.

    Parameters
    ----------
    limit : Limit
        Of the kind "place".
    cultivars : DataFrame
        With chill_requirement_cp and chill_requirement_h, where they are recorded.
    draws : int
        How many; within its rounding each need is as likely as another, and the draws are spread evenly over it.

    Returns
    -------
    tuple of ndarray
        (draws, cultivars) and (cultivars,), True or False.
    """
    count = len(cultivars)
    if limit.winters is None:
        return np.zeros((draws, count), dtype=bool), np.ones(count, dtype=bool)
    told = enough(_needing(cultivars), limit.winters)
    assert limit.at_least is not None
    most = {name: least_needed(limit.winters.supply[name].to_numpy(), limit.at_least / 10) for name in NEEDS}
    reach = told["measure"].map(most).to_numpy(dtype=float)
    even = (np.arange(draws) + 0.5) / draws - 0.5
    spread = np.random.default_rng(0).permuted(np.broadcast_to(even[:, None], (draws, count)), axis=0)
    holds = told["need"].to_numpy() + spread * told["step"].to_numpy() <= reach  # NaN compares False
    return holds, told["need"].isna().to_numpy()


def _needing(cultivars: pd.DataFrame) -> pd.DataFrame:
    return cultivars.reindex(columns=[*NEEDS.values()]).astype(float)
