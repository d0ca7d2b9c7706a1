"""An import taken back as a whole, and what one value was from import to import."""

from __future__ import annotations

import pytest

from dashboard.records.store.bringing import bring
from dashboard.records.store.history import HAD_NO_ROW, brought_in, history
from dashboard.records.store.kept import source_of
from dashboard.records.store.opening import StoreError
from dashboard.records.store.undoing import undo
from tests.records.small import DECLARED, tables, write_folder

FRUIT = ["sample", "fruit", "suture_mm"]


def cells(place) -> dict:
    source = source_of(place)
    return {name: sorted(zip(*sheet.cells, strict=True)) for name, sheet in source.sheets.items()} | {
        "about": source.about
    }


@pytest.fixture
def corrected(either, small, tmp_path):
    """A store after three imports: the trial, a corrected value with a fruit more, another corrected value."""
    bring(either, small, "Ada")
    for number, rows in enumerate(([["S1", "1", "70"], ["S1", "4", "71"]], [["S2", "1", "72"]]), 2):
        folder = write_folder(tmp_path / f"week{number}", {"fruit": [FRUIT, *rows]}, None)
        bring(either, folder, "Béla", changes=True)
    return either


def test_what_an_import_brought_goes_and_what_it_changed_comes_back(corrected, small, tmp_path):
    bring(tmp_path / "without.store", small, "Ada")
    third = write_folder(tmp_path / "third", {"fruit": [FRUIT, ["S2", "1", "72"]]}, None)
    bring(tmp_path / "without.store", third, "Ada", changes=True)
    assert undo(corrected, 2, "Cem") == (4, 1, 1)
    assert cells(corrected) == cells(tmp_path / "without.store")
    last = brought_in(corrected)[-1]
    assert (last.who, last.undoes, brought_in(corrected)[1].undone_by) == ("Cem", 2, 4)


def test_an_undo_can_be_taken_back_too(corrected):
    before = cells(corrected)
    undo(corrected, 3, "Ada")
    assert cells(corrected) != before
    undo(corrected, 4, "Ada")
    assert cells(corrected) == before


def test_an_import_that_is_undone_stands_in_nobodys_way(corrected, small, tmp_path):
    week = write_folder(tmp_path / "more", {"fruit": [FRUIT, ["S1", "1", "75"]]}, None)
    bring(corrected, week, "Ada", changes=True)
    with pytest.raises(StoreError, match="Import 2 stays: import 4 changed what it brought; undo that first"):
        undo(corrected, 2, "Ada")
    undo(corrected, 4, "Ada")
    with pytest.raises(StoreError, match="Import 4 is taken back already, by import 5"):
        undo(corrected, 4, "Ada")
    undo(corrected, 2, "Ada")
    with pytest.raises(
        StoreError, match="it changed what import 2 brought, which is taken back; undo import 6 first"
    ):
        undo(corrected, 5, "Ada")
    undo(corrected, 3, "Ada")
    bring(tmp_path / "first.store", small, "Ada")
    assert cells(corrected) == cells(tmp_path / "first.store")
    bring(corrected, week, "Ada", changes=True)
    with pytest.raises(
        StoreError, match="Import 2 cannot come back: import 8 brought the same rows meanwhile"
    ):
        undo(corrected, 6, "Ada")
    undo(corrected, 8, "Ada")
    undo(corrected, 1, "Ada")
    assert cells(corrected) == {"about": None}


def test_a_row_does_not_come_back_without_what_it_refers_to(store, small, tmp_path):
    bring(store, small, "Ada")
    new = {"cultivars": [["cultivar", "fruit_type", "vigor"], ["Corvane", "peach", "high"]]}
    before = cells(store)
    bring(store, write_folder(tmp_path / "new", new, None), "Ada", despite_faults=True)
    trees = {"trees": [["site", "row", "position", "cultivar"], ["low", "1", "1", "Corvane"]]}
    bring(store, write_folder(tmp_path / "trees", trees, None), "Ada")
    undo(store, 3, "Ada")
    undo(store, 2, "Ada")
    assert cells(store) == before  # nor is the heading left that came with it
    with pytest.raises(StoreError, match="rows of trees refer to “Corvane”, no longer in cultivars"):
        undo(store, 4, "Ada")
    assert cells(store) == before
    undo(store, 5, "Ada")
    undo(store, 4, "Ada")
    assert len(source_of(store).sheets["trees"]) == 1


def test_the_history_of_a_value_names_each_import(corrected):
    undo(corrected, 2, "Cem")
    told = [(one.number, one.who, one.value) for one in history(corrected, "fruit", ["S1", "1"], "suture_mm")]
    assert told == [(1, "Ada", "61.5"), (2, "Béla", "70"), (4, "Cem", "61.5")]
    told = [(one.number, one.value) for one in history(corrected, "fruit", ["S1", "4"], "suture_mm")]
    assert told == [(2, "71"), (4, HAD_NO_ROW)]
    assert [one.value for one in history(corrected, "sites", ["low"], "host")] == ["station"]
    assert [one.value for one in history(corrected, "bloom", ["Alvane", "low", "2024"], "full_bloom")] == [
        "2024-04-05"
    ]


def test_what_a_later_import_changed_stays_until_that_is_undone(store, small, tmp_path):
    bring(store, small, "Ada")
    bring(store, write_folder(tmp_path / "week", {"fruit": [FRUIT, ["S1", "4", "70"]]}, None), "Ada")
    with pytest.raises(StoreError, match="Import 1 stays: import 2 changed what it brought; undo that first"):
        undo(store, 1, "Ada")
    undo(store, 2, "Ada")
    undo(store, 1, "Ada")  # its fruit were put back by import 3, and are still its own
    assert cells(store) == {"about": None}
    assert [one.undone_by for one in brought_in(store)] == [4, 3, 0, 0]


def test_nothing_is_left_that_refers_to_what_went(store, small, tmp_path):
    bring(store, small, "Ada")
    new = {
        "cultivars": [["cultivar", "fruit_type"], ["Corvane", "peach"]],
        "samples": [["sample", "cultivar", "site", "date"], ["S9", "Corvane", "low", "2024-07-01"]],
    }
    bring(store, write_folder(tmp_path / "new", new, None), "Ada")
    trees = {"trees": [["site", "row", "position", "cultivar"], ["low", "1", "1", "Corvane"]]}
    bring(store, write_folder(tmp_path / "trees", trees, None), "Ada")
    with pytest.raises(
        StoreError, match="rows of trees that came in otherwise refer to “Corvane” of cultivars"
    ):
        undo(store, 2, "Ada")
    undo(store, 3, "Ada")
    bring(store, write_folder(tmp_path / "fruit", {"fruit": [FRUIT, ["S9", "1", "60"]]}, None), "Ada")
    with pytest.raises(StoreError, match="rows of fruit that came in otherwise refer to “S9” of samples"):
        undo(store, 2, "Ada")


def test_what_was_declared_before_holds_again(store, small, tmp_path):
    bring(store, small, "Ada")
    before = source_of(store).about
    other = write_folder(
        tmp_path / "other", {"fruit": tables()["fruit"]}, {**DECLARED, "region": "Elsewhere"}
    )
    bring(store, other, "Ada", changes=True)
    assert source_of(store).about["region"] == "Elsewhere"
    undo(store, 2, "Ada")
    assert source_of(store).about == before


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (("fruits", ["S1"], "suture_mm"), "fruits: there is no such table"),
        (
            ("fruit", ["S1"], "suture_mm"),
            "A row of fruit is named by sample and fruit: that is 2 names, and 1 came",
        ),
        (("fruit", ["S1", "99"], "suture_mm"), "no row S1; 99 ever stood there"),
        (("fruit", ["S1", "1"], "weight_g"), "there is no column weight_g"),
    ],
)
def test_a_value_that_never_was_is_told(store, small, asked, said):
    bring(store, small, "Ada")
    with pytest.raises(StoreError, match=said):
        history(store, *asked)
    with pytest.raises(StoreError, match="there is no import 5; the last is 1"):
        undo(store, 5, "Ada")
