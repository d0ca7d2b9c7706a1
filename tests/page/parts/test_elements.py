"""The page's own elements take from a browser only what they offer."""

from __future__ import annotations

import pytest

from dashboard.page.parts.elements import ChoiceBoxes
from dashboard.wording.boxes import group_of
from tests.pressing import press


@pytest.mark.parametrize(
    ("field", "sent", "heard"),
    [
        ("colour", ["red", "white"], [("colour", ["white", "red"])]),  # in the order they stand
        ("colour", [], [("colour", [])]),
        ("colour", ["white"] * 50_000 + ["no such"] * 50_000, [("colour", ["white"])]),
        ("own", ["size at_least 60"] * 50_000, []),
        ("", ["white"], []),
    ],
)
def test_a_choice_that_is_not_on_offer_is_none(field, sent, heard):
    acted = []
    boxes = ChoiceBoxes(
        lambda *choice: acted.append(choice),
        groups=[group_of("colour", "Colour", {"white": "w", "red": "r"})],
    )
    press(boxes, {"tick": 1, "field": field, "chosen": sent})
    assert acted == heard


@pytest.mark.parametrize(
    ("sent", "heard"),
    [
        ("650h", ["650h"]),
        ("49h", []),
        ("1501h", []),
        ("650cp", []),
        ("650", []),
        ("123456h", []),
        ("6 50h", []),
    ],
)
def test_a_number_is_typed_in_its_unit_or_not_at_all(sent, heard):
    acted = []
    group = group_of("chill", "Chill", {"600h": "600 hours"}) | {
        "typed": {"label": "", "units": [["h", "hours", 50, 1500]], "wrong": ""}
    }
    press(
        ChoiceBoxes(lambda *choice: acted.append(choice), groups=[group]),
        {"tick": 1, "field": "chill", "chosen": [sent]},
    )
    assert acted == [("chill", heard)]
