"""What a frost takes, by published kill temperatures."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.site.frost import STAGES, celsius, crop_left, lost, lost_by_stage, share_killed, springs
from dashboard.site.station import station
from tests.site.places import place, weather

PUBLISHED = pd.read_csv(Path(__file__).parents[1] / "reference" / "peach_frost.csv")


@pytest.mark.parametrize(
    ("stage", "row"),
    list(zip(STAGES, PUBLISHED.itertuples(index=False), strict=True)),
    ids=lambda one: str(one[0]),
)
def test_a_tenth_and_nine_tenths_die_at_the_published_temperatures(stage, row):
    assert (stage.name, stage.kills_10_f, stage.kills_90_f) == (row.stage, row.kills_10_f, row.kills_90_f)
    assert [celsius(stage.kills_10_f), celsius(stage.kills_90_f)] == pytest.approx(
        [row.kills_10_c, row.kills_90_c], abs=0.006
    )
    assert share_killed(np.array([celsius(row.kills_10_f), celsius(row.kills_90_f)]), stage) == pytest.approx(
        [0.1, 0.9]
    )


@given(st.floats(-30, 10), st.floats(0, 10), st.sampled_from(STAGES))
def test_a_colder_night_never_kills_less(lowest, colder, stage):
    assert share_killed(np.array(lowest - colder), stage) >= share_killed(np.array(lowest), stage)


def frosty(on: str, lowest: float):
    made = weather("2020-01-01", "2020-12-31", mean=18.0, swing=3.0)
    made = made.assign(tmin_c=made["tmin_c"].clip(lower=5.0), tmax_c=made["tmax_c"].clip(lower=12.0))
    made.loc[made["date"] == on, "tmin_c"] = lowest
    return station(made, "Warm Flat", 33.0)


def test_one_frost_in_full_bloom_takes_what_the_table_says():
    here = frosty("2020-04-01", celsius(24))
    day = pd.Timestamp("2020-04-01").day_of_year
    assert lost(here, 2020, np.array([day]))[0] == pytest.approx(0.9)
    assert lost(here, 2020, np.array([day + 15]))[0] < 0.5  # still pink
    assert lost(here, 2020, np.array([day - 40]))[0] < 0.001
    assert lost_by_stage(here, 2020, np.array([day])).argmax() == 5
    assert np.isnan(lost(here, 2020, np.array([np.nan]))[0])


def test_only_springs_without_a_gap_are_told():
    made = weather("2018-01-01", "2021-12-31")
    gone = made[(made["date"] < "2019-03-01") | (made["date"] > "2019-03-09")]
    assert springs(station(gone, "Warm Flat", 33.0)) == [2018, 2020, 2021]
    assert springs(place(latitude=-33.0))[-1] == 2024


def test_a_crop_is_full_while_one_flower_in_ten_is_left():
    assert crop_left(np.array([0.0, 0.9, 0.95, 1.0])) == pytest.approx([1, 1, 0.5, 0])
