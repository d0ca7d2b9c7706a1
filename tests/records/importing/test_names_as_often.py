"""Names that differ by letters and all stand often are confirmed in one line; a rare spelling is asked about, the rarest first."""

from __future__ import annotations

from dashboard.records.importing.naming import _of_all
from dashboard.records.importing.spellings import OFTEN, asked_names


def test_two_frequent_names_that_are_near_are_no_question_of_their_own():
    counts = {"Galvolor": 600, "Galsulor": 590, "Galvulor": 3, "Redmark 9": 500, "Red mark 9": 480}
    found = asked_names(counts, (), {})
    assert found["Galsulor"][:2] == (OFTEN, ("Galvolor",))
    assert found["Galvulor"][0] != OFTEN  # a slip
    assert found["Red mark 9"][0] != OFTEN  # the same letters
    assert (
        asked_names({"Galsulor": 590}, ("Galvolor",), {})["Galsulor"][0] != OFTEN
    )  # of a trial that has another


def test_rare_names_and_near_ones_stand_first_in_the_list():
    counts = {"Galvolor": 600, "Galsulor": 590, "Mystery tree": 1, "Ambrelle": 580}
    shown = _of_all(sorted(counts), counts).shown
    assert shown[0] == "  rare beside the others: Mystery tree"
    assert shown[1] == "  near each other, and each stands often: Galsulor and Galvolor"
