"""A choice is a field of the question, a parameter of the state and a control on the page: all three, or none."""

from __future__ import annotations

import dataclasses
import json

import pytest

from dashboard.answers.question import Comparison
from dashboard.charts.held import Held
from dashboard.page.app import prepare
from dashboard.page.frame.filters import filters
from dashboard.page.frame.market import MarketEditor
from dashboard.page.parts.elements import ChoiceBoxes, RowTable
from dashboard.page.parts.finding import Finder
from dashboard.page.tabs.one_cultivar import cultivar
from dashboard.page.tabs.ranking import ranking
from dashboard.page.tabs.season import season
from dashboard.page.tabs.side_by_side import beside
from dashboard.page.tabs.tradeoffs import tradeoffs
from dashboard.visit.state import State
from tests.pressing import press

# Fields that are not ticked, and what is done instead.
PRESSED = {
    "shortlist": "the star of a row",
    "cultivar": "the name of a row",
    "chosen": "a box round marks",
    "own": "the figures of the market editor",
    "beside": "the names of side by side",
}
STANDS_ON = {"top": "fruit", "apart": "cultivar"}  # the tabs of controls that follow only while it is open
# What a visitor has that is no part of the question: how it is looked at, and what is kept beside it.
ASIDE = ("name", "comparison", "notices", "tab", "look", "pair", "prepared", "prepared_at")
FIELDS = [field.name for field in dataclasses.fields(Comparison) if field.name != "catalogue"]


@pytest.fixture(scope="module", autouse=True)
def prepared():
    prepare()


@pytest.fixture
def state(catalogue) -> State:
    return State(
        catalogue, "?v=1&tab=season"
    )  # some controls stand on that tab and follow only while it is open


def offered(state: State) -> dict[str, tuple[ChoiceBoxes, dict]]:
    """Every group of boxes on the page, with the element that holds it."""
    return {
        group["field"]: (boxes, group)
        for place in (filters(state), season(state), ranking(state), cultivar(state))
        for boxes in place.select(ChoiceBoxes)
        for group in boxes.groups
    }


def ticked(boxes: ChoiceBoxes, field: str) -> list[str]:
    """The values whose boxes the browser is told to tick."""
    place = [group["field"] for group in boxes.groups].index(field)
    options = boxes.groups[place]["options"]
    return [options[at]["value"] for at in json.loads(boxes.told)[place]["chosen"]]


def test_fields_parameters_and_controls_are_the_same(state):
    assert {name for name in State.param if name not in ASIDE} == set(FIELDS)
    assert {*offered(state), *PRESSED} == set(FIELDS)
    assert not set(offered(state)) & set(PRESSED)


@pytest.mark.parametrize("field", [field for field in FIELDS if field not in PRESSED])
def test_every_box_reaches_the_question_and_comes_back_ticked(state, field):
    state.choose(tab=STANDS_ON.get(field, "season"), cultivar="Aldermere")
    boxes, group = offered(state)[field]
    before = ticked(boxes, field)
    for option in group["options"]:
        if option["value"] in before:
            continue
        press(boxes, {"field": field, "chosen": [option["value"]]})
        asked = getattr(state.comparison, field)
        assert [str(value) for value in (asked if isinstance(asked, tuple) else (asked,))] == [
            option["value"]
        ]
        assert ticked(boxes, field) == [option["value"]]


@pytest.mark.parametrize("field", [field for field in FIELDS if field not in PRESSED])
def test_every_value_the_records_know_has_a_box(state, field):
    values = [option["value"] for option in offered(state)[field][1]["options"]]
    assert values == [str(value) for value in state.known[field]]


def test_a_link_ticks_the_boxes(catalogue):
    state = State(catalogue, "?v=1&flesh_colour=white,red&seasons=2&market=packer&units=si")
    for field, values in (
        ("flesh_colour", ["white", "red"]), ("seasons", ["2"]), ("market", ["packer"]), ("units", ["si"]), ("stone", []),
    ):  # fmt: skip
        assert ticked(offered(state)[field][0], field) == values


def test_the_star_of_a_row_reaches_the_question(state):
    (table,) = ranking(state).select(RowTable)
    press(table, {"keep": "Candover"})
    assert state.comparison.shortlist == ("Candover",)
    press(table, {"keep": "Candover"})
    assert state.comparison.shortlist == ()


def test_the_name_of_a_row_reaches_the_question(state):
    (table,) = ranking(state).select(RowTable)
    press(table, {"open": "Candover"})
    assert (state.comparison.cultivar, state.tab) == ("Candover", "cultivar")


def test_a_name_typed_under_side_by_side_reaches_the_question_and_comes_back_ticked(state):
    state.choose(tab="beside")
    page = beside(state)
    press(page.select(Finder)[0], {"take": "Candover"})
    assert state.comparison.beside == ("Candover",)
    assert ticked(page.select(ChoiceBoxes)[0], "beside") == ["Candover"]


def test_a_figure_of_the_market_reaches_the_question(state):
    state.choose(market="packer")
    (editor,) = filters(state).select(MarketEditor)
    size = json.loads(editor.told)["parts"][1]
    press(editor, {"tick": 1, "set": [[size["id"], "at_least", "2.25"]]})
    assert "size at_least 57.15 share 0.8" in state.comparison.own
    assert state.comparison.profile.limits[1].at_least == 57.15
    assert ["at_least", "at least", "2.25"] in json.loads(editor.told)["parts"][1]["fields"]


def test_a_box_round_marks_reaches_the_question(state, catalogue, monkeypatch):
    made: list[Held] = []
    whole = Held.__init__

    def remembered(self, *args, **kwargs):
        whole(self, *args, **kwargs)
        made.append(self)

    monkeypatch.setattr(Held, "__init__", remembered)
    page = tradeoffs(state)
    page.get_root()
    source = made[0].figures[0].renderers[-1].data_source
    source.selected.indices = [3, 1]
    assert set(state.comparison.chosen) == {catalogue.cultivars.index[1], catalogue.cultivars.index[3]}
