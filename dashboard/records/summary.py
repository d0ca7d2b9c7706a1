"""From fruit to sample: means with their within-sample sums of squares, so that nothing about the fruit is lost."""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.records.beyond import limits
from dashboard.records.crops import crops
from dashboard.records.means import with_means
from dashboard.records.past_ends import Limits, Sums, worked_in
from dashboard.records.reading import Records
from dashboard.records.seasons import season_and_day, southern
from dashboard.records.taken import ALL, borne_out
from dashboard.terms.traits import FRUIT_TRAITS, SAMPLE_TRAITS

# Where the judgements of a sample stand in its row.
JUDGED = {"split_pit": "split_pit_pct", "cracked_tip": "cracked_tip_pct"}


def fruit_traits(fruit: pd.DataFrame) -> dict[str, np.ndarray]:
    """Each trait of FRUIT_TRAITS, one value a fruit, (n,) in SI units; missing where a reading it needs is missing.

    Size is the mean of the two diameters (mm), firmness that of the two cheeks (N), cheek difference how far
    these two are apart (N), roundness suture over cross (a ratio), sugar the soluble solids (degrees Brix).
    """
    column = {
        name: fruit[name].to_numpy(dtype=float)
        for name in ("suture_mm", "cross_mm", "firmness_1_n", "firmness_2_n", "ssc_brix")
    }
    return {
        "size": (column["suture_mm"] + column["cross_mm"]) / 2,
        "firmness": (column["firmness_1_n"] + column["firmness_2_n"]) / 2,
        "sugar": column["ssc_brix"],
        "cheek_difference": np.abs(column["firmness_1_n"] - column["firmness_2_n"]),
        "roundness": column["suture_mm"] / column["cross_mm"],
    }


def sample_summaries(records: Records) -> pd.DataFrame:
    """One row a sample, in the order of the samples, SI units.

    Columns: sample, cultivar, site, date, season (int), day (float, day of season), slack (days by which the day may be
    off either way), pick, crop (of its trees, 1 the first, NaN where not known); day and date missing where only the year is known; for each trait measured on fruit its mean, ``_n`` (fruit measured) and ``_ss`` (sum of squares about the sample's mean),
    mean and ``_ss`` missing where no fruit was measured; for each trait judged once a sample its value. Where only means were kept
    (``means``), they stand in the place of fruit. Readings past an end of their instrument (``beyond``) are worked in
    (``past_ends``); ``_n`` is then how many fruit the mean is known by. Where not all fruit were sampled alike, size_taken says how and size_floor from which
    diameter on (NaN where that is not known).
    """
    samples, fruit = records.tables["samples"], records.tables["fruit"]
    season, day = season_and_day(samples["date"], southern(records.tables["sites"], samples["site"]))
    columns: dict[str, object] = {name: samples[name] for name in ("sample", "cultivar", "site", "date")}
    known = {
        precision: (samples["date_precision"] == precision).to_numpy(dtype=bool)
        for precision in ("week", "year")
    }
    columns |= {
        "date": samples["date"].mask(known["year"]), "season": season, "day": np.where(known["year"], np.nan, day),
        "slack": np.where(known["week"], 3.0, 0.0), "pick": samples["pick"].to_numpy(dtype=float),
        "crop": crops(records.tables.get("trees"), samples[["cultivar", "site"]].assign(season=season)),
    }  # fmt: skip
    owner = pd.Index(samples["sample"]).get_indexer(pd.Index(fruit["sample"]))
    values = fruit_traits(fruit)
    for trait in FRUIT_TRAITS:
        sums = _moments(values[trait], owner, len(samples))
        if len(beyond := limits(records.tables["beyond"], fruit, trait)):
            sums = _with_limits(sums, beyond, samples, season)
        columns |= {trait: sums.mean, f"{trait}_n": sums.n, f"{trait}_ss": sums.ss}
    means = records.tables["means"]
    with_means(columns, means, pd.Index(samples["sample"]).get_indexer(pd.Index(means["sample"])))
    how = borne_out(records.declaration.taken, values["size"])
    if how.way != ALL:
        columns |= {
            "size_taken": how.way,
            "size_floor": np.nan if how.smallest_mm is None else how.smallest_mm,
        }
    for trait in SAMPLE_TRAITS:
        columns[trait] = samples[JUDGED.get(trait, trait)].to_numpy(dtype=float)
    return pd.DataFrame(columns)


def fruit_counts(summaries: pd.DataFrame, fruit: pd.DataFrame) -> np.ndarray:
    """How many fruit each sample had, (samples,) int: those written down one by one, or those its means were taken of."""
    owner = fruit["sample"] if "sample" in fruit else pd.Series(dtype=object)  # of a catalogue made by hand
    written = owner.value_counts().reindex(summaries["sample"], fill_value=0).to_numpy()
    counts = [f"{trait}_n" for trait in FRUIT_TRAITS if f"{trait}_n" in summaries]
    meant = np.nan_to_num(summaries[counts].to_numpy(dtype=float)).max(axis=1, initial=0)
    return np.maximum(written, meant).astype(int)


def fruit_values(records: Records) -> pd.DataFrame:
    """One row a fruit: sample, cultivar, site, season (int), and each trait measured on fruit, SI units."""
    samples, fruit = records.tables["samples"], records.tables["fruit"]
    season, _ = season_and_day(samples["date"], southern(records.tables["sites"], samples["site"]))
    owner = pd.Index(samples["sample"]).get_indexer(pd.Index(fruit["sample"]))
    columns: dict[str, object] = {
        "sample": fruit["sample"],
        "cultivar": samples["cultivar"].array[owner],
        "site": samples["site"].array[owner],
        "season": season[owner],
    }
    return pd.DataFrame(columns | fruit_traits(fruit))


def _with_limits(sums: Sums, beyond: pd.DataFrame, samples: pd.DataFrame, season: np.ndarray) -> Sums:
    of = pd.Index(samples["sample"]).get_indexer(pd.Index(beyond["sample"]))
    found = Limits(of, beyond["end"].to_numpy(dtype=float), beyond["above"].to_numpy(dtype=bool))
    environment = pd.MultiIndex.from_arrays([samples["site"], season])
    return worked_in(sums, found, pd.factorize(samples["cultivar"])[0], pd.factorize(environment)[0])


def _moments(values: np.ndarray, owner: np.ndarray, owners: int) -> Sums:
    """Mean, count and sum of squares about the mean of each owner's finite values, each (owners,) float."""
    seen = np.isfinite(values) & (owner >= 0)
    owner, values = owner[seen], values[seen]
    count = np.bincount(owner, minlength=owners).astype(float)
    known = np.where(count > 0, count, np.nan)
    mean = np.bincount(owner, weights=values, minlength=owners) / known
    squares = np.bincount(owner, weights=np.square(values - mean[owner]), minlength=owners)
    return Sums(mean, count, np.where(count > 0, squares, np.nan))
