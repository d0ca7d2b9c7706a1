"""The next server has our front, and our handlers stand before the library's, each once."""

from __future__ import annotations

from types import SimpleNamespace

import bokeh.server.server
import panel as pn
import pytest
from bokeh.server.tornado import BokehTornado
from bokeh.server.urls import per_app_patterns
from bokeh.server.views.ws import WSHandler

from dashboard.page.patches import served


class First:
    """What is put before."""


@pytest.fixture(autouse=True)
def as_it_was(monkeypatch):
    before = list(per_app_patterns)
    monkeypatch.setattr(bokeh.server.server, "BokehTornado", BokehTornado)
    yield
    per_app_patterns[:] = before


def talking() -> list[type]:
    return [handler for _, handler, *_ in per_app_patterns if issubclass(handler, WSHandler)]


def test_a_handler_is_put_before_the_library_s_once():
    (plain,) = talking()
    for _ in range(2):
        served.put_before(WSHandler, "Ours", First)
    (ours,) = talking()
    assert ours.__mro__[1:3] == (First, plain)


def test_the_next_server_has_our_front(monkeypatch):
    class Front(BokehTornado):
        pass

    served.front(Front)
    server = bokeh.server.server.Server({}, port=0)
    monkeypatch.setattr(pn.state, "_servers", {"one": (server, None, [])})
    try:
        ((told, front),) = served.running()
        assert told is server
        assert isinstance(front, Front)
        assert served.connections(front) == 0
    finally:
        server.stop()


def test_open_pages_are_counted():
    assert served.connections(SimpleNamespace(_clients={1, 2})) == 2
