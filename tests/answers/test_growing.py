"""What is recorded beside the fruit, a row a cultivar: by hand, and against what is told of one cultivar."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from dashboard.answers.growing import growing
from dashboard.answers.question import Question
from dashboard.wording.columns import COLUMNS

YIELDS = pd.DataFrame(
    [
        ("Aldermere", "Hill", 2021, 1, 10.0), ("Aldermere", "Hill", 2021, 2, 20.0), ("Aldermere", "River", 2021, 1, 40.0),
        ("Briskwell", "Hill", 2021, 1, np.nan), ("Candover", "Hill", 2022, 1, 12.5),
    ],
    columns=["cultivar", "site", "year", "pick", "kg_per_tree"],
)  # fmt: skip
OFFERS = pd.DataFrame(
    [
        ("Aldermere", "Upper Nursery", "2024", 7.0, 90), ("Aldermere", "Upper Nursery", "2025", 8.0, 90),
        ("Aldermere", "Lower Trees", "2025", 9.5, np.nan), ("Aldermere", "Third", "2025", 5.0, 0),
        ("Briskwell", "Upper Nursery", "2025", 8.0, 0), ("Candover", "Upper Nursery", "2024", np.nan, 10),
    ],
    columns=["cultivar", "nursery", "season", "price_per_tree", "trees_available"],
)  # fmt: skip


@pytest.fixture(scope="module")
def rows(catalogue) -> pd.DataFrame:
    return growing(replace(catalogue, records_tables={"yields": YIELDS, "nursery": OFFERS}))


def test_a_crop_is_all_picks_of_a_site_and_year(rows):
    """By hand: crops of 10 + 20 and of 40 kg; a pick that was not weighed is no crop."""
    told = rows[["yield_kg", "yield_low", "yield_high", "crops"]]
    assert told.loc["Aldermere"].tolist() == [35.0, 30.0, 40.0, 2.0]
    assert told.loc["Candover"].tolist() == [12.5, 12.5, 12.5, 1.0]
    assert told.loc[["Briskwell", "Dunmarrow"]].isna().all(axis=None)


def test_offers_are_the_newest_that_still_have_trees(rows):
    told = rows[["offers", "price_low", "price_high", "nurseries"]]
    assert told.loc["Aldermere"].tolist() == ["2025", 8.0, 9.5, "Upper Nursery, Lower Trees"]
    assert told.loc["Briskwell", ["offers", "nurseries"]].tolist() == ["2025", ""]  # sold out
    assert told.loc["Candover", ["offers", "nurseries"]].tolist() == ["2024", "Upper Nursery"]
    assert told.loc["Dunmarrow", ["offers", "nurseries"]].tolist() == ["", ""]
    assert told.loc[["Briskwell", "Candover", "Dunmarrow"], ["price_low", "price_high"]].isna().all(axis=None)


def test_records_without_such_tables_tell_nothing(catalogue):
    rows = growing(replace(catalogue, records_tables={}))
    assert rows.index.tolist() == catalogue.cultivars.index.tolist()
    assert rows[["yield_kg", "price_low"]].isna().all(axis=None)
    assert set(rows["offers"]) == set(rows["nurseries"]) == {""}


def test_it_is_what_the_records_say_of_each(demo):
    rows, known = growing(demo), demo.cultivars
    assert rows.index.equals(known.index)
    for column, recorded in (
        ("chill_h", "chill_requirement_h"), ("chill_cp", "chill_requirement_cp"), ("bacterial_spot", "bacterial_spot"),
    ):  # fmt: skip
        np.testing.assert_array_equal(rows[column], known[recorded].astype(float))
    ranked = Question(demo, seasons=0).ranking
    pd.testing.assert_frame_equal(ranked[list(rows)], rows.loc[ranked.index], check_names=False)


def test_hail_is_counted_by_sample_and_told_with_its_years(catalogue):
    noted = pd.DataFrame({"cultivar": ["Aldermere", "Aldermere", "Candover"], "site": "r", "year": [2019, 2016, 2019]})  # fmt: skip
    rows = growing(replace(catalogue, records_tables={"hail": noted}))
    assert rows.loc[["Aldermere", "Candover", "Dunmarrow"], ["hail", "hail_years"]].to_numpy().tolist() == [
        [2.0, "2016, 2019"],
        [1.0, "2019"],
        [0.0, ""],
    ]
    asked = Question(replace(catalogue, records_tables={"hail": noted}))
    told = [
        COLUMNS["hail"].told(asked, row)
        for row in rows.loc[["Aldermere", "Candover", "Dunmarrow"]].to_dict("records")
    ]
    assert told == ["2 samples (2016, 2019)", "1 sample (2019)", "none noted"]
