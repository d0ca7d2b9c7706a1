"""Ripe days from visits: fruit is found ripe on a visit, so it ripened after the visit before, and was ripe until before the next one.

A cultivar first picked on day F, the visit before being on day P, has its first ripe day among P + 1 … F. The middle of these is
taken, and how far off that may be is told with it: all of them alike, a variance of (days² - 1) / 12. Likewise the last one, up to the
day before the next visit. Where each day is a visit nothing changes. Sheppard (1898, Proceedings of the London Mathematical
Society 29: 353-380, from memory) takes the same off the variance of what was read in steps.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

KEYS = ["cultivar", "site", "season"]
LONGEST = 14  # days; what is longer is a break in the visits, not from one to the next
MISSED = 2.0  # times the usual days: visits between them found nothing to pick, and so are not on record
_APART = 1000  # days between site-seasons laid end to end: more than any season has


def ripe_days(summaries: pd.DataFrame) -> pd.DataFrame:
    """When each cultivar was ripe.

    Parameters
    ----------
    summaries : DataFrame
        One row a sample: cultivar, site, season, day of the season, and, if at all, ``slack``, the days it may be off either way. Its
        site was visited on that day, whatever was picked.

    Returns
    -------
    DataFrame
        One row a cultivar × site × season: first and last ripe day, the middle of what each may be, and middle, half way between;
        first_off and last_off, variances in days²; every, the usual days from visit to visit at the site.
    """
    known = summaries["day"].notna() & summaries["cultivar"].notna()
    dated = summaries.loc[known, [*KEYS, "day"]].assign(
        slack=summaries["slack"][known] if "slack" in summaries else 0.0
    )
    dated = dated.sort_values("day", kind="stable")
    before, after, every = _apart(dated)
    week = 2 * dated["slack"] + 1
    sides = {}
    for side, gap, sign in (("first", before, -1), ("last", after, 1)):
        wide = np.maximum(gap, week)
        sides[side] = dated["day"] + sign * (wide - 1) / 2
        sides[f"{side}_off"] = (np.square(wide) + np.square(week) - 2) / 12
    dated = dated.assign(**sides, every=every)
    start, end = (dated.drop_duplicates(KEYS, keep=which).set_index(KEYS) for which in ("first", "last"))
    found = start[["first", "first_off", "every"]].join(end[["last", "last_off"]]).sort_index().reset_index()
    found.insert(4, "middle", (found["first"] + found["last"]) / 2)
    return found


def _apart(dated: pd.DataFrame) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(rows,) days since the visit before, days to the next one, and the usual days from one to the next at the site."""
    block = dated.groupby(["site", "season"], observed=True, dropna=False).ngroup().to_numpy()
    at = block * _APART + dated["day"].to_numpy(dtype=float)
    # Weeks tell of no day; they count where a site-season has nothing else.
    exact = (dated["slack"] == 0).to_numpy()
    exact = exact | ~np.isin(block, block[exact])
    visits, place = np.unique(at[exact], return_index=True)
    steps = pd.Series(np.diff(visits), dtype=float)
    whose = pd.Series(dated["site"].to_numpy()[exact][place][1:])
    steps = steps[steps <= LONGEST]
    usual = steps.groupby(whose).median()
    among_all = float(steps.median()) if len(steps) else 1.0
    every = dated["site"].map(usual).astype(float).fillna(among_all).to_numpy()
    around = np.concatenate([[-np.inf], visits, [np.inf]])
    before = at - around[np.searchsorted(visits, at, side="left")]
    after = around[np.searchsorted(visits, at, side="right") + 1] - at
    before, after = (np.where(gap <= MISSED * every, gap, every) for gap in (before, after))
    return before, after, every
