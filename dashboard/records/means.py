"""Samples of which only the mean of their fruit was kept: with its standard deviation and count it says what the fruit would.

The mean of n fruit and their standard deviation s carry the sum of squares (n - 1) s², so that a sample stands beside others whose
fruit were written down one by one, and weighs as they do.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.schema import TABLES
from dashboard.terms.traits import HEADLINE

# By trait the columns of its mean and its standard deviation, and those of single fruit that give the same.
_COLUMNS = (
    ("size_mm", "size_sd_mm", ("suture_mm", "cross_mm")),
    ("firmness_n", "firmness_sd_n", ("firmness_1_n", "firmness_2_n")),
    ("ssc_brix", "ssc_sd_brix", ("ssc_brix",)),
)
MEANS = dict(zip(HEADLINE, _COLUMNS, strict=True))


def unweighable(
    means: pd.DataFrame, measured: Mapping[str, Container[str]]
) -> Iterator[tuple[int, str, tuple[str, str]]]:
    """Place, column and reason of each mean or deviation that cannot stand beside single fruit.

    A mean of several fruit without their standard deviation cannot be weighed, a deviation alone says nothing, and where the fruit
    themselves were written down (``measured``: the samples by trait) they are what counts.
    """
    several = ~(means["n"].to_numpy(dtype=float) <= 1)
    for trait, (mean, spread, _) in MEANS.items():
        there, told = means[mean].notna().to_numpy(), means[spread].notna().to_numpy()
        doubled = np.array([sample in measured[trait] for sample in means["sample"]], dtype=bool)
        for place in np.flatnonzero((there | told) & (doubled | (there != told) & (told | several))).tolist():
            if doubled[place]:
                said = "stands beside single fruit of the same sample, which are what counts", "take out one of the two"  # fmt: skip
            elif there[place]:
                said = "is a mean without its standard deviation, so it cannot be weighed", "write the deviation beside it"  # fmt: skip
            else:
                said = "is a standard deviation without its mean", "write the mean beside it"
            for column, filled in ((mean, there), (spread, told)):
                if filled[place]:
                    yield place, column, said


def measured_alone(fruit: pd.DataFrame) -> dict[str, set[str]]:
    """By trait the samples of which single fruit were measured."""
    return {
        trait: set(fruit.loc[fruit[list(singles)].notna().all(axis=1).to_numpy(), "sample"])
        for trait, (_, _, singles) in MEANS.items()
    }


def usable_means(means: pd.DataFrame, fruit: pd.DataFrame, findings: Findings) -> pd.DataFrame:
    """The means that can stand beside single fruit; the others are set aside, cell by cell."""
    kept = means.copy()
    for place, column, said in unweighable(means, measured_alone(fruit)):
        findings.set_value_aside(means.index[place], TABLES["means"].by_name[column].spellings, *said)
        kept.loc[means.index[place], column] = np.nan
    return kept


def with_means(summaries: dict[str, object], means: pd.DataFrame, owner: np.ndarray) -> None:
    """Put the means of samples into their summaries; ``owner`` (means,) int: which sample each is of."""
    counts = means["n"].to_numpy(dtype=float)
    for trait, (mean, spread, _) in MEANS.items():
        values, deviation = means[mean].to_numpy(dtype=float), means[spread].to_numpy(dtype=float)
        known = np.isfinite(values) & (owner >= 0)
        squares = np.where(counts > 1, (counts - 1) * np.square(deviation), 0.0)
        for column, found in ((trait, values), (f"{trait}_n", counts), (f"{trait}_ss", squares)):
            summaries[column][owner[known]] = found[known]  # type: ignore[index]
