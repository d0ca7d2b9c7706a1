"""Picks that the rest of the records speaks against: weeks off the cultivar's usual day in a season like this, or of trees that did not stand.

All limits are common practice, no source; on the demo's own dates no pick is more than 20 days off, at whatever day of a season it is looked at.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.problems import quoted
from dashboard.records.seasons import season_and_day, southern

OFF_DAYS = 21  # from the usual day, moved by how early or late the season is
UNSURE_DAYS = 28  # where nothing else was picked yet that tells
MOVES = 14  # days by which a season is early or late, at most
ENOUGH_SAMPLES = 4  # of a cultivar, in its other seasons
ENOUGH_SEASONS = 2
ENOUGH_OTHERS = 5  # picks of other days that tell how early a season is
_ASK = "look whether the month, the year or the cultivar was miswritten"


def suspect_picks(
    samples: pd.DataFrame, sites: pd.DataFrame, trees: pd.DataFrame | None, findings: Findings
) -> None:
    """Flag what was picked when its cultivar is not ripe, and what was picked from trees that are gone or were not planted yet."""
    season, day = season_and_day(samples["date"], southern(sites, samples["site"]))
    dated = samples.assign(season=season, day=day)
    told = {problem.row for problem in findings.problems if problem.column == "date"}
    _off_season(dated[(samples["date_precision"] == "day").to_numpy()], told, findings)
    if trees is not None and len(trees):
        _without_trees(dated, trees, findings)


def _off_season(dated: pd.DataFrame, told: set[int | None], findings: Findings) -> None:
    seasons, days = dated["season"].to_numpy(), dated["day"].to_numpy(dtype=float)
    off = days - _usual(dated, seasons, days)
    moved = _moved(dated, ["season", "site"], off)
    anywhere = _moved(dated, ["season"], off) if np.isnan(moved).any() else moved
    moved = np.where(np.isfinite(moved), moved, anywhere)
    most = np.where(np.isfinite(moved), OFF_DAYS, UNSURE_DAYS)
    off -= np.clip(np.nan_to_num(moved), -MOVES, MOVES)
    with np.errstate(invalid="ignore"):
        odd = np.flatnonzero(np.abs(off) > most)
    for place in map(int, odd):
        row, cultivar = dated.index[place], dated["cultivar"].iloc[place]
        if row in told:
            continue
        when = f"{abs(off[place]):.0f} days {'before' if off[place] < 0 else 'after'}"
        findings.flag(
            row, "date", str(dated["date"].iloc[place])[:10],
            f"is {when} the day usual for {quoted(cultivar)} in such a season{_new_month(dated, place)}", _ASK,
        )  # fmt: skip


def _usual(dated: pd.DataFrame, seasons: np.ndarray, days: np.ndarray) -> np.ndarray:
    """Of each pick the median day of its cultivar in the other seasons; NaN where those are too few. Shape (n,)."""
    usual = np.full(len(dated), np.nan)
    for rows in dated.groupby("cultivar", observed=True).indices.values():
        for one in np.unique(seasons[rows]):
            others = rows[seasons[rows] != one]
            if len(others) >= ENOUGH_SAMPLES and len(np.unique(seasons[others])) >= ENOUGH_SEASONS:
                usual[rows[seasons[rows] == one]] = np.median(days[others])
    return usual


def _moved(dated: pd.DataFrame, keys: list[str], off: np.ndarray) -> np.ndarray:
    """Of each pick by how many days those of its season are off, the picks of its own day left out: a sheet with a wrong date would vouch
    for itself. NaN where they are too few. Shape (n,)."""
    moved, dates = np.full(len(dated), np.nan), dated["date"].to_numpy()
    for rows in dated.groupby(keys, observed=True).indices.values():
        for one in np.unique(dates[rows]):
            others = off[rows[dates[rows] != one]]
            others = others[np.isfinite(others)]
            if len(others) >= ENOUGH_OTHERS:
                moved[rows[dates[rows] == one]] = np.median(others)
    return moved


def _new_month(dated: pd.DataFrame, place: int) -> str:
    """That its month is none in which the cultivar was picked in another season; "" where it is."""
    same = (dated["cultivar"] == dated["cultivar"].iloc[place]) & (
        dated["season"] != dated["season"].iloc[place]
    )
    month = dated["date"].iloc[place].month
    return "" if month in set(dated["date"][same].dt.month) else ", in a month it was never picked in"


def _without_trees(dated: pd.DataFrame, trees: pd.DataFrame, findings: Findings) -> None:
    """Picks at a site where every tree of the cultivar on record was gone before, or was planted later."""
    keys = ["cultivar", "site"]
    stood = trees[keys].assign(
        planted=pd.to_numeric(trees["planted"], errors="coerce").fillna(-np.inf),
        removed=pd.to_numeric(trees["removed"], errors="coerce").fillna(np.inf),
    )
    spans = stood.groupby(keys, observed=True).agg(planted=("planted", "min"), removed=("removed", "max"))
    met = dated[[*keys, "season"]].join(spans, on=keys)
    for what, gone in (
        ("removed by", met["removed"] < met["season"]),
        ("planted in", met["planted"] > met["season"]),
    ):
        year = met["removed" if what == "removed by" else "planted"].to_dict()
        for row, pick in met[gone.to_numpy()].iterrows():
            findings.flag(
                int(str(row)), "cultivar", str(pick["cultivar"]),
                f"was picked in {pick['season']}, but its trees at {quoted(pick['site'])} were {what} {year[row]:.0f}",
                "look whether the cultivar or the year was miswritten, or correct the table of trees",
            )  # fmt: skip
