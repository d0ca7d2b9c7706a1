"""The field that finds a cultivar: what stands under it, how many more there are, and what is said where nobody is so called."""

from __future__ import annotations

import json

import pytest

from dashboard.page.parts.finding import MOST, Finder
from dashboard.wording.figures import kind, picked
from tests.pressing import press


@pytest.fixture
def taken() -> list[str]:
    return []


@pytest.fixture
def finder(demo, taken) -> Finder:
    return Finder(demo, taken.append)


def told(finder: Finder, part: str) -> dict:
    press(finder, {"find": part})
    return json.loads(finder.told)


def test_each_name_comes_with_its_class_and_picking_time(finder, demo):
    for part in ("k14227", "K14 227"):
        (hit,) = told(finder, part)["hits"]
        assert hit[0] == "K14-227"
        assert (
            hit[1]
            == f"{kind(demo.cultivars.loc['K14-227'].to_dict())}, picked {picked(demo.windows.loc['K14-227'].to_dict(), demo.south)}"
        )
        assert "nectarine" in hit[1]


def test_a_name_that_is_one_letter_off_is_offered_as_such(finder):
    found = told(finder, "trenirin")
    assert [name for name, _ in found["hits"]] == ["Trenirrin"]
    assert not found["held"]
    assert found["note"] == "No cultivar of that name. One letter away:"
    assert told(finder, "Trenirrin")["note"] == ""


def test_the_nearest_is_offered_where_more_is_wrong_and_nobody_where_all_is(finder):
    far = told(finder, "Tranirim")
    assert [name for name, _ in far["hits"]] == ["Trenirrin"]
    assert far["note"] == "No cultivar of that name. The nearest:"
    assert told(finder, "?xyzzy?") == {
        "part": "?xyzzy?",
        "held": False,
        "note": "No cultivar of that name.",
        "hits": [],
        "more": 0,
    }


def test_how_many_more_there_are_is_said(finder, demo):
    found = told(finder, "k14")
    all_of_them = [name for name in demo.cultivars.index if name.startswith("K14")]
    assert [name for name, _ in found["hits"]] == all_of_them[:MOST]
    assert found["more"] == len(all_of_them) - MOST > 0


def test_only_a_cultivar_can_be_taken_and_none_while_it_is_disabled(finder, taken):
    for message in ({"take": "nobody"}, {"take": ["K14-227"]}, {}):
        press(finder, message)
    press(finder, {"take": "K14-227"})
    finder.disabled = True
    press(finder, {"take": "K14-039"})
    assert taken == ["K14-227"]
