"""Days that may be but seldom are."""

from __future__ import annotations

import pytest

from dashboard.records import read
from tests.records.small import tables, told, write_folder


def dated(days: list[str]):
    grids = tables()
    grids["samples"] = [
        grids["samples"][0],
        *([f"S{n}", "Alvane", "low", day, "", "", "", "", ""] for n, day in enumerate(days, 1)),
    ]
    return grids | {
        "fruit": [
            grids["fruit"][0],
            *([f"S{n}", "1", "60", "61", "40", "41", "12"] for n in range(1, len(days) + 1)),
        ]
    }


def test_a_day_far_from_the_cultivars_own_season_is_flagged(tmp_path):
    usual = ["2023-07-01", "2023-07-08", "2024-06-29", "2024-07-02"]
    records = read(write_folder(tmp_path, dated([*usual, "2024-09-05"])))
    (problem,) = told(records.problems, "date")
    assert (problem.severity, problem.row) == ("flag", 6)
    assert "days after the usual day of “Alvane”" in problem.rule
    assert len(records.tables["samples"]) == 5


def test_a_day_within_45_of_the_usual_one_is_not(tmp_path):
    usual = ["2023-07-01"] * 4
    for folder, last, flags in (("within", "2023-08-15", 0), ("beyond", "2023-08-16", 1)):
        problems = read(write_folder(tmp_path / folder, dated([*usual, last]))).problems
        assert len(told(problems, "date")) == flags


def season(year: int, count: int = 12, day=lambda n: f"07-{n + 1:02d}") -> list[list[str]]:
    """Rows of samples: three cultivars at two sites, pick after pick."""
    names = ("Alvane", "Brintel", "T 12-034")
    return [
        [f"{year}-{n}", names[n % 3], ("low", "high")[n % 2], f"{year}-{day(n)}", str(n // 6 + 1)]
        for n in range(count)
    ]


def flags(tmp_path, rows: list[list[str]], declared=None) -> list:
    grids = tables()
    grids["samples"] = [["sample", "cultivar", "site", "date", "pick"], *rows]
    grids["fruit"] = [grids["fruit"][0], *([cells[0], "1", "60", "61", "40", "41", "12"] for cells in rows)]
    about = {"title": "Small trial", "invented": True, **(declared or {})}
    return [p for p in read(write_folder(tmp_path, grids, about)).problems if p.file == "samples.csv"]


def test_two_ordinary_seasons_are_not_flagged(tmp_path):
    later = season(2024, day=lambda n: f"07-{2 * n + 2:02d}")
    assert flags(tmp_path, season(2023) + later) == []


def test_a_row_of_another_year_among_rows_of_one_is_flagged(tmp_path):
    rows = season(2023) + season(2024, day=lambda n: f"07-{2 * n + 2:02d}")
    rows[17][3] = rows[17][3].replace("2024", "2023")
    (problem,) = told(flags(tmp_path, rows), "date")
    assert (problem.row, problem.value) == (19, rows[17][3])
    assert "is of season 2023, while the rows around it are of 2024" in problem.rule


@pytest.mark.parametrize("year", ["2033", "1998"])
def test_a_season_far_from_all_others_with_hardly_a_sample_is_flagged(tmp_path, year):
    rows = season(2023) + season(2024, day=lambda n: f"07-{2 * n + 2:02d}")
    rows[0][3] = rows[0][3].replace("2023", year)
    (problem,) = told(flags(tmp_path, rows), "date")
    assert (problem.row, f"is of season {year}" in problem.rule) == (2, True)


def test_the_first_sample_of_a_new_season_is_not(tmp_path):
    assert flags(tmp_path, season(2023, 24) + season(2024, 1, lambda _n: "07-20")) == []


def test_picks_against_their_days_are_flagged(tmp_path):
    rows = [["a", "Alvane", "low", "2024-07-01", "1"], ["b", "Alvane", "low", "2024-07-05", "3"], ["c", "Alvane", "low", "2024-07-09", "2"],
            ["d", "Brintel", "low", "2024-07-01", "1"], ["e", "Brintel", "low", "2024-07-09", "1"], ["f", "Brintel", "high", "2024-07-30", "1"]]  # fmt: skip
    found = told(flags(tmp_path, rows), "pick")
    assert [(problem.row, problem.value) for problem in found] == [(4, "2"), (6, "1")]
    assert "is picked on 2024-07-09, after pick 3 of 2024-07-05" in found[0].rule
    assert "had been 8 days before" in found[1].rule


@pytest.mark.parametrize(("day", "said"), [(lambda _n: "07-01", "is the day of all 12 samples of 2023"), (lambda n: f"{n % 3 + 6:02d}-01", "day 1 of a month")])  # fmt: skip
def test_a_season_of_made_up_days_is_flagged(tmp_path, day, said):
    (problem,) = told(flags(tmp_path, season(2023, day=day)), "date")
    assert said in problem.rule
    assert "declare date_precision year" in problem.suggestion
    assert flags(tmp_path / "declared", season(2023, day=day), {"date_precision": "year"}) == []


def test_days_copied_from_another_season_are_flagged(tmp_path):
    (problem,) = told(flags(tmp_path, season(2023, 24) + season(2024, 24)), "date")  # fmt: skip
    assert problem.rule.endswith("picks of 2024 have the same day and month as in 2023")


def test_a_season_of_one_day_is_told_once_not_again_as_a_copy_of_another(tmp_path):
    of_one_day = [cells for year in (2023, 2024) for cells in season(year, 24, day=lambda _n: "07-01")]
    rules = [problem.rule for problem in told(flags(tmp_path, of_one_day), "date")]
    assert [rule[:22] for rule in rules] == ["is the day of all 24 s"] * 2


def test_coarse_dates_are_told_once_unless_declared(tmp_path):
    rows = season(2023)
    for cells in rows[3:6]:
        cells[3] = "2023"
    (problem,) = told(flags(tmp_path, rows), "date")
    assert (problem.row, problem.value) == (5, "year")
    assert "of the day of 3 samples" in problem.rule
    assert flags(tmp_path / "declared", rows, {"date_precision": "year"}) == []
