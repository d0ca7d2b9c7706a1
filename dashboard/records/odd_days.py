"""Days that may be but seldom are: far from the cultivar's others, in another year, made up, or against the order of picks.

All limits are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Container

import numpy as np
import pandas as pd
from numpy.lib.stride_tricks import sliding_window_view

from dashboard.records.findings import Findings
from dashboard.records.problems import quoted
from dashboard.records.seasons import season_and_day, southern

SEASON_DAYS = 45
ENOUGH_SAMPLES = 4
AROUND = 4  # rows looked at on either side of one
ENOUGH_TO_JUDGE = 10  # samples of a season
COPIED_SHARE = 0.6
PICK_DAYS = 7


def suspect_days(samples: pd.DataFrame, sites: pd.DataFrame, findings: Findings, said: bool) -> None:
    """Flag days of picking that are likely to be miswritten; ``said``: that only a week or year is known was declared."""
    season, day = season_and_day(samples["date"], southern(sites, samples["site"]))
    coarse = samples["date_precision"] != "day"
    dated = samples.assign(season=season, day=day)
    if not said and coarse.any():
        rows = samples.index[coarse.to_numpy()]
        findings.flag(
            rows[0], "date", str(samples.at[rows[0], "date_precision"]), f"is all that is known of the day of {len(rows):,} samples; their days of picking are told no better",
            "write the day where it is known, or declare date_precision",
        )  # fmt: skip
    _other_years(dated, findings)
    exact = dated[~coarse.to_numpy()]
    _far_from_usual(exact, findings)
    _against_picks(exact, findings)
    _copied(exact, findings, _made_up(exact, findings))


def _far_from_usual(dated: pd.DataFrame, findings: Findings) -> None:
    """Samples picked more than 45 days from the median day of their cultivar."""
    grouped = dated.groupby("cultivar")["day"]
    off = (dated["day"] - grouped.transform("median")).where(grouped.transform("count") >= ENOUGH_SAMPLES)
    for row in dated.index[(off.abs() > SEASON_DAYS).to_numpy()]:
        when = "before" if off[row] < 0 else "after"
        findings.flag(
            row, "date", _day(dated["date"][row]), f"is {abs(off[row]):.0f} days {when} the usual day of {quoted(dated['cultivar'][row])}",
            "look whether the month or the cultivar was miswritten",
        )  # fmt: skip


def _other_years(dated: pd.DataFrame, findings: Findings) -> None:
    """Samples of one season among rows of another, and a season far from all others with hardly a sample."""
    season = dated["season"].to_numpy()
    told: set[int] = set()
    around = sliding_window_view(season, AROUND) if len(season) > 2 * AROUND else np.zeros((0, AROUND))
    before, after = around[: -AROUND - 1], around[AROUND + 1 :]
    usual = np.median(before, axis=1)
    alike = np.minimum(*((rows == usual[:, None]).sum(axis=1) for rows in (before, after)))
    for place in np.flatnonzero(
        (season[AROUND : AROUND + len(usual)] != usual) & (alike >= AROUND - 1)
    ).tolist():
        row = int(dated.index[AROUND + place])
        told.add(row)
        findings.flag(
            row, "date", _day(dated["date"][row]), f"is of season {season[AROUND + place]}, while the rows around it are of {usual[place]:.0f}",
            "look whether the year was miswritten",
        )  # fmt: skip
    seasons, counts = np.unique(season, return_counts=True)
    for one, count in zip(seasons, counts, strict=True):
        others = seasons[seasons != one]
        if (
            count <= 3
            and len(season) >= 2 * ENOUGH_TO_JUDGE
            and len(others)
            and np.abs(others - one).min() > 1
        ):
            for row in dated.index[season == one].difference(list(told)):
                findings.flag(
                    row, "date", _day(dated["date"][row]), f"is of season {one}, of which there are {count} samples, and none of the seasons next to it",
                    "look whether the year was miswritten",
                )  # fmt: skip


def _against_picks(dated: pd.DataFrame, findings: Findings) -> None:
    """Picks of a cultivar at a site in a season whose numbers run against their days."""
    picked = dated[dated["pick"].notna()].sort_values(["cultivar", "site", "season", "date"], kind="stable")
    before = picked.groupby(["cultivar", "site", "season"], sort=False)[["pick", "date"]].shift()
    days = (picked["date"] - before["date"]).dt.days
    picks, before_it = picked["pick"].to_dict(), before["pick"].to_dict()
    for row in picked.index[((picked["pick"] < before["pick"]) & (days > 0)).to_numpy()]:
        findings.flag(
            row, "pick", f"{picks[row]:.0f}", f"is picked on {_day(picked['date'][row])}, after pick {before_it[row]:.0f} of {_day(before['date'][row])}",
            "look whether the number or the date was miswritten", sure=True,
        )  # fmt: skip
    for row in picked.index[((picked["pick"] == before["pick"]) & (days > PICK_DAYS)).to_numpy()]:
        findings.flag(
            row, "pick", f"{picks[row]:.0f}", f"is picked on {_day(picked['date'][row])}, and had been {days[row]:.0f} days before",
            "look whether it is the next pick, or the date was miswritten",
        )  # fmt: skip


def _made_up(dated: pd.DataFrame, findings: Findings) -> set[object]:
    """Seasons whose samples all bear one day, or all the same day of a month: the day itself may not be known. Gives back those of one day."""
    of_one_day: set[object] = set()
    for season, rows in dated.groupby("season", sort=True):
        if len(rows) < ENOUGH_TO_JUDGE or rows["cultivar"].nunique() < 3 or rows["date"].dt.day.nunique() > 1:
            continue
        one = rows["date"].nunique() == 1
        of_one_day |= {season} if one else set()
        findings.flag(
            rows.index[0], "date", f"{rows['date'].iloc[0]:%Y-%m-%d}",
            f"is the day of all {len(rows)} samples of {season}" if one else f"is, as all {len(rows)} dates of {season}, day {rows['date'].iloc[0].day} of a month",
            "where only the year is known write the year alone, or declare date_precision year",
        )  # fmt: skip
    return of_one_day


def _copied(dated: pd.DataFrame, findings: Findings, of_one_day: Container[object]) -> None:
    """A season most of whose picks fall on the very days of an earlier season; of one day alone that is told already."""
    key = ["cultivar", "site", "pick"]
    days = dated.assign(row=dated.index, month_day=dated["date"].dt.month * 100 + dated["date"].dt.day)
    days = days[[*key, "season", "row", "date", "month_day"]].drop_duplicates([*key, "season"])
    pairs = days.merge(days, on=key, suffixes=("", "_before"))
    pairs = pairs[pairs["season_before"] < pairs["season"]]
    for (season, before), both in pairs.groupby(["season", "season_before"]):
        same = (both["month_day"] == both["month_day_before"]).to_numpy()
        if season not in of_one_day and len(both) >= ENOUGH_TO_JUDGE and same.mean() >= COPIED_SHARE:
            first = both[same].iloc[0]
            findings.flag(
                int(first["row"]), "date", _day(first["date"]), f"and {same.sum()} of {len(both)} picks of {season} have the same day and month as in {before}",
                "look whether the dates were copied from the other year",
            )  # fmt: skip


def _day(date: object) -> str:
    return str(date)[:10]


def suspect_bloom(bloom: pd.DataFrame, findings: Findings) -> None:
    """Flag full bloom whose day lies in another year than the row says."""
    for row in bloom.index[
        (bloom["full_bloom"].dt.year != bloom["year"]).to_numpy() & bloom["full_bloom"].notna().to_numpy()
    ]:
        findings.flag(
            row,
            "full_bloom",
            str(bloom.at[row, "full_bloom"])[:10],
            f"is not in {bloom['year'][row]:.0f}, the year of its row",
            "correct one of the two",
            sure=True,
        )
