"""The files of the invented demo records: whole, small, coined names only, made anew byte for byte."""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
from pathlib import Path

import pandas as pd
import pytest

from dashboard.places import demo_data
from dashboard.terms.traits import CLASSES
from dashboard.terms.units import MM_PER_INCH, N_PER_LBF

COLUMNS = {
    "samples": "sample cultivar site date pick shape fuzz red attractiveness split_pit_pct cracked_tip_pct photo note",
    "fruit": "sample fruit suture_mm cross_mm firmness_1_n firmness_2_n ssc_brix",
    "trees": "site row position cultivar rootstock planted removed",
    "yields": "cultivar site year pick kg_per_tree trees",
    "bloom": "cultivar site year full_bloom",
    "weather": "site date tmin_c tmax_c",
    "nursery": "cultivar nursery rootstock season price_per_tree bundle trees_available",
    "sites": "site name latitude_deg longitude_deg elevation_m host",
}
# Pieces that names of grown cultivars are commonly made of (common knowledge of the trade, no source).
PIECES = "haven prince crest gem lady zee top king queen sun red glo fire star bella blaze peach nect gold snow flam"


def test_the_folder_says_that_it_is_invented_and_is_small():
    said = json.loads((demo_data() / "datapackage.json").read_text(encoding="utf-8"))["orchard_slate"]
    assert said["invented"] is True
    assert said["tip_mm"] == 8
    assert said["seasons"] == [2016, 2025]
    assert "nvented" in (demo_data() / "README.md").read_text(encoding="utf-8")
    assert "invented" in (demo_data() / "truth" / "README.md").read_text(encoding="utf-8")
    assert sum(path.stat().st_size for path in demo_data().rglob("*") if path.is_file()) < 15e6


@pytest.mark.parametrize("name", COLUMNS)
def test_tables_have_the_canonical_columns(tables, name):
    assert list(tables[name].columns) == COLUMNS[name].split()


def test_keys_are_unique_and_point_to_rows_that_exist(tables):
    keys = {"cultivars": ["cultivar"], "samples": ["sample"], "fruit": ["sample", "fruit"]}
    keys |= {"trees": ["site", "row", "position"], "bloom": ["cultivar", "site", "year"]}
    keys |= {"yields": ["cultivar", "site", "year", "pick"], "weather": ["site", "date"]}
    keys |= {"nursery": ["cultivar", "nursery", "rootstock", "season"]}
    for name, key in keys.items():
        assert not tables[name].duplicated(key).any(), name
    assert not tables["samples"].duplicated(["cultivar", "site", "date"]).any()
    for name in ("samples", "trees", "bloom", "yields", "nursery"):
        assert set(tables[name]["cultivar"]) <= set(tables["cultivars"]["cultivar"])
    assert set(tables["fruit"]["sample"]) == set(tables["samples"]["sample"])


def test_classes_have_the_shares_asked_for_and_some_facts_are_missing(tables):
    cultivars = tables["cultivars"]
    wanted = {
        ("fruit_type", "peach"): 0.62,
        ("flesh_colour", "yellow"): 0.68,
        ("flesh_colour", "white"): 0.30,
    }
    wanted |= {
        ("acidity_class", "low"): 0.25,
        ("shape_type", "flat"): 0.07,
        ("flesh_texture", "melting"): 0.75,
    }
    wanted |= {
        ("flesh_texture", "stony hard"): 0.07,
        ("status", "released"): 0.45,
        ("protected", "yes"): 0.30,
    }
    for (column, option), share in wanted.items():
        found = cultivars[column].value_counts(normalize=True)
        assert found[option] == pytest.approx(share, abs=0.06), (column, option)
    facts = cultivars[[*CLASSES, "flesh_texture"]]
    assert 0.04 <= facts.isna().mean().mean() <= 0.08
    assert facts.isna().mean().idxmax() == "stone"
    for column, (_, words) in CLASSES.items():
        assert set(cultivars[column].dropna()) <= set(words)
    assert cultivars["bacterial_spot"].dropna().between(0, 5).all()


def test_names_are_coined_and_like_no_grown_cultivar(tables):
    names = tables["cultivars"]
    coined = names[names["status"] == "released"]["cultivar"]
    assert coined.str.fullmatch(r"[A-Z][a-z]{3,8}").all()
    for piece in PIECES.split():
        assert not coined.str.casefold().str.contains(piece).any(), piece
    codes = names[names["status"] == "numbered selection"]["cultivar"]
    assert codes.str.fullmatch(r"(K|MV)\d\d-\d{3}").all()


def test_weather_is_whole_and_of_a_stone_fruit_climate(tables):
    weather = tables["weather"].assign(date=pd.to_datetime(tables["weather"]["date"]))
    for _, here in weather.groupby("site"):
        assert (here["date"].diff().dropna() == pd.Timedelta(days=1)).all()
        assert here["date"].dt.year.nunique() >= 25
    assert (weather["tmin_c"] <= weather["tmax_c"]).all()
    mean = (weather["tmin_c"] + weather["tmax_c"]) / 2
    monthly = mean.groupby(weather["date"].dt.month).mean()
    assert -4 < monthly[1] < 3
    assert 21 < monthly[7] < 27


def test_offers_come_from_three_nurseries_for_released_cultivars(tables):
    offers = tables["nursery"].merge(tables["cultivars"][["cultivar", "status"]], on="cultivar")
    assert offers["nursery"].nunique() == 3
    assert set(offers["status"]) == {"released"}
    assert set(offers["bundle"]) == {5, 10}
    assert offers["price_per_tree"].between(5, 20).all()
    assert (offers["trees_available"] >= 0).all()


def test_the_workbook_holds_one_block_in_inches_and_pounds_force(tables):
    book = pd.read_excel(demo_data() / "workbook.xlsx", sheet_name=None, engine="calamine")
    assert set(book) == {"about", "cultivars", "sites", "samples", "fruit"}
    about = book["about"].set_index("item")["value"]
    assert about["invented"] == "yes"
    assert book["sites"]["site"].tolist() == ["tessock"]
    ours = tables["samples"].query("site == 'tessock'")["sample"]
    assert book["samples"]["sample"].tolist() == ours.tolist()
    assert set(pd.to_datetime(book["samples"]["date"]).dt.year) == set(range(2016, 2026))
    both = book["fruit"].merge(tables["fruit"], on=["sample", "fruit"], validate="1:1")
    assert len(both) == tables["fruit"]["sample"].isin(ours).sum()
    assert (both["suture_in"] * MM_PER_INCH - both["suture_mm"]).abs().max() <= 0.005 * MM_PER_INCH + 1e-6
    assert (both["firmness_1_lbf"] * N_PER_LBF - both["firmness_1_n"]).abs().max() <= 0.05 * N_PER_LBF + 1e-6


def made(folder: Path, seed: int) -> dict[str, str]:
    """Content hash by file of a small valley made in ``folder``."""
    command = [sys.executable, str(demo_data() / "make.py"), "--folder", str(folder), "--seed", str(seed)]
    done = subprocess.run([*command, "--cultivars", "40", "--seasons", "3"], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    files = [path for path in sorted(folder.rglob("*")) if path.is_file()]
    return {str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest() for path in files}


@pytest.mark.slow
def test_the_same_seed_makes_the_same_bytes_and_another_seed_does_not(tmp_path):
    one, again, other = (made(tmp_path / name, seed) for name, seed in (("a", 3), ("b", 3), ("c", 4)))
    assert {"samples.csv", "workbook.xlsx", "datapackage.json"} <= set(one)
    assert one == again
    assert one["fruit.csv"] != other["fruit.csv"]
