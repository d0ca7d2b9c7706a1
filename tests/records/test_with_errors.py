"""The usual mistakes, made on purpose in ``demo_data/with_errors``: each is told with its place."""

from __future__ import annotations

import importlib.util

import pytest

from dashboard.places import demo_data
from dashboard.records import read
from dashboard.records.report import check

FOLDER = demo_data() / "with_errors"

TOLD = (
    ("error", "bloom.csv", None, "", "", "the file is empty", "or remove the file"),
    ("error", "cultivars.csv", 4, "stone", "freestone", "is not a word for stone", "did you mean free?"),
    ("error", "samples.csv", 3, "cultivar", "Calthow", "is not in cultivars", "did you mean “Calthrow”?"),
    ("error", "samples.csv", 6, "date", "03/07/2024", "is ambiguous", "write 2024-07-03 or 2024-03-07"),
    ("error", "samples.csv", 8, "shape", "11", "is outside 0 to 10", "declare the scale"),
    (
        "error",
        "samples.csv",
        50,
        "shape",
        "9",
        "differs from row 12, of the same sample (Q011)",
        "correct one",
    ),
    ("flag", "fruit.csv", 231, "suture, cross", "10.7 mm", "is much between two diameters", "was misread"),
    (
        "error",
        "fruit.csv",
        12,
        "sample",
        "Q002",
        "was itself set aside (samples.csv, row 3); 10 rows",
        "correct it there",
    ),
    (
        "error",
        "fruit.csv",
        42,
        "sample",
        "Q005",
        "was itself set aside (samples.csv, row 6); 10 rows",
        "correct it there",
    ),
    ("error", "fruit.csv", 102, "Suture_MM", "6.55", "is outside 15 to 150 mm", "write 65.5"),
    ("error", "fruit.csv", 103, "cross_mm", "2.5 in", "has its unit typed in", "write 63.5"),
    ("error", "fruit.csv", 104, "ssc_brix", "12,5", "has a decimal comma", "write 12.5"),
    ("error", "fruit.csv", 105, "firmness_1_lbf", "14 N", "has its unit typed in", "write 3.147"),
    ("error", "fruit.csv", 106, "firmness_2_lbf", "nan", "is not a number", "leave the cell empty"),
    ("error", "fruit.csv", 482, "sample", "Q999", "is not in samples", "add it"),
    (
        "error",
        "yields.csv",
        1,
        "oz_per_tree",
        "",
        "does not end in a unit",
        "name it kg_per_tree or lb_per_tree",
    ),
    ("flag", "cultivars.csv", 7, "cultivar", "<b>Gorvette</b>", "looks like a page's markup", "take it out"),
    (
        "error",
        "samples.csv",
        1,
        "colour card",
        "",
        "is not a column of samples",
        "declare “samples: colour card”",
    ),
    (
        "error",
        "samples.csv",
        21,
        "sample",
        "Q020",
        "names more than one row (rows 21 and 52)",
        "a name of its own",
    ),
    ("error", "fruit.csv", 192, "sample", "Q020", "names more than one row of samples", "correct it there"),
    ("error", "fruit.csv", 112, "Suture_MM", "65½", "is written with a fraction", "write 65.5"),
    (
        "flag",
        "fruit.csv",
        113,
        "firmness_1, firmness_2",
        "0 and 0",
        "are taken as readings",
        "leave both cells empty",
    ),
    ("flag", "samples.csv", 9, "note", "=cmd|' /C calc'!A0", "looks like a formula", "take it out"),
    ("flag", "samples.csv", 51, "sample", "Q013", "the same as row 14", "delete one"),
)


@pytest.fixture(scope="module")
def records():
    return read(FOLDER)


@pytest.mark.parametrize(
    ("severity", "file", "row", "column", "value", "rule", "suggestion"),
    TOLD,
    ids=[" ".join(map(str, told[1:4])) for told in TOLD],
)
def test_the_mistake_is_told_with_its_place(records, severity, file, row, column, value, rule, suggestion):
    (problem,) = [p for p in records.problems if (p.file, p.row, p.column) == (file, row, column)]
    assert (problem.severity, problem.value) == (severity, value)
    assert rule in problem.rule
    assert suggestion in problem.suggestion


def test_nothing_else_is_told(records):
    assert len(records.problems) == len(TOLD)


def test_all_else_loads(records):
    lost = {"cultivars": 0, "sites": 0, "samples": 6, "fruit": 31, "yields": 0}
    assert {name: records.rows_written[name] - len(records.tables[name]) for name in lost} == lost


def test_the_report_ends_with_the_counts_and_1():
    text, code = check(FOLDER)
    assert (
        text.splitlines()[-1]
        == "19 errors, 5 flags; 3,810 filled cells: 3,548 read, 262 set aside, 0 declared as not used; not opened: bloom.csv"
    )
    assert code == 1


def test_the_folder_is_what_its_script_writes(tmp_path, monkeypatch):
    spec = importlib.util.spec_from_file_location("make_errors", demo_data() / "make_errors.py")
    script = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(script)
    monkeypatch.setattr(script, "FOLDER", tmp_path / "with_errors")
    script.main()
    for path in (tmp_path / "with_errors").iterdir():
        assert path.read_bytes() == (FOLDER / path.name).read_bytes(), path.name
