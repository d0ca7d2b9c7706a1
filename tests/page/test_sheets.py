"""The two sheets: made when first opened, one at a time; the code follows the view; what cannot be opened by a phone says why."""

from __future__ import annotations

import panel_material_ui as pmui
import pytest

from dashboard.page import sheets
from dashboard.page.app import TAB_NAMES
from dashboard.page.frame.running import RunningOrder
from dashboard.page.parts.buttons import Button
from dashboard.page.parts.copying import Copying
from dashboard.page.parts.downloads import Downloads
from dashboard.page.parts.picture_saver import PictureSaver
from dashboard.visit.state import State
from tests.page.conftest import said
from tests.pressing import press


@pytest.fixture
def both(state):
    return sheets.sheets(state, TAB_NAMES)


def test_nothing_of_them_is_made_until_they_are_opened(state, both):
    share, present = both
    assert (len(share), len(present)) == (0, 0)
    state.choose(sheet="share")
    assert share.visible
    assert not present.visible
    assert len(share.select(Downloads)) == 2
    assert len(share.select(PictureSaver)) == 1
    state.choose(sheet="present")
    assert (share.visible, present.visible) == (False, True)
    assert len(present.select(RunningOrder)) == 1
    made = list(share)
    state.choose(sheet="share")
    assert list(share) == made


def test_the_hall_opens_from_there_and_the_sheet_is_closed(state, both):
    state.choose(sheet="present")
    (button,) = both[1].select(Button)
    press(button)
    assert (state.look, state.sheet) == ("hall", "")


def test_the_picture_of_the_hall_is_chosen_there_and_kept_with_a_view(state, both):
    state.choose(sheet="present")
    (menu,) = both[1].select(pmui.Select)
    assert list(menu.options) == ["Size and sugar", "Firmness and sugar", "Size and firmness"]
    menu.value = "size_firmness"
    assert state.pair == "size_firmness"
    state.prepare("Firm")
    state.choose(pair="size_sugar")
    assert menu.value == "size_sugar"
    state.open_prepared(0)
    assert (state.pair, menu.value) == ("size_firmness", "size_firmness")


def test_a_link_says_where_it_opens_and_one_to_my_slate_stands_beside_it(state, both):
    state.choose(tab="season")
    state.param.update(sheet="share")
    slate, view = both[0].select(Copying)
    assert not slate.visible
    assert (view.label, view.query) == ("Copy the link to this view, Season", "")
    assert "open on Season." in said(both[0])
    state.keep("Candover")
    assert slate.visible
    assert State(state.question.catalogue, slate.query).tab == "shortlist"
    assert State(state.question.catalogue, slate.query).shortlist == ("Candover",)
    state.choose(tab="shortlist")
    assert not slate.visible  # the view is it
    assert "open on My slate." in said(both[0])


def test_the_code_is_of_the_view_that_stands(state, both):
    state.param.update(sheet="share", opened_at="http://192.0.2.7:5006/")
    first = said(both[0])
    assert "<svg" in first
    state.choose(flesh_colour=("white",))
    assert said(both[0]) != first
    state.param.update(opened_at="no address")
    assert "<svg" not in said(both[0])


@pytest.mark.parametrize(
    ("opened_at", "only"),
    [
        ("http://localhost:5006/", True), ("http://127.0.0.1:5006/", True), ("http://0.0.0.0:5006/", True),
        ("http://192.168.1.20:5006/", False), ("https://slate.example/", False), ("", False), ("http://[::1", False),
    ],
)  # fmt: skip
def test_a_link_that_opens_nowhere_else_says_so_where_it_is_copied(state, both, opened_at, only):
    state.param.update(sheet="share", opened_at=opened_at)
    assert ("opens nowhere else" in said(both[0])) == only
