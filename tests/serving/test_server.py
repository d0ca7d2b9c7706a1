"""A visit's messages are not held back until the browser has acknowledged the piece before."""

from __future__ import annotations

import panel as pn
import pytest
from bokeh.server.urls import per_app_patterns
from bokeh.server.views.ws import WSHandler

from dashboard.page.crowd import answering
from dashboard.serving import server


@pytest.fixture
def routes(monkeypatch):
    before = list(per_app_patterns)
    for place, (path, handler, *more) in enumerate(before):  # another test may have served already
        if issubclass(handler, server.AtOnce):
            per_app_patterns[place] = (path, handler.__bases__[-1], *more)
    monkeypatch.setattr(pn, "serve", lambda pages, **options: None)
    monkeypatch.setattr(answering, "begin", lambda: None)
    monkeypatch.setattr(server.signal, "signal", lambda *_how: None)
    yield
    per_app_patterns[:] = before


def talking() -> list[type]:
    return [handler for _, handler, *_ in per_app_patterns if issubclass(handler, WSHandler)]


def test_a_visit_s_connection_sends_at_once(routes, monkeypatch):
    (plain,) = talking()
    server.serve({})
    (handler,) = talking()
    done = []
    monkeypatch.setattr(plain, "open", lambda self: done.append("opened"))
    monkeypatch.setattr(plain, "set_nodelay", lambda self, value: done.append(value))
    handler.open(handler.__new__(handler))
    assert done == [True, "opened"]


def test_serving_twice_changes_nothing_more(routes):
    server.serve({})
    once = talking()
    server.serve({})
    assert talking() == once
