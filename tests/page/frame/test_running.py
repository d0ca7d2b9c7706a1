"""Prepared views: kept by name, moved, taken off, opened, stepped through, saved and brought; every fault is one sentence."""

from __future__ import annotations

import base64
import json

import pytest

from dashboard.page.frame.running import running_order
from dashboard.visit import saved_views as prepared
from dashboard.visit.saved_views import LARGEST, View
from tests.pressing import press, told

WHITE, PACKER = View("white ones", "?v=1&flesh_colour=white"), View("packer", "?v=1&market=packer&tab=season")
HOSTILE = "</li><img src=x onerror=window.hurt=1>"


@pytest.fixture
def order(state):
    return running_order(state)


def bring(order, content: bytes, file: str = "evening.toml", **more) -> list[str]:
    sent = {"act": "bring", "file": file, "size": len(content), "content": base64.b64encode(content).decode()}
    press(order, {**sent, **more})
    return told(order)["faults"]


def test_a_view_is_kept_by_name_as_the_ordinary_page_shows_it(state, order):
    state.choose(flesh_colour=("white",), look="hall")
    press(order, {"act": "keep", "name": "  white   ones "})
    assert state.prepared == (WHITE,)
    assert told(order)["names"] == ["white ones"]
    state.choose(flesh_colour=("yellow",))
    press(order, {"act": "keep", "name": "white ones"})  # the same name: put in place
    assert state.prepared == (View("white ones", "?v=1&flesh_colour=yellow"),)


@pytest.mark.parametrize("name", ["", "   ", "x" * 121])
def test_a_bad_name_is_told_and_nothing_is_kept(state, order, name):
    press(order, {"act": "keep", "name": name})
    assert state.prepared == ()
    assert len(told(order)["faults"]) == 1
    press(order, {"act": "keep", "name": "good"})
    assert told(order)["faults"] == []


def test_views_are_moved_and_taken_off_and_the_one_that_was_opened_stays_marked(state, order):
    third = View("all", "?v=1")
    state.prepared = (WHITE, PACKER, third)
    press(order, {"act": "open", "place": 1})
    assert (state.market, state.tab, told(order)["at"]) == ("packer", "season", 1)
    press(order, {"act": "move", "place": 1, "by": -1})
    assert (state.prepared, told(order)["at"]) == ((PACKER, WHITE, third), 0)
    press(order, {"act": "off", "place": 1})
    assert (state.prepared, told(order)["at"]) == ((PACKER, third), 0)
    press(order, {"act": "off", "place": 0})
    assert (state.prepared, told(order)["at"]) == ((third,), -1)


def test_steps_end_at_the_last_and_at_the_first(state, order):
    state.prepared = (WHITE, PACKER)
    seen = []
    for by in (1, 1, 1, -1, -1):
        press(order, {"act": "walk", "by": by})
        seen.append(told(order)["at"])
    assert seen == [0, 1, 1, 0, 0]
    assert state.flesh_colour == ("white",)
    assert state.undo()  # a step through the list can be taken back as any other
    assert state.market == "packer"


def test_what_is_saved_is_what_is_read_again(state, order):
    state.prepared = (WHITE, View(HOSTILE, "?v=1&units=si"))
    press(order, {"act": "save"})
    saved = json.loads(order.saved)
    assert saved["file"].endswith(".toml")
    before, state.prepared = state.prepared, ()
    assert bring(order, saved["text"].encode()) == []
    assert state.prepared == before


def test_a_list_with_faults_keeps_what_is_sound_and_one_without_a_view_changes_nothing(state, order):
    state.prepared = (PACKER,)
    assert len(bring(order, b"not = [toml")) == 1
    assert len(bring(order, b"\xff\xfe\x00")) == 1
    assert state.prepared == (PACKER,)
    text = prepared.written([WHITE]) + '\n[[view]]\nname = "no address"\n'
    faults = bring(order, text.encode())
    assert len(faults) == 1
    assert "view 2" in faults[0]
    assert state.prepared == (WHITE,)


def test_a_file_too_large_or_not_whole_is_told(state, order):
    (fault,) = bring(order, b"", size=LARGEST + 1)
    assert "120 kB" in fault
    press(order, {"act": "bring", "file": "x.toml", "size": 3, "content": "%%%"})
    (fault,) = told(order)["faults"]
    assert "whole" in fault
    assert state.prepared == ()


@pytest.mark.parametrize(
    "message",
    [
        {}, {"act": "open", "place": 7}, {"act": "open", "place": "0"}, {"act": "open"}, {"act": "move", "place": 0, "by": 5},
        {"act": "move", "place": 0, "by": -1}, {"act": "walk", "by": 2}, {"act": "off", "place": -1}, {"act": "no such", "place": 0},
    ],
)  # fmt: skip
def test_a_message_that_means_nothing_does_nothing(state, order, message):
    state.prepared = (WHITE, PACKER)
    before = state.link
    press(order, message)
    assert (state.prepared, state.link) == ((WHITE, PACKER), before)


def test_a_view_is_renamed_written_over_and_noted(state, order):
    state.prepared = (WHITE, PACKER)
    press(order, {"act": "rename", "place": 0, "name": f"  {HOSTILE} "})
    assert state.prepared[0] == View(HOSTILE, WHITE.address)
    press(order, {"act": "note", "place": 0, "note": HOSTILE})
    assert (state.prepared[0].note, told(order)["notes"]) == (HOSTILE, [HOSTILE, ""])
    state.choose(flesh_colour=("yellow",))
    press(order, {"act": "over", "place": 0})
    assert state.prepared[0] == View(HOSTILE, "?v=1&flesh_colour=yellow", HOSTILE)
    assert (state.prepared_at, state.strayed) == (0, False)
    press(order, {"act": "save"})
    assert prepared.read(json.loads(order.saved)["text"].encode()) == (state.prepared, [])


@pytest.mark.parametrize(
    "message",
    [
        {"act": "rename", "name": ""},
        {"act": "rename", "name": "packer"},
        {"act": "rename", "name": "x" * 121},
        {"act": "note", "note": "x" * 1001},
    ],
)
def test_a_bad_name_or_note_is_told_in_one_sentence_and_nothing_changes(state, order, message):
    state.prepared = (WHITE, PACKER)
    press(order, {**message, "place": 0})
    assert state.prepared == (WHITE, PACKER)
    assert len(told(order)["faults"]) == 1


def test_keeping_a_view_again_keeps_its_note(state, order):
    state.prepared = (View("white ones", "?v=1", "say why"),)
    press(order, {"act": "keep", "name": "white ones"})
    assert state.prepared[0].note == "say why"
