"""How two cultivars differ, and how each differs from the checks that ripen with it.

Nothing is said of cultivars that no chain of shared site-seasons joins: their difference would be that of their
seasons as much as their own.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
import pandas as pd
from scipy import stats

from dashboard.estimates.averages import LEVEL
from dashboard.estimates.worth import Worth
from dashboard.terms.traits import trait_called

NAN = float("nan")
_POINTS = 509  # of errors that are tried


@dataclass(frozen=True)
class Difference:
    """First minus second, SI; ``above``: chance that the first is truly the higher one. NaN throughout when refused."""

    first: str
    second: str
    estimate: float = NAN
    se: float = NAN
    df: float = NAN
    low: float = NAN
    high: float = NAN
    above: float = NAN
    together: bool = False  # whether they ever stood at one site in one season
    refused: str = ""


def difference(worth: Worth, first: str, second: str) -> Difference:
    """How ``first`` differs from ``second`` over sites.

    Parameters
    ----------
    worth : Worth
    first, second : str
        Names of cultivars.

    Returns
    -------
    Difference
        First minus second, SI units. The error is of the difference itself (what both share cancels); its degrees of freedom are
        the fewer of the two. NaN throughout, with the reason, where nothing joins them.

    Raises
    ------
    ValueError
        A name that is not there.
    """
    one, other = worth.places([first, second])
    together = bool(_together(worth, one)[other])
    if refused := _refused(worth, one, other):
        return Difference(first, second, together=together, refused=refused)
    weights = np.zeros((1, len(worth.values)))
    weights[0, one] += 1.0
    weights[0, other] -= 1.0
    sums: dict[str, Any] = {name: float(column[0]) for name, column in _sums(worth, weights).items()}
    return Difference(first, second, **sums, together=together)


def from_checks(worth: Worth, middles: pd.Series, checks: Collection[str]) -> pd.DataFrame:
    """How each cultivar differs from the checks that ripen when it does.

    A cultivar between two checks is set against both, weighted by nearness; one earlier or later than all of them against the
    nearest.

    Parameters
    ----------
    worth : Worth
    middles : Series
        Middle day of picking by cultivar.
    checks : collection of str
        Names of the check cultivars.

    Returns
    -------
    DataFrame
        One row a cultivar of ``worth.values``, SI units: against (who), estimate, se, df, low, high, above (chance of being truly
        higher), together (it stood beside each of them), refused.
    """
    index = worth.values.index
    day = middles.reindex(index).to_numpy(dtype=float)
    is_check = index.isin(list(checks))
    seen = worth.group >= 0
    standing = np.flatnonzero(is_check & seen & np.isfinite(day))
    weights = np.zeros((len(index), len(index)))
    refused = np.full(len(index), "", dtype=object)
    for row in range(len(index)):
        allowed = standing[worth.group[standing] == worth.group[row]]
        refused[row] = _no_check(worth, row, day[row], bool(is_check[row]), allowed, standing)
        if not refused[row]:
            near, share = _neighbours(day[allowed], day[row])
            weights[row, row] = 1.0
            weights[row, allowed[near]] -= share
    sums = pd.DataFrame(_sums(worth, weights), index=index)
    sums[refused != ""] = np.nan
    against, beside = [], []
    for row in range(len(index)):
        whom = np.flatnonzero(weights[row] < 0)
        against.append(" and ".join(index[whom]))
        beside.append(bool(len(whom)) and bool(_together(worth, row)[whom].all()))
    sums.insert(0, "against", pd.Series(against, index=index, dtype="str"))
    return sums.assign(together=beside, refused=pd.Series(refused, index=index, dtype="str"))


def _refused(worth: Worth, one: int, other: int) -> str:
    label = trait_called(worth.trait).label.lower()
    if not worth.modelled:
        return worth.plan.refused
    for row in (one, other):
        if worth.group[row] < 0:
            return f"{worth.values.index[row]} has no reading of {label}."
    if worth.group[one] != worth.group[other]:
        names = worth.values.index
        return (
            f"{names[one]} and {names[other]} never shared a site in a season, not even through others, "
            "so their difference may be that of their seasons."
        )
    return ""


def _no_check(
    worth: Worth, row: int, day: float, is_check: bool, allowed: np.ndarray, standing: np.ndarray
) -> str:
    name = worth.values.index[row]
    if not worth.modelled:
        return worth.plan.refused
    if worth.group[row] < 0:
        return f"{name} has no reading of {trait_called(worth.trait).label.lower()}."
    if is_check:
        return f"{name} is itself a check."
    if not np.isfinite(day):
        return f"It is not known when {name} ripens."
    if not len(standing):
        return "No cultivar is marked as a check."
    return (
        ""
        if len(allowed)
        else f"No check ever shared a site in a season with {name}, not even through others."
    )


def _neighbours(days: np.ndarray, day: float) -> tuple[np.ndarray, np.ndarray]:
    """The checks on either side of ``day`` and their shares; one alone at the ends."""
    order = np.argsort(days, kind="stable")
    after = int(np.searchsorted(days[order], day))
    if after == 0 or after == len(days):
        return order[[min(after, len(days) - 1)]], np.ones(1)
    near = order[[after - 1, after]]
    share = (day - days[near[0]]) / (days[near[1]] - days[near[0]])
    both = np.array([1 - share, share])
    return near[both > 0], both[both > 0]


def _sums(worth: Worth, weights: np.ndarray) -> dict[str, np.ndarray]:
    """estimate, se, df, low, high, above of sums of values (k, cultivars) whose weights add up to zero."""
    if not worth.modelled:
        return {name: np.full(len(weights), NAN) for name in ("estimate", "se", "df", "low", "high", "above")}
    values, fitted = worth.values, worth.fitted()
    used = weights != 0
    # What the small sample adds to the values' own errors is added in the same proportion, the larger of those involved.
    more = np.nan_to_num(np.square(fitted["se"].to_numpy()) / worth.pev, nan=1.0)
    more = np.where(used, more, 1.0).max(axis=1)
    df = np.where(used, values["df"].to_numpy(), np.inf)
    df = np.nan_to_num(df, nan=np.inf).min(axis=1)
    estimate = weights @ np.nan_to_num(values["estimate"].to_numpy())
    away = weights @ np.nan_to_num(fitted["estimate"].to_numpy())
    se = np.sqrt(worth.difference_variance(weights) * more)
    quantile = stats.t.ppf(0.5 + LEVEL / 2, df)
    with np.errstate(invalid="ignore", divide="ignore"):
        above = stats.t.cdf(away / se, df)
    low, high = estimate - se * quantile, estimate + se * quantile
    if worth.scatter:
        low, high = _ends(worth, weights, np.sqrt(more) * quantile)
        with np.errstate(
            invalid="ignore", divide="ignore"
        ):  # such that estimate over error is what the chance is told by
            told = estimate * se / away
        se = np.where(np.isfinite(told) & (told > 0), told, (high - low) / 2 / quantile)
    return {
        "estimate": estimate,
        "se": se,
        "df": df,
        "low": low,
        "high": high,
        "above": above,
    }


def _ends(worth: Worth, weights: np.ndarray, quantile: np.ndarray) -> np.ndarray:
    """The ends (2, k) of sums of values whose errors go out further to one side than to the other: what comes in the lowest and the highest
    twentieth where all that a sum is made of err together, as they do on the scale of the fit."""
    fitted, scale, found = worth.fitted()["estimate"].to_numpy(), worth.scale(), np.zeros((2, len(weights)))
    wider = quantile / stats.norm.ppf(0.5 + LEVEL / 2)
    for row, own in enumerate(weights):
        at = np.flatnonzero(own)  # in their order, whichever is taken from the other
        if not len(at):
            continue
        shared = worth.shared[at]
        covariance = np.diag(worth.own[at]) + shared @ shared.T
        values, vectors = np.linalg.eigh(covariance)
        root = vectors * np.sqrt(np.maximum(values, 0.0)) * wider[row]
        ways = scale.told(fitted[at] + _evenly(len(at)) @ root.T) @ own[at]
        found[:, row] = np.quantile(ways, (0.5 - LEVEL / 2, 0.5 + LEVEL / 2))
    return found


@cache
def _evenly(count: int) -> np.ndarray:
    """(POINTS, count) normal errors, spread as evenly as such points can be: multiples of the powers of a number of which none is near
    a fraction."""
    step = float(np.roots([1, *[0] * (count - 1), -1, -1]).real.max()) ** -np.arange(1.0, count + 1)
    return stats.norm.ppf((0.5 + np.outer(np.arange(_POINTS), step)) % 1)


def _together(worth: Worth, row: int) -> np.ndarray:
    """(cultivars,) whether each ever stood in a site-season in which ``row`` did."""
    cultivar, environment = worth.seen[:, 0], worth.seen[:, 1]
    stood = np.isin(environment, environment[cultivar == row])
    beside = np.zeros(len(worth.values), dtype=bool)
    beside[cultivar[stood]] = True
    return beside
