"""Two rows with one key, and names that no table knows."""

from __future__ import annotations

import copy

import pytest

from dashboard.records import read
from tests.records.small import row, tables, told, write_folder


def test_the_same_row_twice_counts_once_and_is_flagged(tmp_path):
    grids = tables()
    grids["samples"].append(list(row(grids["samples"], 2)))
    records = read(write_folder(tmp_path, grids))
    (problem,) = records.problems
    assert (problem.severity, problem.row, problem.value) == ("flag", 6, "S1")
    assert "the same as row 2" in problem.rule
    assert len(records.tables["samples"]) == 4
    assert records.set_aside.empty


def test_the_same_content_written_otherwise_is_the_same_row(tmp_path):
    grids = tables()
    again = list(row(grids["samples"], 2))
    again[5] = "8.0"
    grids["samples"].append(again)
    assert [problem.severity for problem in read(write_folder(tmp_path, grids)).problems] == ["flag"]


def test_of_two_rows_that_differ_the_first_is_kept_and_the_difference_told(tmp_path):
    grids = tables()
    other = list(row(grids["samples"], 2))
    other[5] = "3"
    grids["samples"].append(other)
    records = read(write_folder(tmp_path, grids))
    (problem,) = records.problems
    assert (problem.severity, problem.row) == ("error", 6)
    assert (problem.column, problem.value) == ("shape", "3")
    assert "differs from row 2, of the same sample (S1): shape is “8” there and “3” in row 6; row 2 is kept" in problem.rule  # fmt: skip
    assert "number the picks" in problem.suggestion
    assert records.tables["samples"]["shape"].tolist()[0] == 8
    assert records.set_aside["row"].tolist() == [6]


def test_a_value_beside_an_empty_cell_is_a_difference(tmp_path):
    grids = tables()
    other = list(row(grids["samples"], 3))
    other[7] = "20"
    grids["samples"].append(other)
    assert (
        "split_pit_pct is empty there and “20” in row 6"
        in read(write_folder(tmp_path, grids)).problems[0].rule
    )


def test_three_rows_with_one_key_are_each_held_against_the_first(tmp_path):
    grids = tables()
    other = list(row(grids["samples"], 2))
    other[5] = "3"
    grids["samples"] += [other, list(other), list(row(grids["samples"], 2))]
    severities = {problem.row: problem.severity for problem in read(write_folder(tmp_path, grids)).problems}
    assert severities == {6: "error", 7: "error", 8: "flag"}


def test_the_hour_may_be_missing_from_the_key_of_the_weather(tmp_path):
    grids = tables()
    grids["weather"].append(list(row(grids["weather"], 2)))
    grids["weather"].append(["low", "2024-01-02", "23", "41"])
    records = read(write_folder(tmp_path, grids))
    assert [problem.row for problem in records.problems] == [3]
    assert len(records.tables["weather"]) == 2


def test_an_unknown_cultivar_is_told_once_with_the_nearest_name(tmp_path):
    grids = tables()
    row(grids["samples"], 2)[1] = row(grids["samples"], 3)[1] = "alvane"
    records = read(write_folder(tmp_path, grids))
    (problem,) = told(records.problems, "cultivar")
    assert problem.value == "alvane"
    assert "is not in cultivars; 2 rows are set aside (rows 2 and 3)" in problem.rule
    assert problem.suggestion == "did you mean “Alvane”?"
    assert records.tables["samples"]["sample"].tolist() == ["S3", "S4"]
    assert records.tables["fruit"]["sample"].unique().tolist() == ["S3", "S4"]


def test_a_name_unlike_any_other_is_to_be_added(tmp_path):
    grids = tables()
    row(grids["samples"], 2)[2] = "zzz"
    (problem,) = told(read(write_folder(tmp_path, grids)).problems, "site")
    assert problem.suggestion == "add it to sites, or correct the name"


def test_fruit_of_a_sample_that_was_set_aside_says_so(tmp_path):
    grids = tables()
    row(grids["samples"], 4)[2] = "zzz"
    (problem,) = told(read(write_folder(tmp_path, grids)).problems, "sample")
    assert (
        "was itself set aside (samples.csv, row 4); 3 rows are set aside (rows 8, 9 and 10)" in problem.rule
    )


def test_fruit_of_a_sample_nobody_wrote_down(tmp_path):
    grids = tables()
    grids["fruit"].append(["S99", "1", "60", "60", "40", "40", "12"])
    (problem,) = read(write_folder(tmp_path, grids)).problems
    assert "is not in samples; the row is set aside" in problem.rule


def test_other_tables_are_held_to_the_names_as_well(tmp_path):
    grids = tables()
    row(grids["bloom"], 2)[0] = "Alvana"
    records = read(write_folder(tmp_path, grids))
    assert records.tables["bloom"].empty
    assert records.problems[0].suggestion == "did you mean “Alvane”?"


def test_thousands_of_unknown_names_are_told_without_delay(tmp_path):
    grids = tables()
    sample = copy.copy(row(grids["samples"], 2))
    grids["samples"] += [[f"N{number}", f"Unknown {number}", *sample[2:]] for number in range(3000)]
    grids["cultivars"] += [[f"Known {number}", *row(grids["cultivars"], 3)[1:]] for number in range(3000)]
    records = read(write_folder(tmp_path, grids))
    assert len(told(records.problems, "cultivar")) == 3000
    assert len(records.tables["samples"]) == 4


# ---- one name for two samples -----------------------------------------------------------------------------


def again(grids, number: int = 2, **changes: str) -> int:
    """A row of samples once more, changed; the number of the new row."""
    cells = list(row(grids["samples"], number))
    for heading, cell in changes.items():
        cells[grids["samples"][0].index(heading)] = cell
    grids["samples"].append(cells)
    return len(grids["samples"])


def without(records, sample: str) -> bool:
    """Neither the sample nor any fruit of it was loaded, and its fruit are set aside."""
    aside = records.set_aside
    return (
        sample not in set(records.tables["samples"]["sample"])
        and sample not in set(records.tables["fruit"]["sample"])
        and (aside["file"] == "fruit.csv").sum() == 3
        and len(records.tables["samples"]) == 3
    )


FAULTS = {"date": "03/07/2023", "cultivar": "Nobody", "site": "nowhere"}


@pytest.mark.parametrize("column", FAULTS)
@pytest.mark.parametrize("first", [True, False])
def test_fruit_never_join_another_sample_of_the_same_name(tmp_path, column, first):
    grids = tables()
    number = again(grids, cultivar="Brintel", date="2023-07-20")
    row(grids["samples"], 2 if first else number)[grids["samples"][0].index(column)] = FAULTS[column]
    records = read(write_folder(tmp_path, grids))
    assert without(records, "S1")
    (problem,) = [p for p in records.problems if p.file == "fruit.csv"]
    assert (
        "“S1” names more than one row of samples (samples.csv, rows 2 and 6); 3 rows are set aside"
        in problem.sentence
    )
    (problem,) = [p for p in records.problems if p.column == "sample" and p.file == "samples.csv"]
    assert problem.row == (6 if first else 2)
    assert (
        "names more than one row (rows 2 and 6), and they are not the same; the row is set aside"
        in problem.rule
    )
    assert problem.suggestion == "give each sample a name of its own, wherever it is used"


@pytest.mark.parametrize("changes", [{"cultivar": "Brintel"}, {"site": "high"}, {"date": "2023-07-09"}])
def test_two_good_samples_of_one_name_are_both_set_aside(tmp_path, changes):
    grids = tables()
    again(grids, **changes)
    records = read(write_folder(tmp_path, grids))
    assert without(records, "S1")
    assert records.set_aside["row"].tolist() == [2, 6, 2, 3, 4]


@pytest.mark.parametrize(
    "torn", ["S1,Brintel,low,2023-07-20,1,8,6,10,,too,many", 'S1,"Brintel,low,2023-07-20,1,8,6,10,']
)
def test_a_row_that_cannot_be_taken_apart_makes_its_name_ambiguous_too(tmp_path, torn):
    folder = write_folder(tmp_path, tables())
    with (folder / "samples.csv").open("a", encoding="utf-8") as file:
        file.write(f"{torn}\n")
    assert without(read(folder), "S1")


def test_a_name_written_with_other_spaces_is_the_same_name(tmp_path):
    grids = tables()
    row(grids["samples"], again(grids, date="03/07/2023"))[0] = " S1 "
    assert without(read(write_folder(tmp_path, grids)), "S1")


def test_a_faulty_row_written_twice_is_told_as_the_fault_it_is(tmp_path):
    grids = tables()
    row(grids["samples"], 2)[3] = "03/07/2023"
    again(grids)
    records = read(write_folder(tmp_path, grids))
    assert without(records, "S1")
    assert not any("more than one" in problem.rule for problem in records.problems)


@pytest.mark.parametrize(
    ("written", "known", "suggestion"),
    [
        ("2016-1", "2016-01999", "add it to samples, or correct the name"),
        ("K14-227", "K14-228", "add it to samples, or correct the name"),
        ("2016-1", "2016-0001", "did you mean “2016-0001”?"),
        ("K14227", "K14-227", "did you mean “K14-227”?"),
    ],
)
def test_a_name_with_another_number_is_never_suggested(tmp_path, written, known, suggestion):
    grids = tables()
    row(grids["samples"], 2)[0] = known
    for cells in grids["fruit"]:
        cells[0] = written if cells[0] == "S1" else cells[0]
    (problem,) = told(read(write_folder(tmp_path, grids)).problems, severity="error")
    assert problem.suggestion == suggestion
