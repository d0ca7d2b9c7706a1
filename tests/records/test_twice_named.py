"""What stands under two names is flagged with both places, and loads."""

from __future__ import annotations

import pytest

from dashboard.records import read
from tests.records.small import row, tables, write_folder


def told(tmp_path, grids, column: str) -> list:
    records = read(write_folder(tmp_path, grids))
    assert not [problem for problem in records.problems if problem.severity == "error"]
    return [problem.sentence for problem in records.problems if problem.column == column]


def listed(*names: str) -> dict:
    grids = tables()
    width = len(grids["cultivars"][0]) - 1
    grids["cultivars"] += [[name, *[""] * width] for name in names]
    return grids


def test_two_spellings_of_a_cultivar_are_flagged_with_both_places(tmp_path):
    assert told(tmp_path, listed("al-vane", "T12 034", "AL VANE"), "cultivar") == [
        "cultivars.csv, row 5, cultivar: “al-vane” has the same letters and digits as “Alvane” in row 2, and the two are read as two "
        "cultivars; if they are one, list it once and write “Alvane” wherever it is meant.",
        "cultivars.csv, row 6, cultivar: “T12 034” has the same letters and digits as “T 12-034” in row 4, and the two are read as two "
        "cultivars; if they are one, list it once and write “T 12-034” wherever it is meant.",
        "cultivars.csv, row 7, cultivar: “AL VANE” has the same letters and digits as “Alvane” in row 2, and the two are read as two "
        "cultivars; if they are one, list it once and write “Alvane” wherever it is meant.",
    ]


def test_names_with_other_letters_or_digits_are_names_of_their_own(tmp_path):
    assert told(tmp_path, listed("Alvane II", "Alvana", "T 12-035"), "cultivar") == []


def same_day(first: str, second: str, day: str = "2023-07-01") -> dict:
    """A fifth sample of the first one's cultivar and site, and the pick each is said to be."""
    grids = tables()
    samples = grids["samples"]
    row(samples, 2)[3:5] = [day, first]
    samples.append(["S5", "Alvane", "low", day, second, "6", "6", "", ""])
    grids["fruit"] += [["S5", *cells[1:6], "9.9"] for cells in grids["fruit"][1:4]]
    return grids


@pytest.mark.parametrize("picks", [("1", "1"), ("", ""), ("2", "")])
def test_two_samples_of_a_cultivar_site_and_day_are_flagged_with_both_places(tmp_path, picks):
    assert told(tmp_path, same_day(*picks), "sample") == [
        "samples.csv, row 6, sample: “S5” is of “Alvane” at “low” on 2023-07-01, as “S1” in row 2 is; "
        "look whether it was entered twice, or write the number of each pick."
    ]


@pytest.mark.parametrize(
    "grids",
    [same_day("1", "2"), same_day("1", "1", "2023-W27"), same_day("1", "1", "2023")],
    ids=["two picks", "of a week", "of a year"],
)
def test_samples_that_may_well_be_two_are_not_flagged(tmp_path, grids):
    assert told(tmp_path, grids, "sample") == []
