"""In how many winters of ten a cultivar's need for chill is met, with the doubt that the need itself carries.

A requirement is recorded in hours or in portions, often rounded to 25 or 50. Within its rounding any figure is as likely as another;
that is all the records tell. What else is unknown of it (how it was found, on which wood, in which climate) is not in the figures.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pandas as pd

from dashboard.site.winters import HOURS, PORTIONS, Winters

NEEDS = {
    PORTIONS: "chill_requirement_cp",
    HOURS: "chill_requirement_h",
}  # portions first: they carry over between climates
_TOLD = ("enough", "enough_low", "enough_high", "need", "step")
_STEPS = (100.0, 50.0, 25.0, 10.0, 5.0, 2.0, 1.0)
_ROUND = 0.95  # the share of figures that must be multiples of a step


def rounded_to(recorded: np.ndarray) -> float:
    """To what the recorded needs were rounded: the largest step that almost all are multiples of, 1 where none is; ours."""
    known = np.asarray(recorded, dtype=float)
    known = known[np.isfinite(known)]
    for step in _STEPS:
        if len(known) and (np.abs(known / step - np.round(known / step)) < 1e-9).mean() >= _ROUND:
            return step
    return 1.0


def shares_met(
    need: np.ndarray, supply: np.ndarray, step: float = 0.0
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """In what share of the winters each need is met.

    Parameters
    ----------
    need : ndarray
        (needs,) in the unit of the supply; NaN where it is not recorded.
    supply : ndarray
        (winters,) what each brought.
    step : float
        What the needs were rounded to; 0 for not at all.

    Returns
    -------
    tuple of ndarray
        (needs,) each, 0 to 1: the share to be expected over the rounding, and those of the highest and the lowest need that would have
        been rounded so.
    """
    brought, asked = np.asarray(supply, dtype=float)[:, None], np.asarray(need, dtype=float)
    low, high = ((brought >= asked + side * step / 2).mean(axis=0) for side in (1, -1))
    spread = brought - asked
    even = (spread >= 0).astype(float) if step <= 0 else np.clip(spread / step + 0.5, 0, 1)
    unknown = np.isnan(asked)
    return tuple(np.where(unknown, np.nan, one) for one in (even.mean(axis=0), low, high))  # type: ignore[return-value]


def enough(cultivars: pd.DataFrame, winters: Winters) -> pd.DataFrame:
    """In what share of the winters of a place each cultivar gets the chill it needs.

    Parameters
    ----------
    cultivars : DataFrame
        With chill_requirement_cp and chill_requirement_h; index as it comes out.
    winters : Winters
        Of the place.

    Returns
    -------
    DataFrame
        enough, enough_low, enough_high: the share, as ``shares_met``; measure: what it was told by, portions where these are recorded,
        else hours, "" for none; need, and step: what that was rounded to.
    """
    found = pd.DataFrame(np.nan, index=cultivars.index, columns=list(_TOLD))
    measure = np.full(len(cultivars), "", dtype=object)
    for name, told in reversed(by_unit(cultivars, winters).items()):  # what comes last holds
        known = told["need"].notna().to_numpy()
        found.loc[known] = told.loc[known]
        measure[known] = name
    return found.assign(measure=pd.Series(measure, index=cultivars.index, dtype="str"))


def by_unit(cultivars: pd.DataFrame, winters: Winters) -> dict[str, pd.DataFrame]:
    """The same by the need in portions and by that in hours, each for itself: where a cultivar has both, they need not agree. Nothing
    where the winters are refused."""
    found = {}
    for name, column in NEEDS.items() if not winters.refused else ():
        need = cultivars[column].to_numpy(dtype=float)
        step = rounded_to(need)
        told = (
            *shares_met(need, winters.supply[name].to_numpy(), step),
            need,
            np.where(np.isnan(need), np.nan, step),
        )
        found[name] = pd.DataFrame(dict(zip(_TOLD, told, strict=True)), index=cultivars.index)
    return found


def least_needed(supply: np.ndarray, share: float) -> float:
    """The most that may be needed so that at least that share of the winters bring it; their supply is (winters,)."""
    enough_of = int(np.ceil(share * len(supply) - 1e-9))
    return float(np.sort(supply)[len(supply) - enough_of]) if enough_of > 0 else float("inf")


def assured(winters: Winters, share: float) -> dict[str, float]:
    """By measure, what at least that share of the winters brought (whole units, rounded down)."""
    return {
        name: float(np.floor(np.quantile(winters.supply[name], 1 - share, method="inverted_cdf")))
        for name in NEEDS
    }


def short_together(cultivars: pd.DataFrame, winters: Winters) -> Mapping[int, tuple[str, ...]]:
    """By winter (the year of its spring), those that missed their need in it as recorded; only winters in which any did, those with most
    first."""
    if winters.refused:
        return {}
    told, supply = enough(cultivars, winters), winters.supply
    missed: dict[int, tuple[str, ...]] = {}
    for year in supply.index:
        brought = told["measure"].map(supply.loc[year])
        names = tuple(str(name) for name in told.index[(brought < told["need"]).to_numpy(dtype=bool)])
        if names:
            missed[int(year)] = names
    return dict(sorted(missed.items(), key=lambda one: (-len(one[1]), -one[0])))
