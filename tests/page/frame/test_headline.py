"""The line over every tab: how many are left, what must be told, and the way out of an empty answer."""

from __future__ import annotations

import pytest

from dashboard.answers.question import Question
from dashboard.page.frame.headline import headline, notices
from dashboard.page.parts.buttons import Button
from dashboard.visit.state import State
from dashboard.wording.figures import qualify_told
from tests.page.conftest import said
from tests.pressing import press


def way_out(layout) -> Button:
    (button,) = layout.select(Button)
    return button


def offers(layout) -> bool:
    """It is made when an answer is empty for the first time."""
    return any(button.visible for button in layout.select(Button))


def test_it_counts_what_the_answer_counts(state):
    line = headline(state)
    state.choose(flesh_colour=("white",), market="packer", tab="season")
    asked = state.question
    words = said(line)
    assert f"<b>{int(asked.passes.sum())}</b> of 11 sampled cultivars" in words
    assert f"<b>{qualify_told(asked)}</b>" in words
    assert "unseen" not in words
    state.choose(tab="fruit")  # its own first line tells the same
    assert 'class="count unseen"' in said(line)


def test_an_empty_answer_names_the_filter_and_offers_the_way_out(state):
    line = headline(state)
    assert not offers(line)
    state.choose(flesh_colour=("red",), fruit_type=("nectarine",))
    emptied = state.question.emptied
    assert emptied.sentence in said(line)
    assert way_out(line).visible
    assert str(emptied.would_leave) in way_out(line).label
    press(way_out(line))
    assert int(state.question.passes.sum()) == emptied.would_leave
    assert not offers(line)


def test_where_no_one_filter_is_to_blame_the_way_out_is_to_take_all_off(state):
    line = headline(state)
    state.choose(flesh_colour=("red",), fruit_type=("nectarine",), shape_type=("flat",), seasons=3)
    emptied = state.question.emptied
    assert emptied.field == ""
    assert way_out(line).visible
    assert way_out(line).label.strip()
    press(way_out(line))
    assert int(state.question.passes.sum()) == emptied.would_leave


def test_where_nothing_was_ever_picked_no_way_out_is_offered(catalogue):
    from dashboard.answers import catalogue as catalogues

    bare = catalogues.catalogue(
        catalogue.cultivars.reset_index(), catalogue.summaries.iloc[:0], catalogue.fruit.iloc[:0],
        sites=catalogue.sites, markets=catalogue.markets,
    )  # fmt: skip
    state = State(bare)
    line = headline(state)
    assert Question(bare).emptied.sentence in said(line)
    assert not offers(line)


@pytest.mark.parametrize("text", ["<img src=x onerror=alert(1)>", "a & b", "“><script>"])
def test_what_a_link_asked_in_vain_is_told_as_text(catalogue, text):
    from urllib.parse import quote

    words = said(notices(State(catalogue, f"?v=1&market={quote(text)}")))
    assert 'role="alert"' in words
    assert text not in words or text == text.replace("<", "").replace("&", "")
    assert "<img" not in words
    assert "<script" not in words


def test_a_notice_goes_when_it_no_longer_holds(state):
    line = notices(state)
    state.follow("?v=1&market=nowhere")
    assert "nowhere" in said(line)
    state.follow("?v=1")
    assert "nowhere" not in said(line)
