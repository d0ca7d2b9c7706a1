"""What stands under a tab is made when it is first opened, stays, and is hidden when another is opened."""

from __future__ import annotations

import panel as pn
import pytest

from dashboard.page.frame.tab_bar import TabBar, TabPanel, tabs
from dashboard.visit.state import State
from tests.pressing import press

NAMES = {"fruit": "Candidates", "season": "Season", "records": "Records"}


@pytest.fixture
def made() -> list[str]:
    return []


def whole(state: State, made: list[str]) -> pn.Column:
    def maker(key: str):
        def make() -> pn.Column:
            made.append(key)
            return pn.Column()

        return make

    return tabs(state, NAMES, {key: maker(key) for key in NAMES})


def seen(layout: pn.Column) -> list[str]:
    return [panel.told for panel in layout.select(TabPanel) if panel.visible]


def test_only_the_tab_that_is_asked_for_is_made(catalogue, made):
    layout = whole(State(catalogue, "?v=1&tab=season"), made)
    assert made == ["season"]
    assert seen(layout) == ["Season"]
    assert layout.select(TabBar)[0].active == 1


def test_a_tab_is_made_once_and_one_is_seen_at_a_time(catalogue, made):
    state = State(catalogue)
    layout = whole(state, made)
    for key in ("records", "fruit", "records", "season", "fruit"):
        state.choose(tab=key)
        assert seen(layout) == [NAMES[key]]
        assert layout.select(TabBar)[0].active == list(NAMES).index(key)
    assert made == ["fruit", "records", "season"]


def test_a_press_chooses_and_what_no_tab_sends_is_left(catalogue, made):
    state = State(catalogue)
    (bar,) = whole(state, made).select(TabBar)
    press(bar, {"open": 2})
    assert state.tab == "records"
    for odd in ({"open": 7}, {"open": -1}, {}):
        press(bar, odd)
    assert state.tab == "records"


def test_a_tab_stands_on_the_page_before_it_is_filled(catalogue):
    """Filled while it hangs on no page, it would look for its stylesheets on the internet."""
    state = State(catalogue)
    order = []
    state.param.watch(lambda _event: order.append(len(layout.select(TabPanel))), "tab", precedence=2)
    layout = tabs(state, NAMES, dict.fromkeys(NAMES, pn.Column))
    state.choose(tab="season")
    assert order == [2]


def test_the_panel_has_its_name_in_the_browser(catalogue, made):
    layout = whole(State(catalogue), made)
    model = layout.get_root()
    named = [part.html_attributes for part in model.select({}) if getattr(part, "html_attributes", None)]
    assert named == [{"role": "tabpanel", "aria-label": "Candidates"}]
