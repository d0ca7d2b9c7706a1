"""Round trips: what came in leaves as it was, in every form, for every state there ever was."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from pathlib import Path

import pytest
from frictionless import Package
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from dashboard.records import read
from dashboard.records.store.bringing import bring
from dashboard.records.store.kept import rows_of, source_of, text_of
from dashboard.records.store.leaving import write_out
from dashboard.records.store.opening import StoreError
from tests.records.small import DECLARED, tables, write_folder

# Written as a person might: spare zeros, another form of a number, nothing, and text with all that parts cells.
SIZES = st.one_of(
    st.sampled_from(["", "-", "n/a", "60.50", "6e1", "061", "+62"]), st.floats(15, 150).map(repr)
)
WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc", "Cn", "Co")), max_size=12)
NOTES = st.one_of(
    WORDS,
    st.sampled_from(
        ['a "b", c', "=1+1", "-", "'-x", "@home", "a\nb", "a\r\nb", "ä;b\tc", "0012", "True", "1,5"]
    ),
)


@st.composite
def trials(draw) -> dict[str, list[list[str]]]:
    grids = tables()
    for line in grids["samples"][1:]:
        line[8] = draw(NOTES).strip()
    for line in grids["cultivars"][1:]:
        line[7] = draw(NOTES).strip()
    for line in grids["fruit"][1:]:
        line[2], line[3] = draw(SIZES), draw(SIZES)
    return grids


def cells(place) -> dict[str, list[list[str]]]:
    """Every table as rows of text, the headings first."""
    return {
        name: [list(sheet.headings), *map(list, zip(*sheet.cells, strict=True))]
        for name, sheet in source_of(place).sheets.items()
    }  # fmt: skip


@settings(max_examples=5, phases=[Phase.explicit, Phase.generate])
@given(trials())
def test_every_cell_leaves_as_it_came_in(tmp_path_factory, trial):
    here = tmp_path_factory.mktemp("trip")
    folder = write_folder(here / "in", trial)
    store = here / "a.store"
    done = bring(store, folder, "Ada", despite_faults=True)
    assert done.number == 1
    stands = cells(store)
    # A row is left out only where the ordinary reader leaves it out.
    left = {name: len(grid) - len(stands[name]) for name, grid in trial.items()}
    assert left == {name: account.rows - account.loaded for name, account in read(folder).accounts.items()}
    for name, grid in trial.items():
        assert all(row in grid for row in stands[name]), name
    for number, form in enumerate(("out", "out.xlsx")):
        write_out(store, here / form)
        other = here / f"{number}.store"
        bring(other, here / form, "Ada", despite_faults=True)
        assert {name: [list(map(plain, row)) for row in grid] for name, grid in cells(other).items()} == {
            name: [list(map(plain, row)) for row in grid] for name, grid in stands.items()
        }


def plain(cell: str) -> str:
    """Without the apostrophe that keeps a spreadsheet from working text out; a workbook's cells break lines in one way."""
    return (cell[1:] if cell.startswith("'") else cell).replace("\r\n", "\n")


@given(st.lists(st.lists(st.text(st.characters(codec="utf-8")), min_size=2, max_size=2), min_size=1))
def test_rows_as_text_are_taken_apart_into_the_very_same(rows):
    assert rows_of([text_of([row]) for row in rows]) == rows


def test_every_state_can_be_written_out(store, small, tmp_path):
    bring(store, small, "Ada")
    first = cells(store)
    week = {
        "fruit": [
            ["sample", "fruit", "suture_mm", "who measured"],
            ["S1", "1", "99", "Bo"],
            ["S1", "9", "60", "Bo"],
        ]
    }
    declared = {**DECLARED, "not_used": ["fruit: who measured"]}
    bring(store, write_folder(tmp_path / "week", week, declared), "Ada", changes=True)
    second = cells(store)
    assert second["fruit"][1] == ["S1", "1", "99", "63", "41", "39", "12.2", "Bo"]
    assert write_out(store, tmp_path / "before", 1).endswith("as they stood after import 1")
    write_out(store, tmp_path / "now")
    for folder, stood in (("before", first), ("now", second)):
        bring(tmp_path / f"{folder}.store", tmp_path / folder, "Ada")
        assert cells(tmp_path / f"{folder}.store") == stood


def test_a_folder_is_a_valid_data_package_and_the_zip_holds_the_same(store, small, tmp_path):
    bring(store, small, "Ada")
    write_out(store, tmp_path / "out")
    write_out(store, tmp_path / "out.zip")
    report = Package(str(tmp_path / "out" / "datapackage.json")).validate()
    assert report.valid, report.flatten(["type", "note"])
    with zipfile.ZipFile(tmp_path / "out.zip") as packed:
        assert {one: packed.read(one) for one in packed.namelist()} == {
            one.name: one.read_bytes() for one in (tmp_path / "out").iterdir()
        }
    assert (
        json.loads((tmp_path / "out" / "datapackage.json").read_text())["orchard_slate"]["region"]
        == "Nowhere"
    )


def test_text_leaves_as_no_formula(store, tmp_path):
    grids = tables()
    grids["samples"][1][8] = "=1+1"
    bring(store, write_folder(tmp_path / "in", grids), "Ada")
    write_out(store, tmp_path / "out")
    rows = list(csv.reader(io.StringIO((tmp_path / "out" / "samples.csv").read_text("utf-8"))))
    assert rows[1][8] == "'=1+1"
    assert read(tmp_path / "out").tables["samples"]["note"][0] == "=1+1"


def test_nothing_is_written_over(store, small, tmp_path):
    bring(store, small, "Ada")
    with pytest.raises(StoreError, match="is there already and is left as it is"):
        write_out(store, small)
    with pytest.raises(StoreError, match="name a folder, a workbook"):
        write_out(store, Path(tmp_path / "out.txt"))
    with pytest.raises(StoreError, match="there is no import 7; the last is 1"):
        write_out(store, tmp_path / "out", 7)
