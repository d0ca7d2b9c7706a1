"""The slate strip of one visitor: what is pressed on it becomes a choice, and what cannot be followed is told."""

from __future__ import annotations

import pytest

from dashboard.answers.planning import plan
from dashboard.page.frame.strip import slate_strip
from dashboard.visit.state import State
from tests.pressing import press, told


@pytest.fixture
def state(demo) -> State:
    return State(
        demo, "?v=1&year=any&opens=06-10&closes=08-31&market=roadside_stand&shortlist=Narvelo,Sibbrel"
    )


def test_it_tells_the_slate_its_days_and_its_gaps(state):
    strip = slate_strip(state)
    said = told(strip)
    assert (said["heading"], said["days"], said["ends"]) == ("2 on my slate", 83, ["Jun 10", "Aug 31"])
    assert [bar["name"] for bar in said["bars"]] == ["Narvelo", "Sibbrel"]
    (row,) = said["rows"]
    assert len(row["cells"]) == 83
    bare = {day for first, last, _ in row["gaps"] for day in range(int(first), int(last) + 1)}
    assert {day for day, cell in enumerate(row["cells"]) if cell == "0"} == bare
    assert row["told"] == f"{83 - len(bare)} of 83 days, 8 years in 10"


def test_a_star_moves_it_and_a_filter_does_not(state):
    strip = slate_strip(state)
    before = strip.told
    state.choose(flesh_colour=("white",))
    assert strip.told is before
    state.keep("Oskondo")
    assert len(told(strip)["bars"]) == 3


def test_an_end_is_typed_or_moved(state):
    strip = slate_strip(state)
    press(strip, {"end": 0, "typed": "July 1"})
    press(strip, {"end": 1, "by": -7})
    assert (state.opens, state.closes) == ("07-01", "08-24")
    assert told(strip)["ends"] == ["Jul 1", "Aug 24"]


@pytest.mark.parametrize(
    ("message", "said"),
    [
        ({"end": 0, "typed": "soon"}, "is no day"),
        ({"end": 0, "typed": "<b>Jun 31</b>"}, "is no day"),
        ({"end": 1, "typed": "Feb 30"}, "is in no calendar"),
        ({"end": 0, "typed": "Sep 15"}, "comes before the first"),
        ({"end": 1, "by": -200}, "comes before the first"),
        ({"end": 1, "by": -420}, "comes before the first"),
        ({"end": 0, "by": 10**9}, "comes before the first"),
    ],
)
def test_an_end_that_cannot_be_is_told_and_nothing_is_changed(state, message, said):
    press(slate_strip(state), message)
    assert (state.opens, state.closes) == ("06-10", "08-31")
    assert said in state.notices[0]


def test_a_gap_a_bar_and_the_certainty_are_pressed(state):
    strip = slate_strip(state)
    press(strip, {"gap": [0, 12], "row": 0})
    assert state.gap == "06-10"
    press(strip, {"certainty": 6})
    assert (state.certainty, told(strip)["certainty"]) == (6, 6)
    press(strip, {"fill": True})
    assert (state.filling, state.gap) == ("proposed", "")
    press(strip, {"open": "Sibbrel"})
    assert (state.cultivar, state.tab) == ("Sibbrel", "cultivar")


@pytest.mark.parametrize(
    "message", [{}, {"end": 7, "by": 1}, {"end": "x"}, {"gap": []}, {"gap": "x"}, {"certainty": 11}, {"open": "<i>"}, {"end": 0, "by": "1e9"}]
)  # fmt: skip
def test_a_message_that_means_nothing_does_nothing(state, message):
    before = state.link
    press(slate_strip(state), message)
    assert state.link == before


def test_what_is_taken_off_says_which_gap_it_leaves(state):
    slate = plan(state.question.wanted).names
    state.choose(shortlist=slate)
    state.keep(slate[0])
    assert state.notices[0].startswith(f"Without {slate[0]} there is a gap: ")
    state.undo()
    assert state.shortlist == slate


def test_two_buyers_have_a_row_each(state):
    strip = slate_strip(state)
    state.choose(second="regional_wholesale")
    said = told(strip)
    assert [row["buyer"] for row in said["rows"]] == ["Roadside stand", "Regional wholesale"]
    assert said["rows"][1]["told"].startswith("Regional wholesale: ")
    state.choose(second="roadside_stand")  # the same buyer once more is one
    assert len(told(strip)["rows"]) == 1


def test_an_end_after_the_season_is_told(demo):
    state = State(demo, "?v=1&opens=12-20")
    assert state.opens == ""
    assert "comes before the first, Dec 20" in state.notices[0]


def test_a_link_with_its_ends_the_wrong_way_round_shows_the_whole_season_and_says_so(demo):
    state = State(demo, "?v=1&opens=08-31&closes=06-10")
    assert state.question.selling[0] < state.question.selling[1]
    assert any("comes before the first" in note for note in state.notices)
    assert (state.opens, state.closes) == ("", "")
