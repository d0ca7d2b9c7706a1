"""What a slate is built for is asked first, with what was chosen filled in; what is known is not asked again."""

from __future__ import annotations

import json

import pytest

from dashboard.answers.planting import nurseries
from dashboard.page.frame.asked import SellingDays
from dashboard.page.frame.filling import filling
from dashboard.page.parts.elements import ChoiceBoxes, RowTable
from dashboard.visit.state import State
from tests.page.conftest import said
from tests.page.frame.test_filling import button, shown
from tests.pressing import press, told

STAND = "roadside_stand"


@pytest.fixture
def state(demo) -> State:
    return State(demo, "?v=1&year=any")


def groups(panel) -> dict[str, tuple[ChoiceBoxes, int]]:
    """By field, the boxes it stands in and its place there."""
    return {
        group["field"]: (boxes, place)
        for boxes in panel.select(ChoiceBoxes)
        for place, group in enumerate(boxes.groups)
    }


def chosen(panel, field: str) -> list[str]:
    boxes, place = groups(panel)[field]
    return [boxes.groups[place]["options"][at]["label"] for at in told(boxes)[place]["chosen"]]


def choose(panel, field: str, *values: str) -> None:
    press(groups(panel)[field][0], {"tick": 1, "field": field, "chosen": list(values)})


def test_a_first_visit_is_asked_for_everything_in_one_place_before_anything_is_built(state):
    panel = filling(state)
    state.fill()
    assert state.filling == "asked"
    asked_for = {
        "market",
        "nursery",
        "fruit_type",
        "flesh_colour",
        "certainty",
        "built_for",
        "share",
        "most",
        "chill",
    }
    assert asked_for <= set(groups(panel))
    assert chosen(panel, "built_for") == ["any year"]
    assert chosen(panel, "market") == ["no market: show everything"]
    assert chosen(panel, "certainty") == ["8 years in 10"]
    (days,) = panel.select(SellingDays)
    choose(panel, "market", STAND)
    press(days, {"end": 0, "typed": "Jun 10"})
    press(days, {"end": 1, "typed": "31 August"})
    choose(panel, "flesh_colour", "yellow", "white")
    choose(panel, "chill", "650h")  # typed: no box stood for it before
    assert chosen(panel, "chill") == ["650 hours"]
    assert state.question.proposal_wanted.pool.filters.chill == ("650h",)
    choose(panel, "chill")
    choose(panel, "share", "flesh_colour white 4")
    choose(panel, "certainty", "7")
    asked = state.question
    assert (asked.market, asked.opens, asked.closes) == (STAND, "06-10", "08-31")
    assert (asked.flesh_colour, asked.share, asked.certainty) == (
        ("yellow", "white"),
        "flesh_colour white 4",
        7,
    )
    assert told(days) == ["Jun 10", "Aug 31"]
    assert not panel.select(RowTable)[0].visible
    press(button(panel, "Build it"))
    assert state.filling == "proposed"
    assert "Each of the 83 days has fruit" in said(panel)
    assert state.shortlist == ()
    press(button(panel, "on my slate"))
    assert state.question.strip.rows[0].covered.all()


def test_what_was_chosen_before_stands_filled_in(state):
    panel = filling(state)
    state.choose(
        market=STAND, opens="06-20", certainty=9, flesh_colour=("white",), share="fruit_type nectarine 3"
    )
    state.fill()
    assert chosen(panel, "market") == ["Roadside stand"]
    assert chosen(panel, "flesh_colour") == ["white"]
    assert chosen(panel, "certainty") == ["9 years in 10"]
    assert chosen(panel, "share") == ["a third nectarines"]
    assert told(panel.select(SellingDays)[0])[0] == "Jun 20"


@pytest.mark.slow
def test_where_buyer_and_days_are_known_it_is_built_at_once_and_can_be_changed(state):
    panel = filling(state)
    state.choose(market=STAND, opens="06-20", closes="07-20")
    state.fill()
    assert state.filling == "proposed"
    names = shown(panel)
    press(button(panel, "Change what is asked"))
    assert state.filling == "asked"
    assert chosen(panel, "market") == ["Roadside stand"]
    choose(panel, "most", "5")
    press(button(panel, "Build it"))
    assert len(shown(panel)) == 5 < len(names)


def test_it_is_built_for_the_years_that_are_asked_whatever_years_are_looked_at(state):
    """Another kind of season stays on where it was looked at; the proposal says its own years, and that the strip shows others."""
    panel = filling(state)
    state.choose(market=STAND, opens="06-20", closes="06-29", season_kind="early")
    state.fill()
    assert state.question.proposal_wanted.season_kind == "any"
    assert "fruit in 8 years in 10, any year" in said(panel)
    assert "Built for any year. The strip shows an early season" in said(panel)
    press(button(panel, "Change what is asked"))
    choose(panel, "built_for", "early")
    press(button(panel, "Build it"))
    assert "fruit in 8 early years in 10" in said(panel)
    assert "The strip shows" not in said(panel)


def test_only_what_can_be_bought_is_asked_in_the_same_place(state):
    panel = filling(state)
    state.choose(market=STAND, opens="06-20", closes="06-29")
    state.choose(filling="asked")
    choose(panel, "nursery", "any")
    press(button(panel, "Build it"))
    offered = nurseries(state.question.catalogue)
    assert shown(panel)
    assert all(offered[name] for name in shown(panel))
    assert "offered by any nursery" in said(panel)
    assert "No nursery offers" not in said(panel)


def test_the_gaps_of_a_slate_are_filled_at_once(state):
    state.keep("Narvelo")
    state.fill()
    assert state.filling == "proposed"


@pytest.mark.parametrize(
    "message", [{"end": 0, "typed": "soon"}, {"end": 1, "typed": "Jan 1"}, {"end": 2, "typed": "Jul 1"}, {"typed": "Jul 1"}, {"end": 0}, {}]
)  # fmt: skip
def test_a_day_that_cannot_be_is_written_over_by_what_stands(state, message, monkeypatch):
    panel = filling(state)
    state.choose(opens="06-10", closes="08-31")
    state.choose(filling="asked")
    (days,) = panel.select(SellingDays)
    sent = []
    monkeypatch.setattr(days, "send", sent.append)
    press(days, message)
    assert sent == ["again"]
    assert (state.opens, state.closes) == ("06-10", "08-31")
    assert json.loads(days.told) == ["Jun 10", "Aug 31"]
