"""When a cultivar is picked: windows in days of the season, days from the check, and days written as dates.

A day of the season is 1 on 1 January in the north and 1 on 1 July in the south, so that a southern season
(November to March) does not break at New Year. Dates are written in a year of 365 days: the same day is
the same date every year, and 29 February shares its number with 1 March.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.estimates import pooled
from dashboard.traits import UNKNOWN

METHOD = "raw averages"
BANDS = ("very early", "early", "main", "late", "very late")

_MONTHS = (
    ("January", 31), ("February", 28), ("March", 31), ("April", 30), ("May", 31), ("June", 30),
    ("July", 31), ("August", 31), ("September", 30), ("October", 31), ("November", 30), ("December", 31),
)  # fmt: skip
_STARTS = np.concatenate([[0], np.cumsum([days for _, days in _MONTHS])])
_YEAR = 365
_SOUTHERN_START = 181  # 30 June, the day before a southern season's first


def picks(summaries: pd.DataFrame) -> pd.DataFrame:
    """One row a cultivar × site × season: cultivar, site, season, first, middle, last (days of the season).

    The middle is the mean of the days on which it was picked, each day counted once however many samples.
    """
    keys = ["cultivar", "site", "season"]
    dated = summaries.loc[summaries["day"].notna() & summaries["cultivar"].notna(), [*keys, "day"]]
    days = dated.drop_duplicates().groupby(keys, dropna=False, observed=True)["day"]
    return days.agg(first="min", middle="mean", last="max").astype(float).reset_index()


def windows(picks: pd.DataFrame, cultivars: pd.DataFrame) -> pd.DataFrame:
    """When each cultivar of ``cultivars`` (index its name) is ripe; one row each, in the same order.

    first, middle, last: means over its site-seasons; earliest, latest: the extremes seen; se, low, high: of
    the middle, from the pooled spread of site-season middles, 90 %; from_check: mean difference of the
    middle from the main check in the SAME site-season, NaN if never together; seasons, sites: how many;
    method. ``attrs["check"]`` names the main check: of those marked, the one seen in most site-seasons.
    """
    index = cultivars.index
    owner = index.get_indexer(pd.Index(picks["cultivar"]))
    known = owner >= 0
    seen = picks[known]
    owner = owner[known]
    middles = seen["middle"].to_numpy(dtype=float)
    middle, se, half = pooled(middles, owner, len(index))
    by_cultivar = seen.groupby(owner)
    check = main_check(picks, cultivars)
    together = seen.merge(
        seen.loc[(seen["cultivar"] == check).to_numpy(dtype=bool), ["site", "season", "middle"]],
        on=["site", "season"],
        how="left",
        suffixes=("", "_check"),
    )
    from_check = (together["middle"] - together["middle_check"]).groupby(owner).mean()

    rows = np.arange(len(index))
    frame = pd.DataFrame(
        {
            "first": by_cultivar["first"].mean().reindex(rows).to_numpy(dtype=float),
            "middle": middle,
            "last": by_cultivar["last"].mean().reindex(rows).to_numpy(dtype=float),
            "earliest": by_cultivar["first"].min().reindex(rows).to_numpy(dtype=float),
            "latest": by_cultivar["last"].max().reindex(rows).to_numpy(dtype=float),
            "se": se,
            "low": middle - half,
            "high": middle + half,
            "from_check": from_check.reindex(rows).to_numpy(dtype=float),
            "seasons": by_cultivar["season"].nunique().reindex(rows, fill_value=0).to_numpy(dtype=int),
            "sites": by_cultivar["site"].nunique().reindex(rows, fill_value=0).to_numpy(dtype=int),
            "method": pd.Series(METHOD, index=index, dtype="str"),
        },
        index=index,
    )
    frame.attrs["check"] = check
    return frame


def main_check(picks: pd.DataFrame, cultivars: pd.DataFrame) -> str:
    """The marked check seen in most site-seasons (the first by name of equals); "" where none was seen."""
    if "check" not in cultivars:
        return ""
    marked = cultivars.index[cultivars["check"].to_numpy(dtype=bool)]
    seen = picks.loc[picks["cultivar"].isin(marked), "cultivar"].value_counts()
    return "" if seen.empty else str(min(seen.index[seen == seen.max()]))


def ripening_band(windows: pd.DataFrame) -> pd.Series:
    """Which fifth of the data's own season each middle falls in: BANDS, or UNKNOWN; index as given."""
    middle = windows["middle"].to_numpy(dtype=float)
    known = np.isfinite(middle)
    band = np.full(len(middle), UNKNOWN, dtype=object)
    if known.any():
        edges = np.quantile(middle[known], [0.2, 0.4, 0.6, 0.8])
        band[known] = np.array(BANDS, dtype=object)[np.searchsorted(edges, middle[known], side="left")]
    return pd.Series(band, index=windows.index, name="band", dtype="str")


def day_label(day: float, south: bool = False, form: str = "short") -> str:
    """A day of the season as a date: "14 Jul" (short) or "14 July" (long); an en dash where not known."""
    if form not in ("short", "long"):
        raise ValueError(f"form {form!r}: short or long")
    if day is None or not np.isfinite(day):
        return "–"
    of_year = (int(np.floor(day + 0.5)) - 1 + (_SOUTHERN_START if south else 0)) % _YEAR
    month = int(np.searchsorted(_STARTS, of_year, side="right")) - 1
    name = _MONTHS[month][0]
    return f"{of_year - int(_STARTS[month]) + 1} {name if form == 'long' else name[:3]}"


def day_of(month: int, day: int, south: bool = False) -> float:
    """The day of the season of a date; ValueError for a date that is in no calendar."""
    if not 1 <= month <= 12:
        raise ValueError(f"month {month}: 1 to 12")
    longest = 29 if month == 2 else _MONTHS[month - 1][1]
    if not 1 <= day <= longest:
        raise ValueError(f"day {day}: 1 to {longest} in {_MONTHS[month - 1][0]}")
    of_year = int(_STARTS[month - 1]) + day
    if not south:
        return float(of_year)
    return float((of_year - _SOUTHERN_START - 1) % _YEAR + 1)


def half_span(half: str, south: bool = False) -> tuple[float, float]:
    """First and last day of a half month: "07a" is 1 to 15 July, "07b" 16 to 31 July."""
    month = int(half[:2])
    if half[2] == "a":
        return day_of(month, 1, south), day_of(month, 15, south)
    return day_of(month, 16, south), day_of(month, _MONTHS[month - 1][1], south)


def half_label(half: str) -> str:
    """ "1–15 Jul" or "16–31 Jul"."""
    name, days = _MONTHS[int(half[:2]) - 1]
    return f"1–15 {name[:3]}" if half[2] == "a" else f"16–{days} {name[:3]}"


def halves(windows: pd.DataFrame, south: bool = False) -> tuple[str, ...]:
    """The half months from the first to the last usual pick of any cultivar, in the season's order."""
    first, last = windows["first"].min(), windows["last"].max()
    if not (np.isfinite(first) and np.isfinite(last)):
        return ()
    every = [f"{month:02d}{part}" for month in range(1, 13) for part in "ab"]
    spans = sorted((half_span(half, south), half) for half in every)
    # Days are rounded as they are written, so that no half month is on offer that nothing is picked in.
    return tuple(half for (opens, closes), half in spans if first < closes + 0.5 and last >= opens - 0.5)


def days_without(windows: pd.DataFrame, season: tuple[float, float]) -> list[tuple[float, float]]:
    """The stretches (first day, last day) of a season on which none of these is usually being picked."""
    days = np.arange(np.floor(season[0] + 0.5), np.floor(season[1] + 0.5) + 1)
    first, last = windows["first"].to_numpy(dtype=float), windows["last"].to_numpy(dtype=float)
    empty = ~((first[:, None] <= days + 0.5) & (last[:, None] >= days - 0.5)).any(axis=0)
    edges = np.flatnonzero(np.diff(np.r_[False, empty, False].astype(int)))
    return [
        (float(days[start]), float(days[end - 1])) for start, end in zip(edges[::2], edges[1::2], strict=True)
    ]


def season_of(windows: pd.DataFrame) -> tuple[float, float]:
    """From the first to the last usual pick of any of these; NaN where none was picked."""
    return float(windows["first"].min()), float(windows["last"].max())
