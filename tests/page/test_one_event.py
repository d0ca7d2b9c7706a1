"""One event moves what it must, each part once, and nothing else; a hidden tab is left alone and catches up."""

from __future__ import annotations

import json
from functools import partial

import panel as pn
import pytest

from dashboard.page import app
from dashboard.page.frame.filters import filters
from dashboard.page.frame.headline import headline
from dashboard.page.parts.elements import RowTable
from dashboard.page.tabs.ranking import ranking
from dashboard.page.tabs.season import season
from dashboard.page.tabs.season_rows import SeasonRows
from dashboard.page.tabs.tradeoffs import tradeoffs
from dashboard.visit.state import State
from tests.page.conftest import Watched
from tests.pressing import press

# An act on the first tab, and all that may move on it.
MOVES = {
    "a filter": (lambda s: s.choose(flesh_colour=("white",)), {"rows", "words", "boxes", "table", "paleness"}),
    "a filter that leaves everyone": (lambda s: s.choose(seasons=1), set()),
    "a star": (lambda s: s.keep("Candover"), {"rows", "words", "table"}),
    "a box": (lambda s: s.choose(chosen=("Candover", "Briskwell")), {"rows", "words", "table", "chosen", "Row"}),  # Row: the buttons that come
    "a market": (
        lambda s: s.choose(market="packer"),
        {"limits", "paleness", "rows", "words", "boxes", "table"},
    ),
    "other units": (lambda s: s.choose(units="si"), {"figures", "axes", "boxes", "table"}),
    "another column": (lambda s: s.choose(columns=("winter_chill",)), {"boxes", "table"}),
    "another tab": (lambda s: s.choose(tab="records"), {"words"}),  # the count is seen there
    "a cultivar that is opened elsewhere": (lambda s: s.choose(cultivar="Candover"), set()),
    "the same again": (lambda s: s.choose(units="us", market="", flesh_colour=()), set()),
}  # fmt: skip


def first_tab(state: State) -> Watched:
    return Watched(pn.Column(headline(state), *filters(state), tradeoffs(state), ranking(state)))


@pytest.fixture(scope="module")
def shared(catalogue, prepared) -> tuple[State, Watched]:
    """One page for all acts; each starts from the bare address."""
    state = State(catalogue, "?v=1&shown=pictures")
    return state, first_tab(state)


@pytest.fixture
def visitor(shared) -> tuple[State, Watched]:
    shared[0].follow("?v=1&shown=pictures")
    return shared


@pytest.mark.alike(3)
@pytest.mark.parametrize(("act", "moved"), MOVES.values(), ids=MOVES)
def test_an_act_moves_what_it_must_and_nothing_else(visitor, act, moved):
    state, page = visitor
    assert page.kinds(lambda: act(state)) <= moved


@pytest.mark.parametrize("name", ["a filter", "a star", "a box", "a market", "other units"])
def test_an_act_that_changes_the_answer_moves_the_table_once(visitor, name):
    state, page = visitor
    act, _ = MOVES[name]
    sent = page.sent(lambda: act(state))
    assert sum(times for (kind, _), times in sent.items() if kind == "table") == 1


def test_a_filter_sends_no_figures_and_draws_nothing_anew(visitor):
    state, watched = visitor
    kinds = watched.kinds(lambda: state.choose(fruit_type=("peach",)))
    assert "rows" in kinds
    assert not kinds & {"figures", "axes", "picture"}


@pytest.mark.parametrize("name", ["a filter", "a market", "other units"])
def test_pictures_that_are_not_shown_cost_nothing_and_catch_up(visitor, name):
    state, watched = visitor
    state.choose(shown="list")
    act, moved = MOVES[name]
    assert watched.kinds(lambda: act(state)) <= moved & {"words", "boxes", "table"}
    assert watched.kinds(lambda: state.choose(shown="pictures")) & {"rows", "figures"}


def test_ten_acts_in_a_row_are_each_sent_once(visitor):
    state, watched = visitor
    for flesh, units in (
        ("white", "us"),
        ("yellow", "us"),
        ("white", "si"),
        ("yellow", "us"),
        ("white", "si"),
    ) * 2:
        kinds = watched.kinds(partial(state.choose, flesh_colour=(flesh,), units=units))
        assert "table" in kinds


def test_a_walk_back_to_the_start_leaves_the_page_as_it_was(visitor):
    state, watched = visitor
    tables = watched.layout.select(RowTable)
    before = [table.told for table in tables]
    link = state.link
    state.choose(flesh_colour=("white",), market="packer", units="si", chosen=("Candover",))
    assert [table.told for table in tables] != before
    state.follow(link)
    assert [table.told for table in tables] == before


def test_a_hidden_tab_is_left_alone_and_catches_up_when_it_is_opened(state):
    watched = Watched(season(state))
    (rows,) = watched.layout.select(SeasonRows)
    before = rows.told
    assert watched.kinds(lambda: state.choose(flesh_colour=("white",))) == set()
    state.choose(tab="season")
    assert rows.told != before
    assert {one["kind"].split()[0] for one in json.loads(rows.told)["classes"]} == {"white"}
    assert str(int(state.question.windows.shape[0])) in " ".join(
        str(p.object) for p in watched.layout.select(pn.pane.HTML)
    )
    state.choose(tab="fruit")
    assert watched.kinds(lambda: state.choose(flesh_colour=())) == set()
    assert "figures" in watched.kinds(lambda: state.choose(tab="season"))
    assert watched.kinds(lambda: state.choose(tab="fruit")) == set()
    assert watched.kinds(lambda: state.choose(tab="season")) == set()


def test_only_the_open_tab_of_the_whole_page_moves(state):
    tabs = app.tabs_of(state)
    watched = Watched(tabs)
    tables = {id(table) for table in ranking_tables(tabs)}
    for act in (
        lambda: state.choose(market="packer"),
        lambda: state.choose(flesh_colour=("white",)),
        lambda: state.keep("Candover"),
    ):
        sent = watched.sent(act)
        assert {one for (kind, one), _ in sent.items() if kind == "table"} <= tables


def ranking_tables(tabs) -> list[RowTable]:
    return tabs[1].select(RowTable)  # after the bar, the one that was opened


def test_a_table_turned_to_another_page_moves_alone(demo):
    state = State(demo)
    watched = first_tab(state)
    (table,) = watched.layout.select(RowTable)
    assert watched.kinds(lambda: press(table, {"page": 2})) == {"table"}
    assert json.loads(table.told)["page"] == 2
    assert watched.kinds(lambda: press(table, {"sort": "size"})) == {"table", "words"}  # by what it is sorted


def test_however_the_table_is_sorted_those_that_qualify_stand_first(demo):
    state = State(demo, "?v=1&market=regional_wholesale")
    (table,) = first_tab(state).layout.select(RowTable)
    rows = state.question.ranking
    inside = rows.index[(rows["verdict"] == "qualifies").to_numpy()]
    for key, best in (
        ("sugar", rows.loc[inside, "sugar"].idxmax()),
        ("score", rows.loc[inside, "score"].idxmax()),
        ("first", rows.loc[inside, "first"].idxmin()),
        ("name", min(inside)),
    ):
        press(table, {"sort": key})
        assert json.loads(table.told)["rows"][0]["id"] == best
    press(table, {"sort": "name"})  # once more turns it round
    assert json.loads(table.told)["rows"][0]["id"] == max(inside)
