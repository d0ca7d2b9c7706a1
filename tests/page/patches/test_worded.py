"""Of a pane only its new words are sent; the library's own pane sends its dress as well."""

from __future__ import annotations

import panel as pn
import pytest
from bokeh.document import Document

from dashboard.page.patches.worded import Words


@pytest.mark.parametrize(("kind", "dressed"), [(pn.pane.HTML, True), (Words, False)])
def test_the_hold_is_needed_and_holds(monkeypatch, kind, dressed):
    words, document, sent = kind("<b>one</b>"), Document(), []
    document.add_root(words.get_root(document))
    (model,) = document.roots
    plain = type(model).update
    monkeypatch.setattr(type(model), "update", lambda self, **what: sent.extend(what) or plain(self, **what))
    words.object = "<b>two &amp; more</b>"
    assert "two" in model.text
    assert (set(sent) > {"text"}) == dressed
