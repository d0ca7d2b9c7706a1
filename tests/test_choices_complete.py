"""A choice is declared once and stands everywhere: in the question, the link, the page, the hall, on paper and in the slate."""

from __future__ import annotations

import dataclasses
import json
from dataclasses import replace
from typing import Any

import numpy as np
import pandas as pd
import pytest

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.choices import FILTERS
from dashboard.answers.choosing import as_text
from dashboard.answers.filters import left_out
from dashboard.answers.question import Question
from dashboard.charts.held import Held
from dashboard.handout import summary_page
from dashboard.page.app import prepare
from dashboard.page.frame.filters import filters
from dashboard.page.frame.market import MarketEditor
from dashboard.page.hall import told as hall_words
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.elements import ChoiceBoxes, RowTable
from dashboard.page.parts.finding import Finder
from dashboard.page.tabs.by_class import classes
from dashboard.page.tabs.my_site import my_site
from dashboard.page.tabs.one_cultivar import cultivar
from dashboard.page.tabs.ranking import ranking
from dashboard.page.tabs.season import season
from dashboard.page.tabs.side_by_side import beside
from dashboard.page.tabs.tradeoffs import tradeoffs
from dashboard.slate import rows
from dashboard.terms.traits import UNKNOWN
from dashboard.visit.state import State
from dashboard.wording.boxes import MORE
from tests.pressing import press

# Fields that are not ticked, and what is done instead.
PRESSED = {
    "shortlist": "the star of a row",
    "cultivar": "the name of a row",
    "chosen": "a box round marks",
    "own": "the figures of the market editor",
    "beside": "the names of side by side",
    "other": "a list brought to compare with",
    "opens": "the first day of the strip",
    "closes": "the last day of the strip",
    "gap": "a gap of the strip",
    "most": "the rules of a proposal",
    "built_for": "the rules of a proposal",
    "units": "the top line",
    "weather": "a file that is opened",
    "share": "the rules of a proposal",
    "bought": "the rules of a proposal",
    "weekly": "a field of the order",
    "weeks": "a field of the order",
    "acres": "a field of the order",
    "spacing": "a field of the order",
    "bears": "a field of the order",
    "tree_price": "a field of the order",
    "money": "a field of the order",
    "most_share": "a field of the order",
    "second_weekly": "a field of the order",
    "second_weeks": "a field of the order",
    "promise": "a list of the order",
    "barred": "a press beside a proposed cultivar",
}
STANDS_ON = {
    "top": "fruit",
    "columns": "fruit",
    "apart": "cultivar",
    "weeks_of": "classes",
    "station": "site",
    "higher": "site",
}  # the tabs of controls that follow only while it is open
# What a visitor has that is no part of the question: how it is looked at, and what is kept beside it.
ASIDE = (
    "name",
    "question",
    "notices",
    "tab",
    "look",
    "pair",
    "shown",
    "prepared",
    "prepared_at",
    "filling",
    "sheet",
    "opened_at",
    "sample",
)
FIELDS = [field.name for field in dataclasses.fields(Question) if field.name != "catalogue"]


@pytest.fixture(scope="module", autouse=True)
def prepared():
    prepare()


@pytest.fixture
def state(well_recorded) -> State:
    return State(
        well_recorded, "?v=1&tab=season"
    )  # some controls stand on that tab and follow only while it is open


def offered(state: State) -> dict[str, tuple[ChoiceBoxes, dict]]:
    """Every group of boxes on the page, with the element that holds it."""
    return {
        group["field"]: (boxes, group)
        for place in (
            season(state),
            ranking(state),
            cultivar(state),
            classes(state),
            my_site(state),
            Column(*filters(state)),  # whose boxes follow wherever one is
        )
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
    assert {*offered(state), *PRESSED} - {*ASIDE} == set(FIELDS)
    assert not set(offered(state)) & set(PRESSED)


@pytest.mark.alike(8)
@pytest.mark.parametrize("field", [field for field in FIELDS if field not in PRESSED])
def test_every_box_reaches_the_question_and_comes_back_ticked(state, field):
    state.choose(tab=STANDS_ON.get(field, "season"), cultivar="Aldermere")
    boxes, group = offered(state)[field]
    before = ticked(boxes, field)
    for option in group["options"]:
        if option["value"] in before:
            continue
        press(boxes, {"field": field, "chosen": [option["value"]]})
        asked = getattr(state.question, field)
        assert [as_text(value) for value in (asked if isinstance(asked, tuple) else (asked,))] == [
            option["value"]
        ]
        assert ticked(boxes, field) == [option["value"]]


@pytest.mark.alike(8)
@pytest.mark.parametrize("field", [field for field in FIELDS if field not in PRESSED])
def test_every_value_the_records_know_has_a_box(state, field):
    values = [option["value"] for option in offered(state)[field][1]["options"]]
    assert values == [as_text(value) for value in state.known[field]]


def an_answer(catalogue: Catalogue, name: str) -> Any:
    """Something a filter can be asked for: the last of its options."""
    option = FILTERS[name].options(catalogue)[-1]
    return (option,) if FILTERS[name].several else option


@pytest.mark.parametrize("name", FILTERS)
def test_a_filter_is_told_wherever_it_is_asked(state, well_recorded, name):
    choice, value = FILTERS[name], an_answer(well_recorded, name)
    state.choose(**{name: value})
    asked = state.question
    assert getattr(asked, name) == getattr(asked.filters, name) == value != choice.default
    assert f"&{name}=" in state.link
    assert State(well_recorded, state.link).question == asked
    assert choice.label
    for sentence, told in (
        (choice.short, hall_words.question(asked)),
        (choice.full, dict(summary_page.question(asked))["Filters"]),
    ):
        assert "{}" in sentence
        assert choice.told(sentence, well_recorded, value) in told
    state.start_over()
    assert getattr(state.question, name) == choice.default


@pytest.mark.parametrize("name", FILTERS)
def test_a_published_slate_filters_as_the_page_does(well_recorded, name):
    asked = Question(well_recorded, market="packer")
    names = rows.known(asked)
    (group,) = (group for group in rows.groups(asked) if group["field"] == name)
    label = "Virus tested" if name == "noted" else FILTERS[name].label  # of one's own table, its column
    assert (group["label"], group["fold"]) == (label, MORE if FILTERS[name].rare else "")
    for option, value in zip(group["options"], FILTERS[name].options(well_recorded), strict=True):
        page = Question(well_recorded, **{name: (value,) if FILTERS[name].several else value})
        assert [names[row] for row in option["members"]] == list(well_recorded.cultivars.index[page.passes])
        told = left_out(well_recorded, page.filters).get(name, "")
        assert told == (
            f"{len(option['missing'])} left out: {group['why_missing']}" if option["missing"] else ""
        )


@pytest.mark.alike(3)
@pytest.mark.parametrize("name", [name for name in FILTERS if FILTERS[name].rare])
def test_a_filter_of_which_the_records_have_nothing_is_not_shown_and_not_followed(catalogue, name):
    bare = replace(
        catalogue,
        cultivars=catalogue.cultivars.assign(
            flesh_texture=pd.Series(UNKNOWN, index=catalogue.cultivars.index, dtype="str"),
            bacterial_spot=np.nan, chill_requirement_h=np.nan, chill_requirement_cp=np.nan,
        ),
    )  # fmt: skip
    assert name not in offered(State(bare))
    assert name not in [group["field"] for group in rows.groups(Question(bare, market="packer"))]
    followed = State(bare, f"?v=1&{name}=1")
    assert getattr(followed, name) == FILTERS[name].default
    (note,) = followed.notices
    assert "which these records do not have; it was left out" in note


def test_what_is_rarely_used_lies_folded_and_opens_when_it_is_set(well_recorded):
    rare = [name for name in FILTERS if FILTERS[name].rare]
    for link in (
        "?v=1",
        *(f"?v=1&{name}={as_text(FILTERS[name].options(well_recorded)[-1])}" for name in rare),
    ):
        state = State(well_recorded, link)
        boxes, _ = offered(state)["fruit_type"]
        told = dict(zip([group["field"] for group in boxes.groups], json.loads(boxes.told), strict=True))
        assert [group["field"] for group in boxes.groups if group["fold"]] == rare
        assert [name for name in rare if told[name].get("set")] == [
            name for name in rare if f"&{name}=" in link
        ]


def test_a_link_ticks_the_boxes(catalogue):
    state = State(catalogue, "?v=1&flesh_colour=white,red&seasons=2&market=packer")
    for field, values in (
        ("flesh_colour", ["white", "red"]), ("seasons", ["2"]), ("market", ["packer"]), ("stone", []),
    ):  # fmt: skip
        assert ticked(offered(state)[field][0], field) == values


def test_the_star_of_a_row_reaches_the_question(state):
    (table,) = ranking(state).select(RowTable)
    press(table, {"keep": "Candover"})
    assert state.question.shortlist == ("Candover",)
    press(table, {"keep": "Candover"})
    assert state.question.shortlist == ()


def test_the_name_of_a_row_reaches_the_question(state):
    (table,) = ranking(state).select(RowTable)
    press(table, {"open": "Candover"})
    assert (state.question.cultivar, state.tab) == ("Candover", "cultivar")


def test_a_name_typed_under_side_by_side_reaches_the_question_and_comes_back_ticked(state):
    state.choose(tab="beside")
    page = beside(state)
    press(page.select(Finder)[0], {"take": "Candover"})
    assert state.question.beside == ("Candover",)
    assert ticked(page.select(ChoiceBoxes)[0], "beside") == ["Candover"]


def test_a_figure_of_the_market_reaches_the_question(state):
    state.choose(market="packer")
    (editor,) = Column(*filters(state)).select(MarketEditor)
    size = json.loads(editor.told)["parts"][1]
    press(editor, {"tick": 1, "set": [[size["id"], "at_least", "2.25"]]})
    assert "size at_least 57.15 share 0.8" in state.question.own
    assert state.question.profile.limits[1].at_least == 57.15
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
    state.choose(tab="fruit", shown="pictures")  # its rows are read while it is open
    source = made[0].figures[0].renderers[-1].data_source
    source.selected.indices = [3, 1]
    assert set(state.question.chosen) == {catalogue.cultivars.index[1], catalogue.cultivars.index[3]}
