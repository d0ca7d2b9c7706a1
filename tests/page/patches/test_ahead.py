"""A document that is written ahead is handed out once, and only while it still says what the page shows."""

from __future__ import annotations

from bokeh.document import Document
from bokeh.models import Div

from dashboard.page.patches import ahead


def text(document: Document) -> str:
    return document.to_json(deferred=False)["roots"][0]["attributes"]["text"]


def written_ahead() -> tuple[Document, Div]:
    document, words = Document(), Div(text="before")
    document.add_root(words)
    ahead.write(document)
    return document, words


def test_what_was_written_ahead_is_handed_out_once(monkeypatch):
    document, _ = written_ahead()
    written = []
    monkeypatch.setattr(Document, "to_json", lambda _self, *, deferred=True: written.append(deferred))
    assert document.to_json().content["roots"][0]["attributes"]["text"] == "before"
    assert written == []
    document.to_json()
    assert written == [True]


def test_a_change_made_meanwhile_is_in_what_is_handed_out():
    document, words = written_ahead()
    words.text = "after"
    assert document.to_json().content["roots"][0]["attributes"]["text"] == "after"
    words.text = "later"
    assert text(document) == "later"


def test_a_change_that_is_held_back_is_in_what_is_handed_out():
    """A page's document is held until its browser is connected."""
    document, words = written_ahead()
    document.hold()
    words.text = "after"
    assert document.to_json().content["roots"][0]["attributes"]["text"] == "after"


def test_a_part_that_joins_meanwhile_is_in_what_is_handed_out():
    document, _ = written_ahead()
    document.add_root(Div(text="another"))
    assert len(document.to_json().content["roots"]) == 2


def test_a_tick_that_is_planned_changes_nothing_that_was_written():
    document, _ = written_ahead()
    kept = document.callbacks.trigger_on_change
    document.add_next_tick_callback(lambda: None)
    assert document.to_json().content["roots"]
    assert document.callbacks.trigger_on_change != kept
    assert "to_json" not in vars(document)


def test_whoever_listens_to_the_document_is_still_told():
    document, words = written_ahead()
    heard = []
    document.on_change(heard.append)
    words.text = "after"
    assert len(heard) == 1


def test_once_a_browser_is_there_nothing_is_written(monkeypatch):
    """What is written counts as sent, and a change that is still on its way would name parts the browser never got."""

    class Context:
        session = type("Session", (), {"connection_count": 1})

    document, new = Document(), Div(text="on its way")
    monkeypatch.setattr(Document, "session_context", property(lambda _self: Context))
    document.add_root(new)
    ahead.write(document)
    assert "to_json" not in vars(document)
