"""The limits that keys move and digits set: the market's, and how much winter chill a cultivar may need."""

from __future__ import annotations

import pytest

from dashboard.answers.question import Question
from dashboard.market.nudging import bounds_of, moved
from dashboard.market.statements import stated, statements
from dashboard.page.hall import limits
from tests.page.hall.conftest import in_hall
from tests.pressing import press, told


def test_a_limit_is_held_moved_and_let_go_of(season_shown):
    state, element = season_shown
    assert told(element)["form"]
    press(element, {"act": "move", "by": 1})
    assert state.own == ()
    press(element, {"act": "limit"})
    before = state.question.own_count.qualify
    assert (told(element)["form"], f"{before} qualify" in told(element)["limiting"]) == (None, True)
    press(element, {"act": "move", "by": 1})
    assert state.question.profile.limits[0].at_least == pytest.approx(2.30 * 25.4)
    assert f"{state.question.own_count.qualify} qualify" in told(element)["limiting"]
    assert state.question.own_count.qualify < before
    press(element, {"act": "move", "by": -1})
    assert state.own == ()  # as the market is written
    press(element, {"act": "move", "by": 7})
    assert state.own == ()
    press(element, {"act": "limit"})
    assert "sugar" in told(element)["limiting"]
    assert "sugar" in state.pair
    press(element, {"act": "close"})
    assert told(element)["limiting"] == ""
    press(element, {"act": "limit"})
    state.choose(market="")
    assert told(element)["limiting"] == ""
    press(element, {"act": "limit"})
    assert "chill" in told(element)["limiting"]  # it is no market's


def test_chill_is_a_limit_that_is_moved_and_typed(season_shown):
    """What should I plant with 650 hours?"""
    state, element = season_shown
    every = limits.limits_of(state.question)
    assert every[-2:] == ("h", "cp")
    for _ in every[:-1]:
        press(element, {"act": "limit"})
    assert told(element)["limiting"].startswith("Winter chill needed: any number of hours.")
    press(element, {"act": "move", "to": "650"})
    assert state.chill == ("650h",)
    passing, count = int(state.question.passes.sum()), state.question.own_count
    needs = state.question.catalogue.cultivars["chill_requirement_h"]
    assert passing == int(((needs <= 650) & (state.question.catalogue.windows["seasons"] > 0)).sum())
    said = f"Winter chill needed at most 650 hours: {passing} pass; {count.qualify} qualify, {count.may} more may."
    assert told(element)["limiting"] == said
    for by, after in ((1, "700h"), (-1, "650h"), (-1, "600h")):
        press(element, {"act": "move", "by": by})
        assert state.chill == (after,)
    for text in ("", "-3", "nan", "0", "1e9", "six", "3001"):
        press(element, {"act": "move", "to": text})
        assert state.chill == ("600h",)
        assert told(element)["notices"] == [
            f"{text} was not taken: winter chill can be 50 to 1500 hours; type a number in between."
        ]
    for _ in range(40):
        press(element, {"act": "move", "by": 1})
    assert state.chill == ()  # all that are known need less
    for _ in range(40):
        press(element, {"act": "move", "by": -1})
    assert int(state.chill[0].removesuffix("h")) >= needs.min()
    press(element, {"act": "limit"})
    press(element, {"act": "move", "to": "40"})
    assert state.chill == ("40cp",)
    press(element, {"act": "limit"})
    assert told(element)["limiting"] == ""


def test_a_limit_of_the_market_is_typed_in_the_reader_s_units(season_shown):
    state, element = season_shown
    press(element, {"act": "limit"})
    press(element, {"act": "move", "to": "2.5"})
    assert state.question.profile.limits[0].at_least == pytest.approx(63.5)
    before = state.own
    press(element, {"act": "move", "to": "-1"})
    assert (state.own, len(told(element)["notices"])) == (before, 1)


@pytest.mark.parametrize(
    ("units", "at", "text", "said"),
    [
        ("us", 1, "650", "650 was not taken: sugar can be 0 to 35 °Brix; press L for winter chill in hours."),
        ("us", 0, "63.5", "63.5 was not taken: size can be 0.59 to 5.91 in; 63.5 mm is 2.50 in."),
        ("si", 0, "2.5", "2.5 was not taken: size can be 15 to 150 mm; 2.5 in is 63.5 mm."),
        ("us", 1, "1.2.3", "1.2.3 was not taken: sugar can be 0 to 35 °Brix; type a number in between."),
        ("us", -1, "650", "650 was not taken: winter chill can be 2 to 100 portions; press L for winter chill in hours."),
    ],
)  # fmt: skip
def test_what_no_fruit_can_be_is_told_with_what_can_and_changes_nothing(demo, units, at, text, said):
    state, element = in_hall(demo, f"?v=1&market=roadside_stand&look=hall&units={units}")
    every = limits.limits_of(state.question)
    for _ in every[: 1 + at % len(every)]:
        press(element, {"act": "limit"})
    before = state.question
    press(element, {"act": "move", "to": text})
    assert told(element)["notices"] == [said]
    assert state.question is before


def test_one_end_of_a_limit_does_not_pass_the_other(demo):
    asked = Question(demo, market="roadside_stand", own=("size at_least 50 at_most 60",), units="si")
    for end, text, between in (((0, "at_least"), "61", "15 to 60"), ((0, "at_most"), "49", "50 to 150")):
        with pytest.raises(ValueError, match=f"size can be {between} mm"):
            limits.typed(asked, end, text)


def test_a_moved_limit_is_a_round_figure_of_the_reader_s_units_and_stays_within_what_can_be(demo):
    market = demo.markets["roadside_stand"]
    (first, *_) = bounds_of(market)
    for system, expected in (("us", 2.20 * 25.4), ("si", 57.0 - 0.5)):
        line = moved(market, first, -1, system)
        assert stated(line).limits[0].at_least == pytest.approx(expected, abs=0.26)
        assert line[1:] == statements(market)[1:]
    lines = statements(market)
    for _ in range(400):
        market = stated(moved(market, first, -1, "us"))
    assert market.limits[0].at_least >= 0
    assert len(statements(market)) == len(lines)
