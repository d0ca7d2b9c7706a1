"""No key changes what is not seen: each thing the hall shows declares its keys, and whatever they change comes to the screen."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dashboard.market.desirability import desirability
from dashboard.market.verdict import TAKEN
from dashboard.page.hall import keys, view
from dashboard.page.hall.forms import FORMS
from dashboard.page.hall.keys import ANSWERED, EVERYWHERE, OVER
from dashboard.page.hall.view import Hall, hall
from dashboard.visit.history import Steps
from dashboard.visit.saved_views import View
from dashboard.visit.state import State
from dashboard.wording.presenting import FOUND
from dashboard.wording.set_against import AGAIN, ANOTHER, BOTH
from tests.pressing import press, told

MESSAGES: dict[str, dict[str, Any]] = {
    "step": {"act": "step", "by": 1},
    "move": {"act": "move", "by": 1},
    "view": {"act": "view", "by": 1},
    **{
        act: {"act": act}
        for act in (
            "keep",
            "traits",
            "limit",
            "chill",
            "clear",
            "undo",
            "redo",
            "first",
            "close",
            "back",
            "leave",
        )
    },
    **{what: {"act": "over", "what": what} for what in OVER},
}
LINK = "?v=1&market=packer&look=hall&shortlist=Aldermere&beside=Candover,Aldermere"
VIEWS = (
    View("white", "?v=1&market=packer&flesh_colour=white&tab=season&shortlist=Candover"),
    View("all", "?v=1&tab=classes"),
)


@pytest.fixture(scope="module")
def evening(catalogue) -> tuple[State, Hall]:
    """One hall for all: it is made once and brought to where a test begins."""
    state = State(catalogue, LINK)
    state.prepared = VIEWS
    (element,) = hall(state).select(Hall)
    return state, element


def opened(evening: tuple[State, Hall], tab: str, over: str = "") -> tuple[State, Hall]:
    state, element = evening
    state.choose(look="page")
    state.follow(f"{LINK}&tab={tab}", prepared_at=-1)
    state.steps = Steps(state.view)
    state.param.trigger("prepared")
    if over:
        press(element, MESSAGES[over])
    return state, element


def seen(element: Hall) -> dict[str, Any]:
    """What stands on the screen."""
    return {part: said for part, said in told(element).items() if part not in ("keys", "everywhere")}


def chosen(state: State) -> tuple[str, str]:
    """Every choice, and who is spoken of, whether by name or as the first of the ranking."""
    spot = state.question.spotlight
    return state.view_of(spot.name if spot else ""), state.tab


SCREENS = [("fruit", ""), *((tab, "") for tab in FORMS), *(("season", over) for over in OVER)]


@pytest.mark.alike(3)
@pytest.mark.parametrize(("tab", "over"), SCREENS)
def test_a_key_does_what_is_seen_or_nothing(evening, tab, over):
    state, element = opened(evening, tab, over)
    before, choices, offered = seen(element), state.link, told(element)["keys"]
    for key in [key for key in MESSAGES if key not in offered]:
        press(element, MESSAGES[key])
        assert (seen(element), state.link) == (before, choices), key
    for key in offered:
        if key in MESSAGES and key != "leave":
            state, element = opened(evening, tab, over)
            press(element, MESSAGES[key])
            assert seen(element) != before, key


@pytest.mark.parametrize("tab", ["season", "classes", "beside"])
def test_a_view_that_speaks_of_nobody_has_no_key_for_a_cultivar(evening, tab):
    state, element = opened(evening, tab)
    assert told(element)["spot"] is None
    for key in ("step", "keep", "traits"):
        assert key not in told(element)["keys"]
        press(element, MESSAGES[key])
    assert (state.cultivar, state.shortlist, state.pair) == ("", ("Aldermere",), "size_sugar")


@pytest.mark.alike(4)
@pytest.mark.parametrize("tab", ["season", "classes", "beside", "fruit", "cultivar"])
@pytest.mark.parametrize("key", ["close", "back"])
def test_who_is_found_is_seen_and_the_view_comes_back(evening, tab, key):
    state, element = opened(evening, tab)
    before = seen(element)
    for name in ("Candover", "Aldermere", "Aldermere"):  # the same again, too
        press(element.finder, {"take": name})
        assert (told(element)["spot"]["name"], told(element)["found"]) == (name, FOUND)
        assert "keep" in told(element)["keys"]
        assert state.tab == tab
    press(element, MESSAGES["close"] if key == "close" else MESSAGES["against"])
    if key == "back":  # whatever lies over it
        press(element, MESSAGES["back"])
    assert {"close", "back"}.isdisjoint(told(element)["keys"])  # Escape leaves the hall now
    after = seen(element)
    assert all(after[part] == said for part, said in before.items() if part != "found")
    assert after["found"] == ""


def test_one_that_is_found_gives_way_to_the_next_view_and_to_a_limit_that_is_held(evening):
    _state, element = opened(evening, "season")
    press(element.finder, {"take": "Candover"})
    press(element, MESSAGES["limit"])
    assert (told(element)["form"], told(element)["spot"]["name"]) == (None, "Candover")
    press(element, MESSAGES["close"])
    assert "Candover" in told(element)["form"]["title"]
    press(element, MESSAGES["view"])
    assert "My slate" in told(element)["form"]["title"]
    assert told(element)["spot"] is None


def test_a_choice_that_is_taken_back_unseen_is_told(evening):
    state, element = opened(evening, "season")
    state.choose(apart=10)  # of no meaning here
    state.choose(apart=14)
    for left in (1, 0):
        press(element, MESSAGES["undo"])
        assert told(element)["notices"] == [f"Taken back: a choice that does not show here; {left} more."]
    press(element, MESSAGES["redo"])
    assert told(element)["notices"] == ["Made again: a choice that does not show here; 1 more."]
    assert state.apart == 10


def test_one_thing_lies_over_the_picture_and_goes_with_another_view(evening):
    _state, element = opened(evening, "fruit")
    for over in OVER:
        press(element, MESSAGES[over])
        assert [what for what in OVER if told(element)[what]] == [over]
    press(element, MESSAGES["view"])
    assert [what for what in OVER if told(element)[what]] == []
    press(element, MESSAGES["evidence"])
    press(element, MESSAGES["evidence"])
    assert told(element)["evidence"] is None


def test_the_two_set_against_each_other_are_stepped_through_where_nobody_chose_them(evening):
    state, element = opened(evening, "fruit", "against")
    assert told(element)["against"][0].startswith("Candover and Aldermere")
    assert "step" not in told(element)["keys"]
    first = told(element)["against"][1]
    press(element, MESSAGES["traits"])
    assert told(element)["against"][1] not in ("", first)
    second = told(element)["against"][1]
    press(element, MESSAGES["close"])
    press(element, MESSAGES["against"])
    assert (
        told(element)["against"][1] == first != second
    )  # the market's first wish, not what was asked of others
    state.choose(beside=())
    press(element, MESSAGES["against"])
    ranked = [str(name) for name in state.question.ranking.index]
    press(element, MESSAGES["step"])
    assert told(element)["against"][0].startswith(f"{ranked[1]} and ")


def test_the_second_of_two_is_the_best_by_the_first_wish_until_another_is_named(evening):
    state, element = opened(evening, "fruit")
    state.choose(beside=())
    asked = state.question
    taken = [str(name) for name in asked.ranking.index[asked.ranking["verdict"].isin(TAKEN)]]
    wish = asked.profile.wishes[0]
    worth = asked.values[wish.key]["estimate"]
    order = sorted(taken, key=lambda name: -float(desirability(wish, worth[name])))
    assert len(taken) > 2
    for name in (order[0], order[-1]):
        state.choose(cultivar=name)
        press(element, MESSAGES["against"])
        best = next(one for one in order if one != name)
        first, *_, why = told(element)["against"]
        assert first.startswith(f"{name} and {best}")
        assert f"{best} has the best" in why
        press(element, MESSAGES["against"])
    press(element, MESSAGES["against"])
    other = next(one for one in asked.catalogue.cultivars.index if one not in (order[0], order[-1]))
    assert element.finder.label == view.AGAINST
    press(element.finder, {"take": other})
    first, *_, why = told(element)["against"]
    assert (first.split(",")[0], why) == (f"{order[-1]} and {other}", AGAIN.format(name=other))
    assert state.cultivar == order[-1]
    press(element, MESSAGES["close"])
    press(element, MESSAGES["against"])
    assert other not in told(element)["against"][0]  # named for that pair alone


def test_any_two_are_named_one_after_the_other(evening):
    """The screen says at each step what the next name will do."""
    state, element = opened(evening, "fruit")
    state.choose(beside=())
    one, other, third, *_ = (str(name) for name in reversed(state.question.catalogue.cultivars.index))

    def two() -> tuple[str, str]:
        first, *_, how = told(element)["against"]
        return first.split(",")[0], how

    press(element, MESSAGES["against"])
    assert two()[1].endswith(BOTH)
    press(element.finder, {"take": one})
    assert two() == (f"{state.question.spotlight.name} and {one}", AGAIN.format(name=one))
    press(element.finder, {"take": other})
    assert two() == (f"{one} and {other}", ANOTHER)
    assert "step" not in told(element)["keys"]  # both are named: nobody goes along with the ranking
    press(element.finder, {"take": third})
    assert two() == (f"{one} and {third}", ANOTHER)
    press(element, MESSAGES["close"])
    press(element.finder, {"take": one})  # who was found is named, too
    press(element, MESSAGES["against"])
    assert two()[1].endswith(ANOTHER)
    for name in (other, third):
        press(element.finder, {"take": name})
        assert two() == (f"{one} and {name}", ANOTHER)


def test_a_limit_that_was_held_is_what_two_are_set_against_each_other_in(evening):
    state, element = opened(evening, "season")
    while "sugar" not in told(element)["limiting"]:
        press(element, MESSAGES["limit"])
    press(element, MESSAGES["against"])
    assert re.search("sweeter|Sugar", told(element)["against"][1])
    press(element, MESSAGES["leave"])
    state.choose(look="hall")
    press(element, MESSAGES["against"])
    assert not re.search("sweeter|Sugar", told(element)["against"][1])  # another evening


@settings(max_examples=15, deadline=None)
@given(
    tab=st.sampled_from(["fruit", *FORMS]),
    pressed=st.lists(st.sampled_from([*MESSAGES, "found", "unseen"]), min_size=4, max_size=10),
)
def test_whatever_is_pressed_no_choice_changes_unseen(evening, tab, pressed):
    state, element = opened(evening, tab)
    for key in pressed:
        if key == "leave":
            continue
        if key == "unseen":  # a choice of the page's, made before the evening
            state.choose(apart=14 if state.apart == 7 else 7)
            continue
        before, choices = seen(element), chosen(state)
        press(element.finder, {"take": "Candover"}) if key == "found" else press(element, MESSAGES[key])
        assert chosen(state) == choices or seen(element) != before, key


def test_what_can_be_shown_and_what_the_script_asks_for_is_declared():
    assert set(ANSWERED) == {"", *FORMS, *OVER}
    declared = {key for of in ANSWERED.values() for key in of}
    assert declared == {*MESSAGES, "find", "notes"}
    for of in ANSWERED.values():
        assert set(EVERYWHERE) <= set(of)
    script = Path(view.__file__).with_name("keys.js").read_text(encoding="utf-8")
    assert set(re.findall(r'(?:seen|laid|answers)\("(\w+)"', script)) == declared - {"leave"}
    assert keys.answered("code", {"find": False, "close": False}) == [
        key for key in EVERYWHERE if key not in ("find", "close")
    ]
