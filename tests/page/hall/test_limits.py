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
    assert "limit" not in told(element)["keys"]
    press(element, {"act": "chill"})
    assert "chill" in told(element)["limiting"]  # it is no market's


def test_chill_is_a_limit_that_is_moved_and_typed(season_shown):
    """What should I plant with 650 hours?"""
    state, element = season_shown
    assert limits.limits_of(state.question)["chill"] == ("h", "cp")
    press(element, {"act": "chill"})
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
    press(element, {"act": "chill"})
    press(element, {"act": "move", "to": "40"})
    assert state.chill == ("40cp",)
    press(element, {"act": "chill"})
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
    ("units", "keys", "text", "said"),
    [
        ("us", "LL", "650", "650 was not taken: sugar can be 0 to 35 °Brix; press K for winter chill in hours."),
        ("us", "L", "63.5", "63.5 was not taken: size can be 0.59 to 5.91 in; 63.5 mm is 2.50 in."),
        ("si", "L", "2.5", "2.5 was not taken: size can be 15 to 150 mm; 2.5 in is 63.5 mm."),
        ("us", "LL", "1.2.3", "1.2.3 was not taken: sugar can be 0 to 35 °Brix; type a number in between."),
        ("us", "KK", "650", "650 was not taken: winter chill can be 2 to 100 portions; press K for winter chill in hours."),
    ],
)  # fmt: skip
def test_what_no_fruit_can_be_is_told_with_what_can_and_changes_nothing(demo, units, keys, text, said):
    state, element = in_hall(demo, f"?v=1&market=roadside_stand&look=hall&units={units}")
    acts = {shown: act for act, shown in limits.KEYS.items()}
    for key in keys:
        press(element, {"act": acts[key]})
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


def test_one_key_takes_the_filters_of_a_view_off_but_for_the_chill_that_is_held(demo):
    """What should I plant with 650 hours, in the midst of a prepared view of white nectarines?"""
    state, element = in_hall(demo, "?v=1&market=roadside_stand&look=hall")
    assert "clear" not in told(element)["keys"]
    state.choose(flesh_colour=("white",), fruit_type=("nectarine",))
    press(element, {"act": "chill"})
    press(element, {"act": "move", "to": "650"})
    narrow = int(state.question.passes.sum())
    assert f"{narrow} pass all filters (X" in told(element)["limiting"]
    press(element, {"act": "clear"})
    assert (state.flesh_colour, state.fruit_type, state.chill) == ((), (), ("650h",))
    assert int(state.question.passes.sum()) > narrow
    assert ("all filters" in told(element)["limiting"], "clear" in told(element)["keys"]) == (False, False)
    press(element, {"act": "undo"})
    assert state.flesh_colour == ("white",)
    press(element, {"act": "close"})  # nothing is held: it is a filter like the others
    press(element, {"act": "clear"})
    assert (state.flesh_colour, state.chill, state.market) == ((), (), "roadside_stand")
    state.choose(flesh_colour=("white",), shortlist=("Aldrum",), tab="season")
    assert "clear" not in told(element)["keys"]  # my slate stands there whatever the filters are
