"""The long table of estimates: the page's own numbers, tidy, for one trait or all."""

from __future__ import annotations

import io

import pandas as pd
import pytest

from dashboard.handout.estimates import COLUMNS, estimate, estimates, remarks, text
from dashboard.places import demo_data
from dashboard.terms.traits import TRAITS


def test_the_columns_are_those_promised_and_no_cell_is_empty(demo):
    rows = estimates(demo)
    assert tuple(rows.columns) == COLUMNS
    assert set(rows["trait"]) == set(TRAITS)
    assert not rows.isna().any().any()
    assert not rows.duplicated(["cultivar", "trait"]).any()


def test_the_numbers_are_the_page_s(demo):
    rows = estimates(demo).set_index(["trait", "cultivar"])
    for trait, values in demo.values.items():
        known = values[values["estimate"].notna()]
        for column in ("estimate", "se", "low", "high", "fruit", "samples", "sites", "seasons"):
            assert rows.loc[trait].loc[known.index, column].tolist() == known[column].tolist()


def test_one_trait_by_key_or_label(demo):
    assert set(estimates(demo, "sugar")["trait"]) == {"sugar"}
    pd.testing.assert_frame_equal(estimates(demo, "Split pits"), estimates(demo, "split_pit"))


def test_one_site_has_its_own_values(demo):
    here = estimates(demo, "size", "ondry").set_index("cultivar")
    assert here["estimate"].tolist() == demo.worth["size"].at["ondry"]["estimate"].tolist()
    assert set(here["sites"]) <= {0, 1}


@pytest.mark.parametrize(
    ("trait", "site", "says"), [("weight", None, "size, firmness"), (None, "nowhere", "maravel")]
)
def test_what_is_not_there_is_told_with_what_is(demo, trait, site, says):
    with pytest.raises(ValueError, match=says):
        estimates(demo, trait, site)


def test_the_file_is_the_table(demo, tmp_path):
    place = tmp_path / "values.csv"
    rows = estimate(demo_data(), "size", out=place)
    written = pd.read_csv(place)
    pd.testing.assert_frame_equal(written, rows, check_dtype=False)
    assert b"\r" not in place.read_bytes()


def test_a_name_that_looks_like_a_formula_is_text():
    row = dict.fromkeys(COLUMNS, 1.0) | {"cultivar": "=1+1", "trait": "size"}
    assert pd.read_csv(io.StringIO(text(pd.DataFrame([row]))))["cultivar"].tolist() == ["'=1+1"]


def test_the_remarks_say_what_values_stand_for(demo, catalogue):
    assert any("over sites and seasons" in line for line in remarks(demo))
    assert all(line.startswith("Sugar: ") for line in remarks(catalogue, "sugar"))
    assert any("11 cultivars" in line or "10 cultivars" in line for line in remarks(catalogue))
