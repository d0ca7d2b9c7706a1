"""What is put on a page that does not stand yet is on it at once, and a browser that waits for the whole is told nothing twice."""

from __future__ import annotations

from types import SimpleNamespace

import panel as pn
import pytest
from bokeh.document import Document
from panel.io.document import Request
from panel.io.state import set_curdoc

from dashboard.page.patches.joined import joining, unheard


def visited(monkeypatch) -> tuple[Document, SimpleNamespace]:
    session = SimpleNamespace(connection_count=0, _subscribed_connections={"a browser"})

    class Context:
        id = "of a visitor"
        request = Request(headers={}, cookies={}, arguments={})

    Context.session = session
    monkeypatch.setattr(Document, "session_context", property(lambda _self: Context))
    return Document(), session


def test_what_is_put_on_a_served_page_while_it_is_furnished_joins_it_at_once(monkeypatch):
    document, _session = visited(monkeypatch)
    page = pn.Column("before")
    with set_curdoc(document):
        root = page.get_root(document)
        document.add_root(root)
        page.append("put off by the library")
        assert len(root.children) == 1
        with joining(document):
            page.append("at once")
            assert len(root.children) == 3
    assert not pn.state._connected[document]


def test_whoever_listens_hears_nothing_of_it_and_listens_again_afterwards(monkeypatch):
    document, session = visited(monkeypatch)
    heard = []
    with pytest.raises(ZeroDivisionError), unheard(document):
        heard.append(set(session._subscribed_connections)) or 1 / 0
    assert heard == [set()]
    assert session._subscribed_connections == {"a browser"}


def test_where_nobody_visits_nothing_is_held():
    with joining(None), unheard(Document()):
        pass
