"""A store that an older version of this program wrote: it opens, says the same, and goes on."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from dashboard.records.store import tables
from dashboard.records.store.bringing import bring
from dashboard.records.store.history import brought_in, history
from dashboard.records.store.kept import source_of
from dashboard.records.store.opening import reading, writing
from dashboard.records.store.undoing import undo
from tests.records.small import tables as grids
from tests.records.small import write_folder
from tests.records.store.test_undoing import FRUIT, cells

KEPT = Path(__file__).parents[2] / "reference" / "store_of_step_1.sql"


@pytest.fixture
def older(either, monkeypatch):
    """Three imports and an undo as the first step kept them: no bales. Written by the program of that time."""
    kept = sqlite3.connect(":memory:")
    kept.row_factory = sqlite3.Row
    kept.executescript(KEPT.read_bytes().decode())
    monkeypatch.setattr(tables, "STEPS", tables.STEPS[:1])
    with writing(either) as connection:
        for name in ("imports", "headings", "blocks", "declared"):
            table = tables.everything.tables[name]
            rows = [{one: value for one, value in dict(row).items() if one != "id"} for row in kept.execute(f"SELECT * FROM {name}")]  # fmt: skip
            connection.execute(table.insert(), rows)
    kept.close()
    monkeypatch.undo()
    return either


def then() -> dict[str, list[list[str]]]:
    """The small records as they were when the store was kept: the samples had the same fruit."""
    found = grids()
    for row in found["fruit"][1:]:
        row[6] = f"{row[6].partition('.')[0]}.2"
    return found


def test_a_store_of_the_first_step_opens_and_goes_on(older, tmp_path):
    corrected = then()
    corrected["fruit"][1][2] = "70"
    corrected["fruit"].insert(4, ["S1", "4", "71", "", "", "", ""])
    bring(tmp_path / "new.store", write_folder(tmp_path / "corrected", corrected), "Ada")
    assert cells(older) == cells(tmp_path / "new.store")
    with reading(older) as connection:
        assert tables.version_of(connection) == len(tables.STEPS) == 2
    assert [(one.number, one.who, one.undoes) for one in brought_in(older)] == [(1, "Ada", 0), (2, "Béla", 0), (3, "Béla", 0), (4, "Cem", 3)]  # fmt: skip
    before = cells(older)
    undo(older, 2, "Ada")
    bring(tmp_path / "small.store", write_folder(tmp_path / "small", then()), "Ada")
    assert cells(older) == cells(tmp_path / "small.store")
    undo(older, 5, "Ada")
    assert cells(older) == before
    bring(older, write_folder(tmp_path / "week", {"fruit": [FRUIT, ["S3", "1", "80"]]}, None), "Ada", changes=True)  # fmt: skip
    told = [(one.number, one.value) for one in history(older, "fruit", ["S3", "1"], "suture_mm")]
    assert told == [(1, "61.5"), (7, "80")]
    assert len(source_of(older).sheets["fruit"]) == 13
