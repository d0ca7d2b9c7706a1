"""How many trees: a link opens the order, what is typed becomes a choice, and what cannot be is one sentence."""

from __future__ import annotations

import base64
import json

import pytest

from dashboard.page.parts.elements import Prose, RowTable
from dashboard.page.parts.order_asking import OrderAsking
from dashboard.page.tabs.order import _Order, order
from dashboard.terms.units import KG_PER_POUND
from dashboard.visit.state import State
from dashboard.wording import order_page as words
from tests.pressing import press, told

SLATE = "?v=1&market=roadside_stand&shortlist=Rusvet,Mulvet,Quaskel&opens=06-20&closes=07-10&tab=order"


def said(page) -> str:
    return " ".join(str(one.object) for one in page.select(Prose))


def typed(page, field: str, value: str) -> list[str]:
    (element,) = page.select(OrderAsking)
    press(element, {"field": field, "value": value})
    return told(element)["faults"]


def opened(page, content: bytes, size: int | None = None) -> list[str]:
    (element,) = page.select(OrderAsking)
    sent = base64.b64encode(content).decode()
    press(element, {"field": "file", "value": "", "file": "weeks.csv", "content": sent, "size": len(content) if size is None else size})  # fmt: skip
    return told(element)["faults"]


@pytest.fixture(autouse=True)
def _prepared(prepared):
    pass


@pytest.mark.slow
def test_a_link_opens_the_order_itself(demo):
    page = order(State(demo, f"{SLATE}&weekly=500"))
    assert "Order " in said(page)
    assert 'class="supply"' in said(page)
    assert "license to propagate" in said(page)
    assert "local extension service" in said(page)
    rows = json.loads(page.select(RowTable)[0].told)["rows"]
    assert {row["name"] for row in rows} <= {"Rusvet", "Mulvet", "Quaskel"}
    assert rows


@pytest.mark.slow
def test_what_the_list_cannot_fill_comes_before_the_trees(demo):
    told_ = said(order(State(demo, f"{SLATE}&weekly=500")))
    assert told_.index("Your list cannot fill") < told_.index("Order ")


def test_weeks_can_be_drawn_before_anything_is_typed(demo):
    state = State(demo, SLATE)
    page = order(state)
    weeks = told(page.select(OrderAsking)[0])["weeks"]
    assert [(one["field"], one["value"]) for one in weeks] == [("06-20", "0"), ("06-27", "0"), ("07-04", "0")]
    assert typed(page, "06-27", "340") == []
    assert (state.weekly, state.weeks) == ("", ("06-27 340",))


def test_an_empty_slate_asks_to_be_built_first(demo):
    state = State(demo, "?v=1&tab=order")
    made = _Order(state)
    assert words.BUILD_FIRST in said(made.whole)
    assert (made.build.visible, made.plan.visible) == (True, False)


@pytest.mark.slow
def test_what_is_typed_is_a_choice_and_the_plan_that_stood_is_taken_off(demo):
    state = State(demo, f"{SLATE}&weekly=500")
    made = _Order(state)
    assert made.result.visible
    assert typed(made.whole, "weekly", "20 bushels") == []
    assert state.weekly == "960"
    assert not made.result.visible
    assert words.CHANGED in said(made.whole)
    press(made.plan)
    assert made.result.visible
    assert typed(made.whole, "06-27", "1,200") == []
    assert state.weeks == ("06-27 1200",)
    assert typed(made.whole, "06-27", "960") == []
    assert state.weeks == ()
    assert typed(made.whole, "spacing", " 12 X 20 ") == []
    assert state.spacing == "12x20"


@pytest.mark.parametrize(
    ("field", "value", "why"),
    [
        ("weekly", "-5", "is no amount of fruit"), ("weekly", "much", "is no amount of fruit"), ("weekly", "9e9", "is no amount of fruit"),
        ("06-20", "-1 lb", "is no amount of fruit"), ("acres", "0", "Land of '0' cannot be used"), ("acres", "x", "for example 2.5"),
        ("spacing", "18", "write feet between rows"), ("bears", "1e9", "A full crop of '1e9'"), ("tree_price", "free", "for example 9.50"),
        ("most_share", "0", "A largest share of '0' cannot be used"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_one_sentence(demo, field, value, why):
    state = State(demo, SLATE)
    before = state.link
    (fault,) = typed(order(state), field, value)
    assert why in fault
    assert state.link == before


def test_a_table_of_weeks_becomes_the_amounts_and_the_selling_days(demo):
    state = State(demo, f"{SLATE}&weekly=500")
    page = order(state)
    assert opened(page, b"week,amount,unit\nJun 24,400,lb\nJul 8,10,bushels\n") == []
    assert (state.weekly, state.opens, state.closes) == ("", "06-24", "07-14")
    assert state.weeks == ("06-24 400", "07-01 0", "07-08 480")
    pounds = [kg / KG_PER_POUND for kg in state.question.order_wanted.demand.kg]
    assert pounds == pytest.approx([400, 0, 480], abs=0.01)


@pytest.mark.parametrize(
    ("content", "size", "why"),
    [
        (b"week,amount\nJun 24,-4\n", None, "weeks.csv, line 2: '-4 ' is no amount of fruit"),
        (b"\xff\xfe", None, "is not text in UTF-8"), (b"", 10_000_000, "is larger than 120 kB"),
    ],
)  # fmt: skip
def test_a_table_that_cannot_be_read_changes_nothing(demo, content, size, why):
    state = State(demo, SLATE)
    page, before = order(state), state.link
    (fault,) = opened(page, content, size)
    assert why in fault
    assert state.link == before


def test_as_much_as_money_allows_is_planned_and_told(demo):
    state = State(demo, f"{SLATE}&weekly=500&promise=most&money=900")
    told_ = said(order(state))
    assert "of all the fruit you want, once they bear in full" in told_
    assert "No order that keeps to $900 brings more than" in told_
    assert "A tenth more money" in told_
    fields = json.loads(order(state).select(OrderAsking)[0].told)["first"]
    assert [one["field"] for one in fields][-1] == "money"
    state = State(demo, f"{SLATE}&weekly=500&promise=most")
    assert "say how much of one of them there is" in said(order(state))


def test_a_second_buyer_has_an_amount_and_weeks_and_a_picture_of_his_own(demo):
    state = State(demo, f"{SLATE}&weekly=500&second=regional_wholesale")
    made = _Order(state)
    assert said(made.whole).count('class="supply"') == 2  # the weeks, and the years
    assert typed(made.whole, "second_weekly", "200 lb") == []
    assert typed(made.whole, "second 06-27", "350") == []
    assert (state.second_weekly, state.second_weeks, state.weeks) == ("200", ("06-27 350",), ())
    press(made.plan)
    told_ = said(made.whole)
    assert told_.count('class="supply"') == 4
    assert "How many trees for Roadside stand and Regional wholesale" in told_
    assert "Fruit that suits Regional wholesale, whoever gets it" in told_
    assert "Enough for each alone and for both together is what is promised." in told_
    labels = [one["label"] for part in ("first", "weeks") for one in told(made.asking.element)[part]]
    assert {"Pounds each week for Regional wholesale", "Jun 27", "Jun 27, Regional wholesale"} <= set(labels)
    assert told(made.asking.element)["file"].endswith(", for Roadside stand")
    assert State(demo, state.link).question.order_wanted is state.question.order_wanted


def test_a_message_that_means_nothing_changes_nothing(demo):
    state = State(demo, SLATE)
    page = order(state)
    before = state.link
    for message in ({}, {"field": 3, "value": "x"}, {"field": "nothing", "value": "5"}, {"field": "promise", "value": "<b>"}):  # fmt: skip
        press(page.select(OrderAsking)[0], message)
    assert state.link == before
