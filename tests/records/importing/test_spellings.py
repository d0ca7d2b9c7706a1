"""Names that may be one, names that a spreadsheet changed, and names that are two."""

from __future__ import annotations

import pytest

from dashboard.records.importing.spellings import asked_names, held_within, name_fault, near_twins, parts_of


@pytest.mark.parametrize(
    ("name", "other"),
    [
        ("ALVANE", "Alvane"), ("Al-vane", "Alvane"), ("Alvané", "Alvane"), ("Alvanne", "Alvane"), ("Alavne", "Alvane"), ("T12-034", "T 12-034"),
        ("T 12-O34", "T 12-034"), ("Dusk Marow", "Dusk Marrow"), ("Dask Marow", "Dusk Marrow"),
    ],
)  # fmt: skip
def test_near_twins(name, other):
    assert near_twins(name, ["Zorvan", other]) == (other,)


@pytest.mark.parametrize(
    ("name", "other"),
    [("K18-256", "K18-257"), ("T 12-034", "T 12-043"), ("Alvane", "Brintel"), ("Ria", "Mia"), ("Alvane 2", "Alvane 3"), ("", "Alvane")],
)  # fmt: skip
def test_two_names_are_two(name, other):
    assert near_twins(name, [other]) == ()


@pytest.mark.parametrize(
    ("name", "other"),
    [("14-207", "NB14-207"), ("K. Gold", "Kest Gold"), ("Kest Gold", "K Gold"), ("Alvane CK", "Alvane"), ("Gold", "Kest Gold"), ("207", "NB14-207"),
     ("Tak", "Takaro"), ("Tak.", "Takaro"), ("B. orrin", "Bremorrin"), ("Tak Gol", "Takaro Gold"), ("K. Gol", "Kest Gold"), ("Vor Gold", "Vornig Gold")],
)  # fmt: skip
def test_a_name_may_be_a_part_of_another(name, other):
    assert parts_of(name, ["Zorvan", other]) == (other,)
    assert asked_names({other: 9, name: 1}, [], {})[name][1] == (other,)


@pytest.mark.parametrize(
    ("name", "other"),
    [("LF18-4", "LF18-40"), ("NB14-207", "NB14-217"), ("Alvane 2", "Alvane 3"), ("K. Gold", "Kest Blush"), ("S. Gold", "Kest Gold"), ("van", "Alvane"), ("12", "LF1812"), ("Ta", "Takaro"), ("K18", "K18256"), ("LF1", "LF18"), ("B. orrin", "Camorrin"), ("B. rin2", "Bremorrin2"), ("Tak", "Takaro Gold")],
)  # fmt: skip
def test_a_name_that_is_no_part_of_another(name, other):
    assert parts_of(name, [other]) == ()


def test_in_a_new_trial_only_what_is_doubtful_is_asked():
    counts = {
        "Alvane": 20,
        "Alvanne": 1,
        "Zorvan": 1,
        "Average": 3,
        "2016-03-12": 2,
        "3-12": 9,
        "7": 2,
        "007": 9,
    }
    found = asked_names(counts, [], {})
    assert {name: (near, offer) for name, (_, near, offer) in found.items()} == {
        "Alvanne": (("Alvane",), ""), "Average": (("not used",), "not used"), "2016-03-12": (("3-12",), "3-12"),
        "7": (("007",), "007"),  # 007 is as it was typed: no spreadsheet writes it so
    }  # fmt: skip


def test_in_a_known_trial_every_new_name_is_asked_once():
    counts = {"Alvane": 20, "Zorvan": 1, "Brintell": 2}
    assert set(asked_names(counts, ["Alvane", "Brintel"], {})) == {"Zorvan", "Brintell"}
    settled = {"Zorvan": "Zorvan", "Brintell": "Brintel"}
    assert asked_names(counts, ["Alvane", "Brintel"], settled) == {}


def test_a_name_with_letters_that_nobody_sees_is_none():
    assert name_fault("Al\u200bvane") is not None
    assert name_fault("Alvane") is None


def test_a_site_is_found_within_a_title_in_whole_words():
    sites = {"tessock": ["tessock", "Tessock Bottom block"], "low": ["low"], "b": ["b"]}
    assert held_within("Peach & nectarine trial - TESSOCK - week 24, 2026", sites) == ("tessock",)
    assert held_within("bottom-block, Tessock Bottom Block", sites) == ("tessock",)
    assert held_within("Lower b block, yellow", sites) == ()
    assert held_within("Low and Tessock", sites) == ("tessock", "low")


def test_a_number_without_its_sign_may_be_the_name_that_has_one_and_what_was_typed_is_no_slip():
    asked = asked_names({"12-239": 670, "12239": 10, "5-3": 30, "MAR 5": 30, "2020-05-03": 30}, (), {})
    assert asked["12239"][1:] == (("12-239",), "12-239")
    assert asked["MAR 5"][1:] == (("5-3",), "")
    assert asked["2020-05-03"][1:] == (("5-3",), "5-3")


@pytest.mark.parametrize("mark", ['"', "''", "-", "〃", "*"])
def test_a_mark_alone_is_no_name(mark):
    said = name_fault(mark)
    assert said
    assert said[1] == "write the name; where it is that of the row above, leave the cell empty"
