"""The truth behind the demo records: spread as asked, and going together as in the trade."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.places import demo_data
from dashboard.terms.traits import TRAITS
from dashboard.terms.units import MM_PER_INCH, N_PER_LBF


def test_firmer_fruit_is_smaller_and_less_sweet_and_later_picks_are_softer(tables, samples):
    size = tables["fruit"][["suture_mm", "cross_mm"]].mean(axis=1, skipna=False)
    firm = tables["fruit"][["firmness_1_n", "firmness_2_n"]].mean(axis=1, skipna=False)
    within = pd.DataFrame({"size": size, "firm": firm, "sugar": tables["fruit"]["ssc_brix"]})
    within = within - within.groupby(tables["fruit"]["sample"]).transform("mean")
    among = within.corr()
    assert among.loc["firm", "size"] < -0.2
    assert among.loc["firm", "sugar"] < -0.3
    cell = samples.groupby(["cultivar", "site", "season"])
    between = samples[["size", "firmness", "sugar", "pick"]] - cell[
        ["size", "firmness", "sugar", "pick"]
    ].transform("mean")
    among = between.corr()
    assert among.loc["firmness", "size"] < -0.2
    assert among.loc["firmness", "sugar"] < -0.2
    assert among.loc["firmness", "pick"] < -0.1


def test_cheeks_differ_by_cultivar(tables, samples, truth):
    apart = (tables["fruit"]["firmness_1_n"] - tables["fruit"]["firmness_2_n"]).abs()
    mean = apart.groupby(tables["fruit"]["sample"]).mean().reindex(samples["sample"]).to_numpy()
    seen = samples.assign(apart=mean).groupby("cultivar")["apart"].mean()
    true = truth.set_index("cultivar")["cheek_difference"].reindex(seen.index)
    assert np.corrcoef(seen, true)[0, 1] > 0.7
    assert (apart > 4 * N_PER_LBF).mean() < 0.01


def test_true_values_go_together_as_in_the_trade(truth):
    among = truth[["size", "sugar", "split_pit", "attractiveness", "middle_day"]].corr()
    assert among.loc["size", "middle_day"] > 0.25
    assert among.loc["sugar", "middle_day"] > 0.25
    assert among.loc["split_pit", "middle_day"] < -0.3
    assert among.loc["size", "attractiveness"] > 0.2
    shape = truth.groupby("shape_type").mean(numeric_only=True)
    assert shape.loc["flat", "size"] < shape.loc["round", "size"]
    assert shape.loc["flat", "cracked_tip"] > 3 * shape.loc["round", "cracked_tip"]
    assert shape.loc["flat", "split_pit"] > shape.loc["round", "split_pit"]
    assert abs(shape.loc["flat", "roundness"] - shape.loc["round", "roundness"]) < 0.03
    texture = truth.groupby("flesh_texture")["firmness"].mean()
    assert texture["melting"] < texture["non-melting"] < texture["stony hard"]
    fruit_type = truth.groupby("fruit_type")["size"].mean()
    assert fruit_type["nectarine"] < fruit_type["peach"]
    sugar = truth.groupby(["flesh_colour", "acidity_class"])["sugar"].mean()
    assert sugar["white", "low"] > sugar["yellow", "normal"]


def test_true_values_spread_as_asked(truth):
    components = pd.read_csv(demo_data() / "truth" / "variance_components.csv").set_index(["trait", "term"])[
        "sd"
    ]
    wanted = {"size": 0.20 * MM_PER_INCH, "firmness": 1.6 * N_PER_LBF, "sugar": 1.0, "red": 0.9, "shape": 0.9}
    for trait, sd in wanted.items():
        assert components[trait, "cultivar"] == pytest.approx(sd, rel=1e-3)
        assert truth[trait].std() == pytest.approx(sd, rel=0.08)
    assert components["size", "fruit"] == pytest.approx(0.17 * MM_PER_INCH, rel=1e-3)
    assert components["firmness", "sample"] == pytest.approx(1.3 * N_PER_LBF, rel=1e-3)
    assert set(TRAITS) <= set(truth.columns)


def test_averages_of_the_records_find_the_truth(samples, truth):
    of_seasons = samples.groupby(["cultivar", "site", "season"])[["size", "firmness", "sugar"]].mean()
    seen = of_seasons.groupby("cultivar").mean()
    true = truth.set_index("cultivar").loc[seen.index]
    for trait in seen:
        assert 0.7 < np.corrcoef(seen[trait], true[trait])[0, 1] < 0.97


def test_every_large_class_has_weeks_with_next_to_nothing(truth):
    round_ones = truth[truth["shape_type"] != "flat"]
    for (fruit_type, colour), group in round_ones.groupby(["fruit_type", "flesh_colour"]):
        if len(group) < 30:
            continue
        days = np.sort(group["middle_day"])
        inside = days[(days > 160) & (days < 238)]
        assert np.diff(inside).max() >= 4, (fruit_type, colour)


def test_early_fruit_clings_and_late_fruit_is_free(truth):
    day = truth.groupby("stone")["middle_day"].mean()
    assert day["free"] - day["cling"] > 8
