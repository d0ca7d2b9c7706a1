"""When cultivars were picked, as the records say it: days of the season by site and season, and their plain averages."""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.estimates import pooled
from dashboard.ripening.days import half_months, half_span
from dashboard.terms.traits import UNKNOWN

METHOD = "raw averages"
BANDS = ("very early", "early", "main", "late", "very late")


def picks(summaries: pd.DataFrame) -> pd.DataFrame:
    """One row a cultivar × site × season: cultivar, site, season, first, middle, last (days of the season).

    The middle is the mean of the days on which it was picked, each day counted once however many samples. Where a column
    ``slack`` says by how many days a day may be off, first and last are the earliest and the latest it may have been.
    """
    keys = ["cultivar", "site", "season"]
    known = summaries["day"].notna() & summaries["cultivar"].notna()
    dated = summaries.loc[known, [*keys, "day"]].assign(
        slack=summaries["slack"][known] if "slack" in summaries else 0.0
    )
    dated = dated.drop_duplicates().assign(
        first=lambda one: one["day"] - one["slack"], last=lambda one: one["day"] + one["slack"]
    )
    days = dated.groupby(keys, dropna=False, observed=True)
    return (
        days.agg(first=("first", "min"), middle=("day", "mean"), last=("last", "max"))
        .astype(float)
        .reset_index()
    )


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


def halves(windows: pd.DataFrame, south: bool = False) -> tuple[str, ...]:
    """The half months from the first to the last usual pick of any cultivar, in the season's order."""
    first, last = windows["first"].min(), windows["last"].max()
    if not (np.isfinite(first) and np.isfinite(last)):
        return ()
    spans = sorted((half_span(half, south), half) for half in half_months())
    # Days are rounded as they are written, so that no half month is on offer that nothing is picked in.
    return tuple(half for (opens, closes), half in spans if first < closes + 0.5 and last >= opens - 0.5)


def days_without(windows: pd.DataFrame, season: tuple[float, float]) -> list[tuple[float, float]]:
    """The stretches (first day, last day) of a season on which none of these is usually being picked."""
    days = np.arange(np.floor(season[0] + 0.5), np.floor(season[1] + 0.5) + 1)
    first, last = windows["first"].to_numpy(dtype=float), windows["last"].to_numpy(dtype=float)
    picked = (first[:, None] <= days + 0.5) & (last[:, None] >= days - 0.5)
    return [(float(days[start]), float(days[end - 1])) for start, end in stretches(~np.any(picked, axis=0))]


def stretches(marked: np.ndarray) -> list[tuple[int, int]]:
    """(start, end) of each run of True, the end not within."""
    edges = np.flatnonzero(np.diff(np.r_[False, marked, False].astype(int)))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))


def season_of(windows: pd.DataFrame) -> tuple[float, float]:
    """From the first to the last usual pick of any of these; NaN where none was picked."""
    return float(windows["first"].min()), float(windows["last"].max())
