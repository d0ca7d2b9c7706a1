"""A list that is brought: what is certain is put where it belongs, what is not waits for a press, and every fault is one sentence."""

from __future__ import annotations

import base64
import json
import time

import pytest

from dashboard.page.parts import live
from dashboard.page.parts.name_lists import SHOWN, Bringing
from dashboard.records.name_lists import LARGEST
from dashboard.visit import link
from dashboard.visit.state import State
from tests.pressing import press


class Shelf:
    """Takes names as a view would; ``room`` is how many."""

    def __init__(self) -> None:
        self.names: tuple[str, ...] = ()
        self.room = 100

    def put(self, names: tuple[str, ...], anew: bool) -> int | None:
        new = tuple(name for name in names if name not in self.names)
        if len(self.names) + len(new) > self.room:
            return None
        self.names += new
        return len(new)


@pytest.fixture
def shelf() -> Shelf:
    return Shelf()


@pytest.fixture
def bringing(state, shelf) -> Bringing:
    return Bringing(state, "Bring a list", "my slate", shelf.put, {"All two": ("Candover", "Briskwell")})


def told(bringing: Bringing) -> dict:
    return json.loads(bringing.element.told)


def paste(bringing: Bringing, text: str) -> dict:
    press(bringing.element, {"act": "paste", "text": text, "size": len(text)})
    return told(bringing)


def send(bringing: Bringing, raw: bytes, file: str = "mine.csv", **more) -> dict:
    sent = {"act": "bring", "file": file, "size": len(raw), "content": base64.b64encode(raw).decode()}
    press(bringing.element, {**sent, **more})
    return told(bringing)


def test_what_is_certain_is_put_there_and_the_rest_waits_for_a_press(bringing, shelf):
    said = paste(bringing, "candover, T14203\nAldermore; <b>x</b>\nCandover")
    assert shelf.names == ("Candover", "T 14-203")
    assert said["faults"] == []
    assert said["said"] == [
        "2 names found: 2 put on my slate.",
        "2 entries did not match and were left out; they are listed below.",
        "Named more than once, taken once: Candover.",
    ]
    assert said["missed"] == [
        {"text": "“Aldermore” (line 2): no cultivar here has that name", "near": ["Aldermere"], "at": 0},
        {"text": "“<b>x</b>” (line 2): no cultivar here has that name", "near": [], "at": 1},
    ]
    press(bringing.element, {"act": "use", "at": 0, "name": "Briskwell"})  # not what was offered
    press(bringing.element, {"act": "use", "at": 7, "name": "Aldermere"})
    assert shelf.names == ("Candover", "T 14-203")
    press(bringing.element, {"act": "use", "at": 0, "name": "Aldermere"})
    assert shelf.names == ("Candover", "T 14-203", "Aldermere")
    assert told(bringing)["said"] == ["Aldermere was put on my slate for “Aldermore”."]
    assert [one["at"] for one in told(bringing)["missed"]] == [0]


def test_what_stood_there_is_told(bringing):
    paste(bringing, "Candover")
    assert (
        paste(bringing, "candover\nBriskwell")["said"][0]
        == "2 names found: 1 put on my slate, 1 stood there already."
    )
    assert paste(bringing, "nobody at all")["said"][0] == "No name was found for certain."


def test_a_list_that_stands_ready_is_one_press(bringing, shelf):
    assert told(bringing)["ready"] == ["All two"]
    press(bringing.element, {"act": "ready", "at": 0})
    assert shelf.names == ("Candover", "Briskwell")
    press(bringing.element, {"act": "ready", "at": 1})
    assert shelf.names == ("Candover", "Briskwell")


def test_of_many_that_do_not_match_some_are_shown_and_all_are_counted(bringing):
    said = paste(bringing, "\n".join(f"nobody {number}" for number in range(5000)))
    assert len(said["missed"]) == SHOWN
    assert said["more"] == "and 4,960 more that did not match"
    assert "5,000 entries did not match" in said["said"][1]


@pytest.mark.parametrize(
    ("content", "more", "fault"),
    [
        (b"", {}, "mine.csv was not read: it is empty; write a name on each line."),
        (b"%PDF-1.7", {}, "mine.csv was not read: it is a PDF; save the names as .csv or .xlsx."),
        (b"", {"size": LARGEST + 1}, f"mine.csv was not read: it has {LARGEST + 1:,} bytes, more than the 120 kB a list of names may be; bring the names alone."),
        (b"x", {"content": "%%%"}, "mine.csv was not read: it did not arrive whole; open it once more."),
    ],
)  # fmt: skip
def test_a_file_that_holds_no_list_is_one_sentence_and_changes_nothing(bringing, shelf, content, more, fault):
    paste(bringing, "Candover\nAldermore")
    before = told(bringing)
    said = send(bringing, content, **more)
    assert said == {**before, "faults": [fault]}
    assert shelf.names == ("Candover",)


def test_a_text_too_large_to_be_sent_is_told(bringing):
    press(bringing.element, {"act": "paste", "text": "", "size": LARGEST + 1})
    (fault,) = told(bringing)["faults"]
    assert fault.startswith("What you pasted was not read: it has 120,001 bytes")


def test_names_for_which_there_is_no_room_are_not_put_and_that_is_said(bringing, shelf):
    shelf.room = 1
    said = paste(bringing, "Candover\nBriskwell")
    assert said["faults"] == ["So many names do not fit into the page's address, which carries the list; nothing was put on my slate."]  # fmt: skip
    assert shelf.names == ()


def test_a_state_knows_what_its_link_has_room_for(state, catalogue):
    state.choose(chosen=tuple(catalogue.cultivars.index))
    assert state.fits(shortlist=tuple(catalogue.cultivars.index))
    assert not state.fits(shortlist=("x" * (link.LONGEST - 5),))


def test_one_list_of_a_visitor_is_read_at_a_time(bringing, shelf, monkeypatch):
    kept = []
    monkeypatch.setattr(live, "aside", lambda work, then, hands: kept.append((work, then)))
    assert paste(bringing, "Candover")["faults"] == []
    assert paste(bringing, "Briskwell")["faults"] == [live.BUSY]
    (work, then), = kept  # fmt: skip
    then(work())
    assert shelf.names == ("Candover",)


@pytest.mark.parametrize("message", [{}, {"act": "paste"}, {"act": "bring"}, {"act": "use", "at": "0"}, {"act": "use", "at": -1}, {"act": "ready", "at": None}, {"act": "paste", "text": 3, "size": "x"}])  # fmt: skip
def test_what_no_script_of_ours_sends_changes_nothing(bringing, shelf, message):
    press(bringing.element, message)
    assert shelf.names == ()


def test_a_long_list_is_read_and_shown_within_a_moment(demo, shelf):
    bringing = Bringing(State(demo), "Bring a list", "my slate", shelf.put)
    started = time.process_time()
    paste(bringing, "\n".join(f"zzarro {number}" for number in range(5000)))
    assert time.process_time() - started < 2
