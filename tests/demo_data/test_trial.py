"""The invented trial ran as trials do: who stood where, when it was picked, how it was read."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.places import demo_data

RATINGS = ["shape", "fuzz", "red", "attractiveness"]


def test_a_quarter_to_two_fifths_of_the_station_stands_in_any_season(tables, samples):
    planted = tables["trees"].query("site == 'maravel'")["cultivar"].nunique()
    assert 340 <= planted <= 360
    share = samples.query("site == 'maravel'").groupby("season")["cultivar"].nunique() / planted
    assert list(share.index) == list(range(2016, 2026))
    assert share.between(0.25, 0.40).all()
    for block in ("tessock", "ondry"):
        assert 80 <= samples.loc[samples["site"] == block, "cultivar"].nunique() <= 100


def test_checks_are_sampled_everywhere_in_every_season(checks, samples):
    assert len(checks) == 4
    cells = samples[samples["cultivar"].isin(checks)].groupby("cultivar")[["site", "season"]]
    assert (cells.apply(lambda cell: len(cell.drop_duplicates())) == 30).all()


def test_others_come_and_go_and_the_poor_ones_go_sooner(checks, samples, truth):
    station = samples.query("site == 'maravel'")
    seasons = station[~station["cultivar"].isin(checks)].groupby("cultivar")["season"]
    assert seasons.nunique().max() <= 7
    assert (seasons.max() - seasons.min() < 7).all()
    seen = truth.set_index("cultivar").join(seasons.nunique().rename("stayed"), how="inner")
    seen = seen[seen["entered"].between(2016, 2019)]  # had time to stay for seven seasons
    merit = seen[["size", "sugar", "attractiveness"]].rank().mean(axis=1)
    assert np.corrcoef(merit, seen["stayed"])[0, 1] > 0.25


def test_a_season_has_one_to_four_picks_numbered_in_order(samples):
    cells = samples.sort_values("day").groupby(["cultivar", "site", "season"])["pick"]
    assert cells.apply(lambda pick: list(pick) == list(range(1, len(pick) + 1))).all()
    share = cells.size().value_counts(normalize=True).reindex(range(1, 5))
    assert share.to_numpy() == pytest.approx([0.12, 0.28, 0.40, 0.20], abs=0.03)
    window = samples.groupby(["cultivar", "site", "season"])["day"].agg(np.ptp)
    assert window.max() <= 14


def test_each_block_is_walked_on_its_own_days_at_most_twice_a_week(samples):
    week = samples["date"].dt.isocalendar().week
    assert samples.groupby(["site", "season", week])["date"].nunique().max() == 2
    assert samples.groupby("site")["date"].apply(lambda date: date.dt.day_of_week.nunique()).max() == 2


def test_ten_fruit_make_a_sample_and_a_few_samples_are_short(tables):
    number = tables["fruit"].groupby("sample").size()
    assert number.between(3, 10).all()
    assert 0.06 <= (number < 10).mean() <= 0.10
    assert 4500 <= len(number) <= 5500
    assert tables["samples"][RATINGS].isna().mean().between(0.03, 0.05).all()


def test_readings_are_rounded_as_instruments_read_and_within_what_can_be(tables):
    fruit = tables["fruit"]
    for column, low, high in (("suture_mm", 15, 150), ("cross_mm", 15, 150), ("ssc_brix", 0, 35)):
        assert fruit[column].dropna().between(low, high).all()
    for column in ("firmness_1_n", "firmness_2_n"):
        assert fruit[column].dropna().between(0.1, 150).all()
    readings = fruit.drop(columns=["sample", "fruit"])
    assert np.allclose(readings * 10, (readings * 10).round(), atol=1e-6, equal_nan=True)
    ratings = tables["samples"][RATINGS]
    assert np.allclose(ratings * 2, (ratings * 2).round(), equal_nan=True)
    assert ratings.min().min() >= 0
    assert ratings.max().max() <= 10


def test_ripening_runs_from_late_may_to_mid_september_and_is_thin_at_both_ends(samples, truth):
    first, last = samples["day"].quantile([0.005, 0.995])
    assert 135 <= first <= 155  # 15 May to 4 June
    assert 245 <= last <= 265  # 2 to 22 September
    month = samples["date"].dt.month.value_counts(normalize=True)
    assert month[7] + month[8] > 0.65
    assert month[5] + month[9] < 0.12
    shift = pd.read_csv(demo_data() / "truth" / "season_shifts.csv").pivot(
        index="season", columns="site", values="shift_days"
    )
    assert 4 < shift["maravel"].std() < 8
    assert shift.corr().to_numpy().min() > 0.8


def test_bloom_is_in_spring_and_trees_bear_after_they_are_planted(tables, samples):
    bloom = pd.to_datetime(tables["bloom"]["full_bloom"])
    assert (bloom.dt.year == tables["bloom"]["year"]).all()
    assert bloom.dt.month.isin([3, 4]).mean() > 0.98
    standing = (
        tables["trees"]
        .groupby(["cultivar", "site"])
        .agg(planted=("planted", "min"), removed=("removed", lambda year: year.max(skipna=False)))
    )
    picked = samples.groupby(["cultivar", "site"])["season"].agg(["min", "max"]).join(standing, how="left")
    assert (picked["min"] > picked["planted"]).all()
    assert (picked["max"] <= picked["removed"].fillna(9999)).all()
