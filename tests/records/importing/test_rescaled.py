"""Ratings that come onto another scale are told with an example; those on the trial's own are not."""

from __future__ import annotations

import pytest

from dashboard.records import read
from tests.records.importing.season import came_in, season
from tests.records.importing.test_twelve_ways import csv_file

HEAD = ("Cultivar", "Site", "Date", "Red", "Fuzz", "Shape")


@pytest.mark.parametrize(
    ("scale", "fuzz", "said"),
    [
        ("0 to 10, 10 best", "0 to 10, 10 best", []),
        ("1 to 9, 9 best", "1 to 9, 9 best", ["Red, fuzz and shape: 1 to 9, 9 best, kept as 0 to 10, 10 best; 7 became 7.5."]),
        ("1 to 9, 9 best", "1 to 5, 1 best", ["Red and shape: 1 to 9, 9 best, kept as 0 to 10, 10 best; 7 became 7.5.", "Fuzz: 1 to 5, 1 best, kept as 0 to 10, 10 best; 4 became 2.5."]),
        ("0 to 10, 10 best", "0 to 10, 0 best", ["Fuzz: 0 to 10, 0 best, kept as 0 to 10, 10 best; 8 became 2."]),
    ],
)  # fmt: skip
def test_it_is_told_which_ratings_are_kept_as_what(tmp_path, scale, fuzz, said):
    rows = [[*one.key[:3], 7, 4, 7] for one in season(1)]
    outcome, _ = came_in([csv_file(tmp_path / "a.csv", HEAD, rows)], tmp_path / "trial", {"scale": scale, ("Fuzz", "scale"): fuzz})  # fmt: skip
    assert outcome.rescaled == said
    assert all(line in outcome.text.splitlines() for line in said)
    if len(said) == 2:
        assert set(read(tmp_path / "trial").tables["samples"]["fuzz"]) == {2.5}
