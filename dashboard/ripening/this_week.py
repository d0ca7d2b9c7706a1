"""What will be ripe in the coming days: the picks of this season so far give its shift, and the shift what comes next.

With e_i the day expected of cultivar i at the site and d_i the day it was first picked this season,

    d_i - e_i = s + (error of e_i) + (what i does in this season alone)

where the shift s of the season has mean 0 and the spread that seasons have shown. The errors of the e_i go together, because
all of them rest on the same seasons at the site: what is off by the same days for all counts once, not once a cultivar. So all
d_i are jointly normal, and those not yet picked are foretold given those that were.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd
from scipy import stats

from dashboard.ripening.model import Ripening

AHEAD = 7  # days
LONG_PAST = 21  # days after its expected last one from which on it is no longer asked after
OVERDUE_TOLD = "overdue: look, or note why it was not picked"
PASSED_OVER = 0.1  # chance that ripe fruit is not picked on a visit; a choice of ours
OVERDUE = 0.05  # chance of still being unripe under which an unpicked cultivar should have been seen


@dataclass(frozen=True, eq=False)
class ThisWeek:
    """``rows``: one a cultivar; ``shift`` days (with ``shift_se``) by which the season runs late, told by ``told_by`` picks."""

    rows: pd.DataFrame
    shift: float
    shift_se: float
    told_by: int


def this_week(
    ripe: Ripening,
    picked: pd.DataFrame,
    site: str,
    today: float,
    ahead: int = AHEAD,
    looked: float | None = None,
) -> ThisWeek:
    """The chance of each cultivar to be picked at ``site`` on days ``today`` to ``today + ahead - 1`` of the season.

    ``ripe`` is the model of the seasons before; ``picked`` the picks of this one at the site, on or before today (``cultivar``,
    ``first``, ``last``; where visits leave the first one open also ``ripe``, the middle of what it may be, and ``ripe_off``, the
    variance of that). On day ``looked`` the site was visited last; unless it is given, what is not picked was not ripe the day before
    today. Columns: chance, first and last (expected days), picked (first day so far, NaN for none), remark. ValueError where the model refuses or does not know the site.
    """
    if ripe.refused:
        raise ValueError(ripe.refused)
    first, days = (ripe.expected(part, site) for part in ("first", "days"))
    names = ripe.cultivars[ripe.known]
    apart = {
        part: one.variance + ripe.unseen_variance(part, site) + ripe.peculiar(part)
        for part, one in (("first", first), ("days", days))
    }
    exact = picked.assign(ripe=picked.get("ripe", picked["first"]), ripe_off=picked.get("ripe_off", 0.0))
    of = exact.groupby("cultivar").agg({"first": "min", "last": "max", "ripe": "min", "ripe_off": "max"})
    begun, found, ripe_from, off = of.reindex(names).to_numpy(dtype=float).T
    seen, off = np.isfinite(begun), np.nan_to_num(off)
    together = (
        first.covariance()
        + ripe.common("first")
        + ripe.untold("first")
        + np.diag(apart["first"] - first.variance + off)
    )
    shift, variance = _given(
        np.full(len(names), ripe.common("first")), together, seen, ripe_from - first.estimate
    )
    move, left = _given(together, together, seen, ripe_from - first.estimate)
    at = np.where(seen, ripe_from, first.estimate + move)
    spread = np.sqrt(np.where(seen, apart["first"], np.diag(together) - left))
    length, length_sd = np.maximum(days.estimate, 0.0), np.sqrt(apart["days"] + ripe.common("days") + off)
    # Not picked so far: the first day lies after the last look, and what is asked is whether it comes in time.
    unripe = stats.norm.sf(((today - 1 if looked is None else looked) + 0.5 - at) / spread)
    with np.errstate(divide="ignore", invalid="ignore"):
        soon = (unripe - stats.norm.sf((today + ahead - 0.5 - at) / spread)) / unripe
        still = np.exp(
            stats.norm.logsf((today - 0.5 - at - length) / length_sd)
            - stats.norm.logsf((np.minimum(found, today) - 0.5 - at - length) / length_sd)
        )
    if looked is not None:  # a visit since without it: over, or passed over
        still = np.where(found < looked, still * PASSED_OVER / (still * PASSED_OVER + 1 - still), still)
    chance = np.where(seen, still, np.where(unripe > 1e-9, soon, 0.0))
    past = today > at + length + LONG_PAST
    overdue = ~seen & (unripe < OVERDUE) & ~past
    remark = np.where(overdue, OVERDUE_TOLD, "")
    chance = np.where(past, 0.0, chance)
    rows = pd.DataFrame(
        {"chance": chance, "first": at, "last": at + length, "picked": begun, "remark": remark}, index=names
    )
    rows.loc[overdue, "chance"] = np.nan
    known = np.sqrt(max(ripe.common("first") - float(variance), 0.0))
    return ThisWeek(rows, float(shift), float(known), int(seen.sum()))


def _given(
    with_picks: np.ndarray, together: np.ndarray, seen: np.ndarray, late: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """What the picks say of normal amounts that go ``with_picks`` (..., cultivars) as told: their means, and by how much less
    they vary. ``together`` (cultivars, cultivars) are the covariances of the days ``late``, of which those ``seen`` are known."""
    if not seen.any():
        return np.zeros(with_picks.shape[:-1]), np.zeros(with_picks.shape[:-1])
    known = with_picks[..., seen]
    weight = np.linalg.solve(together[np.ix_(seen, seen)], np.atleast_2d(known).T).T.reshape(known.shape)
    return weight @ late[seen], (weight * known).sum(axis=-1)
