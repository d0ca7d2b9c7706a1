"""Two scales in one column: the ratings of one person, or of the days until June, never leave the lower part of the scale the others use."""

from __future__ import annotations

import numpy as np
import pytest

from tests.records.importing.season import came_in, season
from tests.records.importing.test_twelve_ways import csv_file

HEAD = ("Cultivar", "Site", "Date", "Red", "Rater")
ANSWERS = {
    ("Rater", "is"): "not used",
    "scale": "1 to 9, 9 best",
    "rows_without_readings": "nothing was picked",
}


def told(folder, short, seed=1) -> list:
    """What is said of twelve weeks of ratings, 1 to 9, or 1 to 5 of those that are ``short`` (week, person)."""
    chance, rows = np.random.default_rng(seed), []
    usual = dict(
        zip(("Alvane", "Brintel", "Corvale", "T 12-034", "Dusk Marrow"), (4, 5, 6, 7, 8), strict=True)
    )
    for number, sample in enumerate(season(12)):
        person = ("Ann", "Bob")[number % 2]
        nine = int(np.clip(round(usual[sample.cultivar] + chance.normal(0, 1)), 1, 9))
        rating = round((nine + 1) / 2) if short(number // 5, person) else nine
        rows.append((sample.cultivar, sample.site, sample.day.isoformat(), rating, person))
    outcome, _ = came_in([csv_file(folder / "a.csv", HEAD, rows)], folder / "trial", ANSWERS)
    return [one for one in [*outcome.problems, *outcome.odd] if "never pass 5" in one.rule]


@pytest.mark.parametrize("seed", range(4))
def test_one_scale_is_not_flagged(tmp_path, seed):
    assert not told(tmp_path, lambda week, person: False, seed)


def test_the_person_who_rates_to_five_is_named_with_the_rows(tmp_path):
    flag, *more = told(tmp_path, lambda week, person: person == "Bob")
    assert not more
    assert (flag.row, flag.column) == (3, "D")
    assert flag.rule.startswith(
        "is the first of 30 ratings of red by Rater “Bob” (rows 3, 5, 7, 9, 11, 13 and 24 more) that never pass 5; of the others "
    )


def test_days_on_the_other_scale_are_named(tmp_path):
    (flag,) = told(tmp_path, lambda week, person: week < 4)
    assert flag.rule.startswith("ratings of “Low” from 2016-07-05 to 2016-07-26 never pass 5; of the others ")
