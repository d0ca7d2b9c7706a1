"""The limits that keys move and digits set: the market's, and how much winter chill a cultivar may need."""

from __future__ import annotations

import pytest

from dashboard.market.nudging import bounds_of, moved
from dashboard.market.statements import stated, statements
from dashboard.page.hall import limits
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
    for text in ("", "-3", "nan", "0", "1e9", "six"):
        press(element, {"act": "move", "to": text})
        assert state.chill == ("600h",)
        assert told(element)["notices"] == [
            f"{text} is no number that this limit can have; nothing was changed."
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
