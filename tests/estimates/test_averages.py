"""Raw averages, which stand in where the records carry no model: means of site-season means, one pooled spread, gaps."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.estimates.averages import COLUMNS, average_values, pooled
from dashboard.estimates.readings import readings
from dashboard.terms.traits import FRUIT_TRAITS, TRAITS

REFERENCE = Path(__file__).parents[1] / "reference"
CERTIFIED_SPREAD = 0.104076068334656  # NIST StRD, SiRstv: residual standard deviation
T_95_ON_20 = 1.7247  # Student's t, 0.95, 20 degrees of freedom, from any printed table


def averages(summaries: pd.DataFrame, trait: str) -> pd.DataFrame:
    return average_values(readings(summaries, trait))


def samples(rows: list[tuple], trait: str = "size") -> pd.DataFrame:
    """Sample summaries of one trait from (cultivar, site, season, value)."""
    frame = pd.DataFrame(rows, columns=["cultivar", "site", "season", trait])
    return frame.assign(**{f"{trait}_n": 10.0})


def test_the_spread_is_the_certified_one_of_the_nist_resistivity_data():
    readings = pd.read_csv(REFERENCE / "sirstv.csv")
    # Instruments stand for cultivars, and each reading of one for a season of its own.
    seasons = readings.groupby("instrument").cumcount()
    values = averages(
        samples(
            list(
                zip(
                    readings["instrument"].astype(str), "AAAAA" * 5, seasons, readings["reading"], strict=True
                )
            )
        ),
        "size",
    )
    assert values["se"].to_numpy() == pytest.approx(CERTIFIED_SPREAD / np.sqrt(5), rel=1e-9)
    half = (values["high"] - values["low"]).to_numpy() / 2
    assert half == pytest.approx(T_95_ON_20 * CERTIFIED_SPREAD / np.sqrt(5), rel=1e-4)


def test_a_site_season_counts_once_however_often_it_was_sampled():
    seen = samples(
        [("A", "Hill", 2021, 60), ("A", "Hill", 2021, 62), ("A", "Hill", 2021, 64), ("A", "River", 2021, 72)]
    )
    row = averages(seen, "size").loc["A"]
    assert row["estimate"] == pytest.approx((62 + 72) / 2)
    assert (row["samples"], row["sites"], row["seasons"], row["fruit"]) == (4, 2, 1, 40)


def test_one_cultivar_seen_often_lends_its_spread_to_one_seen_once():
    seen = samples([("A", "Hill", 2021, 60), ("A", "Hill", 2022, 64), ("B", "Hill", 2021, 70)])
    values = averages(seen, "size")
    spread = np.sqrt((2**2 + 2**2) / 1)  # two deviations of 2, one degree of freedom
    assert values.loc["B", "se"] == pytest.approx(spread)
    assert values.loc["A", "se"] == pytest.approx(spread / np.sqrt(2))
    assert values.loc["B", "low"] < 70 < values.loc["B", "high"]


def test_nothing_to_pool_gives_a_value_without_an_error():
    with np.errstate(all="raise"):
        values = averages(samples([("A", "Hill", 2021, 60), ("B", "Hill", 2021, 70)]), "size")
    assert values["estimate"].tolist() == [60, 70]
    assert values[["se", "low", "high"]].isna().all().all()


def test_an_interval_never_leaves_what_can_be_measured():
    seen = samples([("A", "Hill", year, share) for year, share in enumerate((0, 20, 0, 1))], "split_pit")
    row = averages(seen, "split_pit").loc["A"]
    assert row["low"] == 0
    assert row["high"] > row["estimate"]
    rated = samples([("A", "Hill", year, rating) for year, rating in enumerate((10, 6, 10, 10))], "red")
    assert averages(rated, "red").loc["A", "high"] == 10


def test_a_cultivar_without_a_reading_stays_with_a_gap(summaries):
    row = averages(summaries, "sugar").loc["T 15-118"]
    assert np.isnan(row["estimate"])
    assert row["samples"] == row["fruit"] == 0


def test_every_trait_has_the_same_columns_and_cultivars(summaries):
    for trait in TRAITS:
        frame = averages(summaries, trait)
        assert tuple(frame.columns) == COLUMNS
        assert frame.index.tolist() == sorted(summaries["cultivar"].unique())
        assert (frame["fruit"] > 0).any() == (trait in FRUIT_TRAITS)


@pytest.mark.parametrize("trait", ["size", "red"])
def test_no_samples_give_no_rows(summaries, trait):
    assert averages(summaries.iloc[:0], trait).empty


def test_a_trait_that_was_never_measured_is_all_gaps(summaries):
    without = summaries.drop(columns=[name for name in summaries if name.startswith("size")])
    values = averages(without, "size")
    assert values["estimate"].isna().all()
    assert len(values) == summaries["cultivar"].nunique()


@given(
    st.lists(
        st.tuples(st.sampled_from("ABC"), st.sampled_from("HR"), st.integers(2020, 2024), st.floats(20, 90)),
        min_size=1,
        max_size=40,
    )
)
def test_the_values_agree_with_a_slow_table_calculation(rows):
    seen = samples(rows)
    cells = seen.groupby(["cultivar", "site", "season"])["size"].mean()
    by_cultivar = cells.groupby("cultivar")
    values = averages(seen, "size")
    assert values["estimate"].to_numpy() == pytest.approx(by_cultivar.mean().to_numpy())
    assert values["seasons"].tolist() == seen.groupby("cultivar")["season"].nunique().tolist()
    freedom = len(cells) - by_cultivar.ngroups
    if freedom:
        spread = np.sqrt(((cells - by_cultivar.transform("mean")) ** 2).sum() / freedom)
        assert values["se"].to_numpy() == pytest.approx((spread / np.sqrt(by_cultivar.size())).to_numpy())
    else:
        assert values["se"].isna().all()


def test_owners_without_values_are_missing_not_zero():
    mean, se, half = pooled(np.array([1.0, 3.0]), np.array([1, 1]), 3)
    assert np.isnan(mean[[0, 2]]).all()
    assert np.isnan(se[[0, 2]]).all()
    assert mean[1] == 2
    assert half[1] > se[1]
