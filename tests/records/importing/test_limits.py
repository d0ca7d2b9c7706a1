"""<10 and >13 in a sheet become limits of their fruit: once, in every kind of sheet, and never beside a reading."""

from __future__ import annotations

from pathlib import Path

from dashboard.records import read
from tests.records.importing.season import came_in, season
from tests.records.importing.test_bench import FIGURES, bench, five
from tests.records.importing.test_ours import same, silently, whole
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows
from tests.records.small import filled, tables, write_folder


def there(trial: Path) -> list[tuple]:
    """The limits that stand in a trial, in SI."""
    frame = read(trial).tables["beyond"]
    ends = frame["firmness_n"].fillna(frame["ssc_brix"]).round(3)
    return list(zip(frame["sample"], frame["fruit"], frame["reading"], frame["side"], ends, strict=True))


def test_in_a_sheet_as_somebody_keeps_it(tmp_path):
    rows = long_rows(season(1))
    rows[0][6], rows[1][8] = ">13", "<9"
    file = csv_file(tmp_path / "a.csv", LONG, rows)
    outcome, _ = came_in([file], tmp_path / "trial", {})
    assert (outcome.code, outcome.counts["aside"]) == (0, 0)
    found = there(tmp_path / "trial")
    assert [one[1:4] for one in found] == [(1, "firmness 1", "above"), (2, "ssc", "below")]
    assert [one[4] for one in found] == [13, 9]
    assert "2 new readings past an end" in outcome.text
    again, _ = came_in([file], tmp_path / "trial", {})
    assert (again.code, again.counts["aside"]) == (0, 0)
    assert there(tmp_path / "trial") == found
    fruit = read(tmp_path / "trial").tables["fruit"]
    assert fruit["firmness_1_n"].isna().sum() == fruit["ssc_brix"].isna().sum() == 1


def test_another_limit_or_one_beside_a_reading_waits(tmp_path):
    rows = long_rows(season(1))
    rows[0][6] = ">13"
    came_in([csv_file(tmp_path / "a.csv", LONG, rows)], tmp_path / "trial", {})
    rows[0][6], rows[1][8] = ">12", "<9"
    outcome, _ = came_in([csv_file(tmp_path / "a.csv", LONG, rows)], tmp_path / "trial", {})
    assert outcome.counts["aside"] == 2
    rules = " ".join(problem.rule for problem in outcome.problems)
    assert "differs from what stands already of this reading" in rules
    assert "a fruit whose reading stands already" in rules
    assert len(there(tmp_path / "trial")) == 1


def test_an_end_that_others_of_the_column_go_past_is_flagged(tmp_path):
    rows = long_rows(season(1))
    lowest, highest = (f(row[6] for row in rows[1:]) for f in (min, max))
    rows[0][6], rows[1][7], rows[2][8] = "<60", ">140", "<7"
    outcome, _ = came_in([csv_file(tmp_path / "a.csv", LONG, rows)], tmp_path / "trial", {})
    told = [one for one in outcome.problems if "is kept as" in one.rule]
    assert [(one.row, one.column) for one in told] == [(2, "G")]
    assert told[0].rule == f"is kept as below 60, though other cells of the column go down to {lowest:g}"
    assert highest < 140
    assert len(there(tmp_path / "trial")) == 3


def test_on_the_sheet_of_a_day(tmp_path):
    trial = write_folder(tmp_path / "trial", tables())
    figures = [list(line) for line in FIGURES]
    figures[2][4], figures[3][4], figures[4][0] = ">13", "> 13 lb", "<6"
    week = bench(tmp_path / "week.xlsx", five("Alvane", figures))
    outcome = silently([week], trial)
    assert (outcome.code, outcome.counts["aside"]) == (0, 0), outcome.text
    assert sorted(one[1:4] for one in there(trial)) == [(1, "ssc", "below"), (5, "firmness 1", "above"), (5, "firmness 2", "above")]  # fmt: skip
    before = {file.name: file.read_bytes() for file in trial.glob("*.*")}
    assert silently([week], trial).code == 0
    assert {file.name: file.read_bytes() for file in trial.glob("*.*")} == before


def test_in_the_tables_of_ours(tmp_path):
    grids = whole()
    grids["fruit"][1][4], grids["fruit"][1][6] = ">60", "≥14"
    trial = tmp_path / "trial"
    assert silently([filled(tmp_path / "book.xlsx", grids)], trial).code == 0
    assert [one[1:] for one in there(trial)] == [(1, "firmness 1", "above", 60), (1, "ssc", "above", 14)]
    files = sorted(trial.glob("*.csv"))
    assert silently(files, tmp_path / "copy").code == 0
    same(trial, tmp_path / "copy")


def test_a_limit_typed_into_the_table_itself_is_told_with_the_way_out(tmp_path):
    grids = tables()
    grids["fruit"][1][4] = ">60"
    problem = next(one for one in read(write_folder(tmp_path, grids)).problems if one.severity == "error")
    assert "table beyond" in problem.sentence
