"""Parents of cultivars: whatever cannot be is told with its place and set aside, and nothing else is lost."""

from __future__ import annotations

import pandas as pd
import pytest

from dashboard.records import read
from dashboard.records.writing import write
from tests.records.small import tables, write_folder


def with_parents(**both: tuple[str, str]):
    """The small records with the parents of these cultivars; the names stand in its rows 2 to 4."""
    grids = tables()
    head, *rows = grids["cultivars"]
    grids["cultivars"] = [[*head, "seed_parent", "pollen_parent"]]
    grids["cultivars"] += [[*cells, *both.get(cells[0], ("", ""))] for cells in rows]
    return grids


NAMES = [cells[0] for cells in tables()["cultivars"][1:]]
ONE, TWO, THREE = NAMES


def test_parents_are_read_whether_or_not_they_are_in_the_trial(tmp_path):
    records = read(write_folder(tmp_path, with_parents(**{TWO: (ONE, "Old 17"), THREE: (ONE, "")})))
    found = records.tables["cultivars"].set_index("cultivar")
    assert found.loc[TWO, ["seed_parent", "pollen_parent"]].tolist() == [ONE, "Old 17"]
    assert found.loc[THREE, "seed_parent"] == ONE
    assert pd.isna(found.loc[THREE, "pollen_parent"])
    assert not records.problems


@pytest.mark.parametrize(
    ("both", "row", "column", "value", "rule", "suggestion"),
    [
        ({TWO: (TWO, "Old 17")}, 3, "seed_parent", TWO, "is the cultivar itself", "write the parent"),
        ({TWO: ("Old 17", "O.P.")}, 3, "pollen_parent", "O.P.", "names no parent", "leave it empty"),
        (
            {ONE: (TWO, ""), TWO: (THREE, ""), THREE: ("Old 17", ONE)}, 4, "pollen_parent", ONE,
            f"is itself bred from “{THREE}”, by way of “{TWO}” (row 2, 3)", "correct one of these rows",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_a_parent_is_set_aside_alone(tmp_path, both, row, column, value, rule, suggestion):
    records = read(write_folder(tmp_path, with_parents(**both)))
    (problem,) = records.problems
    assert (problem.severity, problem.row, problem.column, problem.value) == ("error", row, column, value)
    assert problem.rule.startswith(rule)
    assert problem.suggestion.startswith(suggestion)
    assert records.set_aside[["row", "column", "value"]].to_numpy().tolist() == [[row, column, value]]
    account = records.accounts["cultivars"]
    assert (account.loaded, account.aside) == (3, 1)
    assert account.read + account.aside == account.filled
    written = sum(len(cells) for one in both.values() for cells in [list(filter(None, one))])
    assert (
        records.tables["cultivars"][["seed_parent", "pollen_parent"]].notna().to_numpy().sum() == written - 1
    )


@pytest.mark.parametrize(
    ("seed", "pollen", "like"),
    [
        ("Old-17", "Old 17", "parent “Old-17” in row 3"),
        (ONE.upper() + " ", "Old 17", f"cultivar “{ONE}” in row 2"),
    ],
)
def test_a_parent_spelled_almost_like_another_is_told_and_kept(tmp_path, seed, pollen, like):
    records = read(write_folder(tmp_path, with_parents(**{TWO: (seed, pollen)})))
    (problem,) = records.problems
    assert problem.severity == "flag"
    assert f"is spelled almost like the {like}" in problem.rule
    assert problem.row == 3
    assert records.tables["cultivars"]["seed_parent"].notna().sum() == 1


def test_other_numbers_are_other_parents(tmp_path):
    grids = with_parents(
        **{ONE: ("Hall 101", "Hall 102"), TWO: ("Hall 103", "Hall 11"), THREE: ("Hale 101", "Holm 7")}
    )
    told = [problem.value for problem in read(write_folder(tmp_path, grids)).problems]
    assert told == ["Hale 101"]


def test_parents_are_written_back_and_only_where_there_are_any(tmp_path):
    for both, columns in (({TWO: ("Old 17", "")}, ["seed_parent"]), ({}, [])):
        records = read(write_folder(tmp_path / f"in {len(both)}", with_parents(**both)))
        there = tmp_path / f"out {len(both)}"
        write(records.tables, records.declaration, there)
        head = (there / "cultivars.csv").read_text(encoding="utf-8").splitlines()[0].split(",")
        assert [name for name in head if name.endswith("_parent")] == columns
        again = read(there).tables["cultivars"]
        pd.testing.assert_frame_equal(again, records.tables["cultivars"])
