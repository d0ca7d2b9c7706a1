"""Standard deviations behind means that differ from those of other seasons as an error of a mean differs: one was typed for the other.

Fruit of a sample vary much alike from season to season; an error of the mean of ten is a third of their deviation (its root of ten). All
limits are common practice, no source.
"""

from __future__ import annotations

import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.means import MEANS
from dashboard.records.seasons import season_and_day, southern

ENOUGH, TIMES = 4, 2.2  # samples of a season, and of the others; and how many times as large
_FRUIT = 5  # of which a deviation says something


def suspect_spreads(
    means: pd.DataFrame, samples: pd.DataFrame, fruit: pd.DataFrame, sites: pd.DataFrame, findings: Findings
) -> None:
    """Flag the first mean of a season whose deviations are far from those of all other samples."""
    season = pd.Series(
        season_and_day(samples["date"], southern(sites, samples["site"]))[0], samples["sample"]
    )
    season = season[~season.index.duplicated()]
    singles = pd.DataFrame({trait: fruit[list(columns)].mean(axis=1, skipna=False) for trait, (*_, columns) in MEANS.items()})  # fmt: skip
    by_sample = singles.groupby(fruit["sample"].to_numpy())
    of_fruit = by_sample.std().where(by_sample.count() >= _FRUIT)
    for trait, (_, column, _) in MEANS.items():
        told = means[column].where((means[column] > 0) & (means["n"] >= _FRUIT))
        here = means["sample"].map(season)
        spreads = pd.concat(
            [
                told.set_axis(pd.Index(here)),
                of_fruit[trait].set_axis(pd.Index(season.reindex(of_fruit.index))),
            ]
        ).dropna()
        for one, rows in told.dropna().groupby(here):
            others = spreads[spreads.index != one]
            ratio = float(rows.median()) / float(others.median()) if len(others) else 1.0
            if len(rows) < ENOUGH or len(others) < ENOUGH or 1 / TIMES < ratio < TIMES:
                continue
            size = f"{ratio:.1f} times" if ratio > 1 else f"1/{1 / ratio:.1f} of"
            findings.flag(
                int(rows.index[0]), column, f"{rows.iloc[0]:g}", f"is one of {len(rows)} deviations of {one:.0f} that are {size} those of other seasons",
                "look whether errors of the mean were taken for deviations, or the other way round",
            )  # fmt: skip
