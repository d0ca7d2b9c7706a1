"""Work beside the loop: done by another thread, its end told to the page it was for, one piece a visitor."""

from __future__ import annotations

import threading
from types import SimpleNamespace

import panel as pn
import pytest
from bokeh.document import Document
from panel.io.state import set_curdoc

from dashboard.page.parts import live


class Visit(Document):
    """A page that somebody has open; what is to be done at its next tick waits in ``ticks``."""

    def __init__(self) -> None:
        super().__init__()
        self.ticks: list = []
        self.come = threading.Event()
        self.here: object | None = SimpleNamespace(request=SimpleNamespace(headers={}))

    @property
    def session_context(self):
        return self.here

    def add_next_tick_callback(self, callback):
        self.ticks.append(callback)
        self.come.set()
        return callback

    def tick(self) -> None:
        assert self.come.wait(20)
        self.come.clear()
        with set_curdoc(self):
            self.ticks.pop(0)()


@pytest.fixture
def visit(monkeypatch):
    one = Visit()
    monkeypatch.setattr(type(pn.state), "loaded", property(lambda _self: True))
    monkeypatch.setattr(pn.state, "execute", lambda act, **_how: act())
    with set_curdoc(one):
        yield one


def test_the_work_is_done_by_another_thread_and_its_end_is_told_at_a_tick_of_the_page(visit):
    worked, told = [], []
    live.aside(
        lambda: worked.append(threading.current_thread()) or 7,
        lambda found: told.append((found, threading.current_thread())),
    )
    assert told == []
    visit.tick()
    assert told == [(7, threading.main_thread())]
    assert worked[0] is not threading.main_thread()


def test_where_only_one_person_is_served_it_is_done_at_once():
    told = []
    live.aside(lambda: 7, told.append)
    assert told == [7]


def test_nobody_is_told_who_has_left(visit):
    started, go, told = threading.Event(), threading.Event(), []
    live.aside(lambda: started.set() or go.wait(20), told.append)
    assert started.wait(20)
    visit.here = None
    go.set()
    live._HANDS.submit(lambda: None).result(20)  # whoever was before it is done, but for its last steps
    live._HANDS.submit(lambda: None).result(20)
    assert visit.ticks == []
    assert told == []


def test_one_visitor_has_one_piece_done_at_a_time(visit):
    go, told, hand = threading.Event(), [], live.Hand()
    assert hand.take(lambda: go.wait(20) and "first", told.append)
    assert not hand.take(lambda: "second", told.append)
    go.set()
    visit.tick()
    assert hand.take(lambda: "third", told.append)
    visit.tick()
    assert told == ["first", "third"]


def test_a_fault_in_the_work_comes_out_on_the_page_and_does_not_block_the_next(visit):
    told, hand = [], live.Hand()
    hand.take(lambda: 1 / 0, told.append)
    with pytest.raises(ZeroDivisionError):
        visit.tick()
    assert hand.take(lambda: 7, told.append)
    visit.tick()
    assert told == [7]
