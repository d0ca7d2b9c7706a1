"""One visitor's choices: what is asked, what travels in the link, and what is refused."""

from __future__ import annotations

import contextlib
import dataclasses

import pandas as pd
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dashboard.answers import catalogue as catalogues
from dashboard.answers.choices import FILTERS
from dashboard.answers.question import QUESTION, Question
from dashboard.market.statements import MOST, OWN, statements
from dashboard.visit import link as address
from dashboard.visit.state import LINKED, TABS, State
from dashboard.wording.presenting import PUT_ASIDE
from tests.market.strategies import markets


@pytest.fixture
def state(catalogue) -> State:
    return State(catalogue)


# What is typed on the page, beside what stands on a list.
TYPED = {
    "weekly": ("", "800"), "weeks": ("06-17 1200", "06-24 0", "07-01 5.5"), "acres": ("", "3.5"), "spacing": ("18x18", "12x20"),
    "bears": ("", "90"), "tree_price": ("", "9.5"), "money": ("", "4000"), "second_weekly": ("", "300"), "second_weeks": ("06-17 1200", "07-01 5.5"),
    "most_share": ("", "25"), "promise": ("95-70", "90-60"),
}  # fmt: skip


def questions(state: State):
    several = {field for field in state.known if isinstance(state.defaults[field], tuple)}
    own = st.just(()) | markets().map(statements)
    return st.fixed_dictionaries(
        {
            field: own
            if field == "own"
            else st.lists(st.sampled_from(values), unique=True, max_size=4).map(tuple)
            if field in several
            else st.sampled_from(values)
            for field, values in (state.known | TYPED).items()
        }
    )


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(data=st.data())
def test_a_second_visitor_who_opens_the_link_has_the_same_choices(well_recorded, data):
    first = State(well_recorded)
    first.choose(**data.draw(questions(first)))
    second = State(well_recorded, first.link)
    assert {field: getattr(second, field) for field in LINKED} == {
        field: getattr(first, field) for field in LINKED
    }
    assert second.notices == ()
    assert second.link == first.link


def test_every_field_of_a_question_is_a_choice_and_travels_in_the_link(state):
    asked = {field.name for field in dataclasses.fields(Question)} - {"catalogue", "weather"}
    kept = {name for name in State.param if name not in ("name", "question", "notices")}
    kept -= {
        "prepared",
        "prepared_at",
        "filling",
        "sheet",
        "opened_at",
        "sample",
        "weather",
    }  # the visitor's own, in no link
    assert set(QUESTION) == asked
    assert kept == asked | {"tab", "look", "pair", "shown"}
    assert set(LINKED) == kept
    assert set(state.known) == kept
    assert set(FILTERS) <= asked


def test_the_defaults_of_state_and_question_agree(state, catalogue):
    for name in QUESTION:
        assert state.defaults[name] == getattr(Question(catalogue), name), name


# A whole address as it was written before, and what it means: names, values and defaults of version 1 stay.
OF_VERSION_1 = (
    "?v=1&fruit_type=peach&flesh_colour=white,not+recorded&acidity_class=low&shape_type=flat&stone=semi-free&status=released"
    "&ripening=07a,07b&seasons=2&market=packer&shortlist=Candover&chosen=T+14-203&cultivar=Aldermere&units=si&site=Hill"
    "&ripeness=equal&year=any&least=2&certainty=9&own=sugar+at_least+11&beside=Candover&top=10&apart=14&tab=season&look=hall"
    "&pair=size_firmness"
)
MEANT = {
    "fruit_type": ("peach",), "flesh_colour": ("white", "not recorded"), "acidity_class": ("low",), "shape_type": ("flat",),
    "stone": ("semi-free",), "status": ("released",), "ripening": ("07a", "07b"), "seasons": 2, "market": "packer",
    "shortlist": ("Candover",), "chosen": ("T 14-203",), "cultivar": "Aldermere", "units": "si", "site": "Hill", "ripeness": "equal",
    "season_kind": "any", "least": 2, "certainty": 9, "own": ("sugar at_least 11",), "beside": ("Candover",), "top": 10, "apart": 14,
    "tab": "season", "look": "hall", "pair": "size_firmness",
}  # fmt: skip
LEFT_OUT_OF_LINKS = {
    "seasons": 1, "market": "", "cultivar": "", "units": "us", "site": "", "ripeness": "picked", "season_kind": "ordinary", "least": 1,
    "certainty": 8, "top": 5, "apart": 7, "tab": "fruit", "look": "page", "pair": "size_sugar",
}  # fmt: skip


def test_links_made_before_still_open(catalogue):
    state = State(catalogue, OF_VERSION_1)
    assert state.notices == ()
    assert {field: getattr(state, field) for field in MEANT} == MEANT
    assert state.link == OF_VERSION_1
    assert {field: state.defaults[field] for field in MEANT} == {
        field: LEFT_OUT_OF_LINKS.get(field, ()) for field in MEANT
    }


def test_choices_made_in_one_step_ask_one_question(state):
    asked = []
    state.param.watch(lambda event: asked.append(event.new), "question")
    state.choose(flesh_colour=("white",), seasons=2, market="packer", units="si", tab="season")
    assert len(asked) == 1
    assert (asked[0].flesh_colour, asked[0].seasons, asked[0].market, asked[0].units) == (
        ("white",),
        2,
        "packer",
        "si",
    )


def test_a_choice_that_changes_nothing_asks_nothing(state):
    asked = []
    state.choose(flesh_colour=("white",))
    state.param.watch(asked.append, "question")
    state.choose(flesh_colour=("white",))
    state.choose(tab="season")
    state.keep("Nobody")
    state.open("Nobody")
    assert asked == []


@pytest.mark.parametrize(
    "choices",
    [
        {"market": "nowhere"}, {"seasons": 77}, {"seasons": 0}, {"cultivar": "Nobody"}, {"units": "furlongs"},
        {"flesh_colour": ("purple",)}, {"chosen": ("Nobody",)}, {"tab": "cellar"}, {"own": ("size at_leest 60", "<b>")},
    ],
)  # fmt: skip
def test_a_value_that_is_not_on_offer_is_not_taken(state, choices):
    with contextlib.suppress(ValueError):  # refused by its parameter, or dropped
        state.choose(**choices)
    assert {field: getattr(state, field) for field in LINKED} == state.defaults


def test_taking_all_filters_off_keeps_market_shortlist_and_units(state):
    state.choose(flesh_colour=("white",), seasons=3, market="packer", shortlist=("Candover",), units="si")
    state.start_over()
    assert all(getattr(state, field) == state.defaults[field] for field in FILTERS)
    assert (state.market, state.shortlist, state.units) == ("packer", ("Candover",), "si")


def test_a_bad_link_is_told_and_the_good_part_followed(catalogue):
    state = State(catalogue, "?v=1&flesh_colour=white,<b>&market=nowhere&tab=season&seasons=2")
    assert (state.flesh_colour, state.market, state.tab, state.seasons) == (("white",), "", "season", 2)
    assert len(state.notices) == 2
    assert state.question.flesh_colour == ("white",)


@pytest.mark.parametrize(
    ("own", "told"),
    [
        ("size+at_leest+60", "line “size at_leest 60” was left out: market, at_leest = 60.0: not an entry of this table; did you mean at_least?"),
        ("want+sugar+larger+from+14+to+9", "market, from = 14.0: must be below to = 9; smaller runs down"),
        ("size", "market: the limit on size has no bound"),
        ("size+at_least+60+share+80", "must be above 0 and at most 1; write 0.8."),
        ("want+sugar+larger+from+9+to+14+weight+-1", "weight = -1.0: must be above 0"),
        ("sugar+at_least+nan", "must be a finite number."),
        ("%3Cimg%3E", "market, trait = <img>: not one of size"),
        ("x" * 300, "300 characters, more than 200."),
        ("sugar+at_least+%E2%80%AE9%00", "“sugar at_least ·9·”"),
    ],
)  # fmt: skip
def test_a_bad_line_of_an_own_market_is_told_in_one_sentence_and_the_others_followed(catalogue, own, told):
    state = State(catalogue, f"?v=1&market=packer&own={own},sugar+at_least+11")
    (note,) = state.notices
    assert note.startswith("This link's line “")
    assert told in note
    assert note.isprintable()
    assert len(note) < 320
    assert state.own == ("sugar at_least 11",)
    assert state.question.profile.name == "Packer, changed"


def test_an_own_market_of_too_many_lines_is_told_and_left_out(catalogue):
    lines = ",".join(f"sugar+at_least+{number}" for number in range(MOST + 1))
    state = State(catalogue, f"?v=1&market=packer&own={lines}")
    assert state.notices == (
        "This link's own market was left out: market, 41 lines: a market has at most 40.",
    )
    assert (state.own, state.market) == ((), "packer")
    assert state.question.profile is catalogue.markets["packer"]


def test_an_own_market_needs_no_other(catalogue):
    state = State(catalogue, "?v=1&own=sugar+at_least+11")
    assert state.question.profile.name == OWN
    assert state.notices == ()
    assert State(catalogue, state.link).question.own == state.own


def test_following_a_link_forgets_every_choice_it_does_not_name(state):
    state.choose(flesh_colour=("white",), market="packer", shortlist=("Candover",))
    state.follow("?v=1&seasons=2")
    assert {**state.defaults, "seasons": 2} == {field: getattr(state, field) for field in LINKED}


def test_a_notice_of_a_former_link_goes_with_the_next(state):
    state.follow("?v=1&market=nowhere")
    assert state.notices
    state.follow("?v=1")
    assert state.notices == ()


@pytest.mark.parametrize("name", ["Cultivar {:04}", "ש{:04} פרי הדר", "桃の品種 {:04}"])
def test_every_link_the_page_can_write_is_followed(catalogue, summaries, fruit, name):
    """Also the longest: two thousand cultivars chosen by one box, and fifty of them on the shortlist."""
    names = tuple(name.format(number) for number in range(2000))
    known = catalogues.catalogue(
        pd.DataFrame({"cultivar": names}),
        summaries.assign(cultivar=names[0]),
        fruit.assign(cultivar=names[0]),
        sites=catalogue.sites,
        markets=catalogue.markets,
    )
    first = State(known)
    first.choose(chosen=names, shortlist=names[:50], market="packer", units="si")
    second = State(known, first.link)
    assert (second.market, second.units, second.shortlist) == ("packer", "si", names[:50])


def test_tabs_are_named_once():
    assert len(set(TABS)) == len(TABS)
    assert address.VERSION == 1


def test_a_prepared_view_shows_the_slate_it_was_kept_with_and_one_that_was_gathered_comes_back(state):
    state.prepare("none")
    state.choose(shortlist=("Candover",))
    state.prepare("one")
    for place, listed in (
        (1, ("Candover",)),
        (0, ()),
        (1, ("Candover",)),
    ):  # what a view brought is put aside without a word
        state.open_prepared(place)
        assert (state.shortlist, state.notices) == (listed, ())
    state.choose(shortlist=("Briskwell", "Candover"))
    state.open_prepared(1)
    assert (state.shortlist, state.notices) == (("Candover",), (PUT_ASIDE.format(count=2),))
    state.undo()
    assert state.shortlist == ("Briskwell", "Candover")


def test_other_choices_stray_from_the_prepared_view_but_not_whom_one_speaks_of(state):
    assert not state.strayed
    state.choose(flesh_colour=("white",), market="packer")
    state.prepare("white")
    state.open_prepared(0)
    state.choose(shortlist=("Candover",), cultivar="Candover")
    assert not state.strayed
    for other in ({"market": ""}, {"tab": "season"}, {"pair": "size_firmness"}):
        state.choose(**other)
        assert state.strayed
        state.open_prepared(0)
        assert not state.strayed


@pytest.mark.parametrize(
    ("tab", "field"), [("cultivar", "cultivar"), ("beside", "beside"), ("season", "shortlist")]
)
def test_a_view_is_another_one_where_what_it_is_a_picture_of_is(state, tab, field):
    one, other = ("Candover", "Briskwell") if field == "cultivar" else (("Candover",), ("Briskwell",))
    state.choose(tab=tab, **{field: one})
    state.prepare("this one")
    state.open_prepared(0)
    state.choose(**{field: other})
    assert state.strayed
    state.undo()
    assert not state.strayed


def test_what_is_taken_back_into_another_prepared_view_bears_its_name(state):
    state.prepare("all")
    state.choose(flesh_colour=("white",), tab="season")
    state.prepare("white")
    for place in (0, 1):
        state.open_prepared(place)
    state.undo()
    assert (state.prepared_at, state.strayed, state.flesh_colour) == (0, False, ())
    state.redo()
    assert (state.prepared_at, state.strayed, state.flesh_colour) == (1, False, ("white",))
    state.choose(seasons=2)
    state.open_prepared(0)
    state.undo()  # to what was no prepared view: the name is not its
    assert (state.prepared_at, state.strayed) == (0, True)
    state.open_prepared(0)
    assert not state.strayed
