"""Every filled cell of whatever lies among the records is read, set aside or declared as not used: never lost, never counted twice."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dashboard.records import RecordError, read
from dashboard.records.report import check
from dashboard.records.schema import TABLES
from dashboard.records.what_became import total
from tests.records.small import DECLARED, row, tables, write_folder, write_workbook

MORE = {
    "trees": [["site", "row", "position", "cultivar", "planted"], ["low", "1", "1", "Alvane", "2015"], ["high", "1", "2", "Brintel", "2016"]],
    "yields": [["cultivar", "site", "year", "pick", "kg_per_tree"], ["Alvane", "low", "2024", "1", "12"]],
    "nursery": [["cultivar", "nursery", "rootstock", "season", "price_per_tree"], ["Alvane", "Coined", "seedling", "2024", "8"]],
    "photo list": [["file", "taken by"], ["a.jpg", "nobody"], ["b.jpg", ""]],
}  # fmt: skip
NOT_USED = ["photo list", "samples: colour card", "weather"]
MISSING = {"", "-", "–", ".", "NA", "N/A", "na", "n/a"}

_CELLS = st.sampled_from(
    ["", "-", "NA", "x", "1", "2,5", "63.5 mm", "nan", "1e9", "Alvane", "Alvan", "S1", "low", "2024-07-01", "2024", "2024-W27", "03/07/2024", "yes", "free", "=1+1",
     "\u202eabc", "x" * 90, "0", "-1", '"', "a\nb", "2½"]
)  # fmt: skip


def written(grids) -> int:
    return sum(bool(cell.strip()) for grid in grids.values() for cells in grid[1:] for cell in cells)


def whole() -> dict:
    grids = tables() | {name: [list(cells) for cells in grid] for name, grid in MORE.items()}
    for number, cells in enumerate(grids["samples"]):
        cells.append("colour card" if not number else f"B{number}")
    return grids


def parts(records) -> tuple[int, int, int, int]:
    cells = total(records.accounts.values())
    return cells.filled, cells.read, cells.aside, cells.unused


@pytest.mark.parametrize("kind", ["folder", "workbook"])
def test_what_is_declared_as_not_used_is_counted_and_not_told(tmp_path, kind):
    declared = DECLARED | {"not_used": NOT_USED if kind == "folder" else "; ".join(NOT_USED)}
    source = write_folder(tmp_path, whole(), declared) if kind == "folder" else write_workbook(tmp_path / "book.xlsx", whole(), declared)  # fmt: skip
    records = read(source)
    assert records.problems == ()
    # three cells of photographs, four of the colour card, four of the weather
    assert parts(records) == (written(whole()), written(whole()) - 11, 0, 11)
    assert records.tables["weather"].empty
    text, code = check(source)
    assert text.splitlines()[-1].endswith(
        f"{written(whole()) - 11} read, 0 set aside, 11 declared as not used"
    )
    assert code == 0


@pytest.mark.parametrize("kind", ["folder", "workbook"])
def test_what_is_not_declared_is_an_error_and_set_aside(tmp_path, kind):
    source = (
        write_folder(tmp_path, whole())
        if kind == "folder"
        else write_workbook(tmp_path / "book.xlsx", whole())
    )
    records = read(source)
    ending = ".csv" if kind == "folder" else ""
    assert [problem.severity for problem in records.problems] == ["error", "error"]
    told = " ".join(problem.suggestion for problem in records.problems)
    assert f"declare “photo list{ending}” as not_used" in told
    assert "declare “samples: colour card” as not_used" in told
    assert parts(records) == (written(whole()), written(whole()) - 7, 7, 0)
    assert check(source)[1] == 1


def test_an_entry_that_names_nothing_is_told(tmp_path):
    declared = DECLARED | {"not_used": ["samples: colour card", "fruit"]}
    problems = read(write_folder(tmp_path, tables(), declared)).problems
    assert [(p.severity, p.column, p.value) for p in problems] == [
        ("flag", "not_used", "samples: colour card"),
        ("flag", "not_used", "fruit"),  # a table that is needed is read all the same
    ]


@pytest.mark.parametrize("given", [5, {"samples": []}, [5]])
def test_not_used_is_a_list_of_names(tmp_path, given):
    problems = read(write_folder(tmp_path, tables(), DECLARED | {"not_used": given})).problems
    assert [(p.severity, p.column) for p in problems] == [("error", "not_used")]


def test_an_unknown_item_of_the_declaration_is_an_error(tmp_path):
    problems = read(
        write_folder(tmp_path, tables(), DECLARED | {"tip": 11, "ratings": {"colour": {"low": 1}}})
    ).problems
    assert problems[0].suggestion == "did you mean tip_mm?"
    assert [(p.severity, p.column) for p in problems] == [("error", "tip"), ("error", "ratings.colour")]


def test_a_file_that_cannot_be_read_is_named_beside_the_count(tmp_path):
    folder = write_folder(tmp_path, tables())
    (folder / "yields.csv").write_bytes(b"\xff\xfe")
    assert check(folder)[0].splitlines()[-1].endswith("; not opened: yields.csv")


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_whatever_is_damaged_every_filled_cell_is_accounted_for(data):
    grids = whole()
    for _ in range(data.draw(st.integers(0, 6))):
        name = data.draw(st.sampled_from(list(grids)))
        number = data.draw(st.integers(0, len(grids[name]) - 1))
        column = data.draw(st.integers(0, len(grids[name][0]) - 1))
        kind = data.draw(st.sampled_from(["cell", "again", "short"]))
        if column >= len(grids[name][number]):
            continue  # cut short before
        if kind == "cell":
            grids[name][number][column] = data.draw(_CELLS)
        elif kind == "again" and number:
            grids[name].append(list(row(grids[name], number + 1)))
        elif kind == "short" and number and any(grids[name][number][:column]):
            grids[name][number] = grids[name][number][:column]
        if len(grids[name][number]) < len(
            grids[name][0]
        ):  # a cell of two lines in it may be a mark left open: two cells
            grids[name][number] = [cell.replace("\n", " ") for cell in grids[name][number]]
    declared = DECLARED | {"not_used": data.draw(st.lists(st.sampled_from(NOT_USED), unique=True))}
    with tempfile.TemporaryDirectory() as place:
        try:
            records = read(write_folder(Path(place), grids, declared))
        except RecordError:
            return  # nothing was loaded, and nothing is counted
    filled, loaded, aside, unused = parts(records)
    assert filled == written(grids)
    assert loaded + aside + unused == filled
    for name, frame in records.tables.items():
        if name in records.accounts:
            _values_are_those_counted(frame, records.accounts[name], grids[name], records, name)


def _values_are_those_counted(frame, account, grid, records, name) -> None:
    """What is in the table is what was counted as read, but for marks of nothing measured and rows that counted once."""
    values = sum(
        int(frame[column.name].notna().sum()) for column in TABLES[name].columns if column.kind != "yes/no"
    )
    values -= len(frame) if name == "samples" else 0  # how exactly the date is known is always said
    said = sum(cell.strip() in MISSING - {""} for cells in grid[1:] for cell in cells)
    yes_no = [place for place, heading in enumerate(grid[0]) if heading in ("protected", "check")]
    said += sum(bool(cells[place].strip()) for cells in grid[1:] for place in yes_no if place < len(cells))
    twice = sum(
        "counts once" in problem.rule and problem.file == f"{name}.csv" for problem in records.problems
    )
    assert values <= account.read <= values + said + twice * len(grid[0])
