"""The page as a notebook puts it together: tabs by name and one's own, which is made anew only while it is seen."""

from __future__ import annotations

import gc
import weakref

import holoviews as hv
import pandas as pd
import panel as pn
import pytest

from dashboard import Asked, AskError, Records, show
from dashboard.page import app
from dashboard.page.frame.tab_bar import TabBar
from dashboard.page.own import Faults, own_tabs, told_on_the_page
from dashboard.page.parts.elements import Prose
from dashboard.page.tabs.own import fault_told, own_tab, shown
from dashboard.visit.state import TABS, State


@pytest.fixture(scope="module", autouse=True)
def prepared():
    app.prepare()


def mine(ask: Asked) -> str:
    return f"{len(ask.ranking())} cultivars"


def words(view) -> str:
    return " ".join(str(prose.object) for prose in view.select(Prose))


def test_tabs_are_named_by_key_by_title_and_by_function():
    tabs = own_tabs(["Season", "fruit", mine, ("My own", mine), lambda ask: ask])
    assert dict(tabs.names) == {
        "season": "Season",
        "fruit": "Candidates",
        "own1": "Mine",
        "own2": "My own",
        "own3": "Tab 3",
    }
    assert set(tabs.makers) == {"own1", "own2", "own3"}
    assert dict(own_tabs(None).names) == app.TAB_NAMES


@pytest.mark.parametrize(
    ("tabs", "told"),
    [
        (["seson"], "did you mean 'season'?"), ("fruit", "named in a list"), (mine, "named in a list"), (3, "named in a list"), ([3], "not 3"), ([], "0 were named"),
        (["fruit", "Candidates"], "named twice"), ([mine, mine], "named twice"), ([("a", "b")], "a pair of a name and a function"), ([f"t{n}" for n in range(3)], "no tab"),
    ],
)  # fmt: skip
def test_a_tab_that_is_not_there_is_told_with_the_nearest(tabs, told):
    with pytest.raises(AskError, match=None) as caught:
        own_tabs(tabs)
    assert told in str(caught.value)


def test_the_page_stands_with_these_tabs_on_a_question(catalogue):
    page = show(Records(catalogue).ask("Packer", flesh_color="yellow"), tabs=["season", mine], tab="Mine")
    (bar,) = page.select(TabBar)
    assert (bar.names, bar.active) == (["Season", "Mine"], 1)
    yellow = int((catalogue.cultivars["flesh_colour"] == "yellow").sum()) - 1  # one was never picked
    assert f"{yellow} cultivars" in words(page)
    with pytest.raises(AskError, match="did you mean 'Mine'"):
        show(Records(catalogue), tabs=[mine], tab="Mein")
    with pytest.raises(AskError, match="records or a question"):
        show(catalogue)


def test_it_is_made_anew_when_the_question_changes_and_only_while_it_is_seen(catalogue):
    state, asked = State(catalogue, "?tab=own1", tabs=("fruit", "own1")), []
    whole = own_tab(state, "own1", lambda ask: asked.append(ask) or "made")
    assert len(asked) == 1
    state.choose(flesh_colour=("white",))
    assert asked[-1].question.flesh_colour == ("white",)
    state.choose(tab="fruit")
    state.choose(market="packer")
    assert len(asked) == 2
    state.choose(tab="own1")
    assert len(asked) == 3
    assert asked[-1].question.market == "packer"
    state.choose(tab="own1")
    assert len(asked) == 3
    assert "made" in words(whole)


def test_a_fault_is_told_in_its_tab_with_its_line_and_goes_when_it_is_mended(catalogue, caplog):
    state = State(catalogue, "?tab=own1", tabs=("own1",))
    lines = {
        "bad": "def bad(ask):\n    if ask.question.market:\n        return 'mended'\n    return ask.nothing"
    }
    known: dict = {}
    exec(compile(lines["bad"], "cells.ipynb, cell 2", "exec"), known)
    whole = own_tab(state, "own1", known["bad"])
    assert "This tab could not be drawn" in words(whole)
    assert "cells.ipynb, cell 2, line 4" in words(whole)
    assert "AttributeError" in words(whole)
    assert "could not be drawn" in caplog.text
    state.choose(market="packer")
    assert words(whole) == "<p>mended</p>"


def test_what_a_function_gives_back_is_shown(catalogue):
    ask = Records(catalogue).ask("Packer")
    assert "class=&quot;" not in str(shown(ask.ranking()).object)
    assert "<table" in str(shown(ask.ranking()).object)
    assert shown("<b>&").object == "<p>&lt;b&gt;&amp;</p>"
    assert "gave nothing back" in shown(None).object
    assert isinstance(shown(hv.Curve([1, 2])), pn.pane.HoloViews)
    assert len(shown(["text", pd.DataFrame({"a": [1]}), ask.ranking().picture()])) == 3


def test_a_message_that_never_ends_is_cut_and_markup_stays_text():
    try:
        raise ValueError("<b>" * 1000)
    except ValueError as fault:
        told = fault_told(fault)
    assert len(told) < 500
    assert "test_own.py, line" in told


def test_faults_of_cells_are_told_on_pages_made_before_and_after_and_hold_no_visitor(catalogue):
    faults = Faults()
    faults.add("first")
    with told_on_the_page(faults):
        tabs = own_tabs([mine], faults)
    state = State(catalogue, tabs=tabs.names)
    tabs.told(state)
    faults.add("second")
    assert state.notices == ("first", "second")
    gone = weakref.ref(state)
    del state
    gc.collect()
    assert gone() is None
    faults.add("third")


def test_the_usual_tabs_are_as_they_were(catalogue):
    state = State(catalogue)
    assert list(state.param["tab"].objects) == list(TABS)
    other = State(catalogue, "?v=1&tab=own1", "?v=1", tabs=("own1", "fruit"))
    assert (other.tab, other.notices) == ("own1", ())
    other.choose(tab="season")
    assert other.tab == "own1"
    assert "tab" in State(catalogue, "?v=1&tab=own1").notices[0]
