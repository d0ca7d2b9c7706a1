"""What a closed page leaves holds nothing of itself; what is shared by all stays whole."""

from __future__ import annotations

import gc
import weakref

import panel as pn
import panel.io.document as panel_document
import param
from bokeh.document import Document

from dashboard.page.app import shell_of
from dashboard.page.patches import untied


class Ring(param.Parameterized):
    """It holds itself by what it watches."""

    count = param.Integer(default=0)

    def __init__(self):
        super().__init__()
        self.param.watch(self.heard, "count")

    def heard(self, _event):
        pass


def test_a_closed_page_goes_without_the_collector():
    document, page, state = Document(), pn.Column("words", pn.Row("more")), Ring()
    document.add_root(page.get_root(document))
    apart = untied.when_destroyed(document, [page, state])
    models = list(document.models)
    left = [weakref.ref(state)]
    session = [].append
    document.on_change(session)
    gc.collect()
    gc.disable()
    try:
        document.destroy(session)
        apart()
        assert all(not vars(model) for model in models)
        del page, state, apart
        assert [one() for one in left] == [None]
    finally:
        gc.enable()


def test_uncut_the_ring_stays_for_the_collector():
    state = Ring()
    left = weakref.ref(state)
    gc.disable()
    try:
        del state
        assert left() is not None
    finally:
        gc.enable()


def test_no_page_hangs_on_the_flag_that_all_share():
    before = len(pn.state.param.watchers.get("busy", {}).get("value", []))
    shell_of([])
    assert len(pn.state.param.watchers.get("busy", {}).get("value", [])) == before


def test_panel_collects_no_garbage_from_then_on(monkeypatch):
    plain = panel_document._garbage_collect
    monkeypatch.setattr(panel_document, "_garbage_collect", plain)
    untied.collect_no_garbage()
    collected = []
    monkeypatch.setattr(gc, "collect", lambda *_: collected.append(1))
    panel_document._garbage_collect()
    assert collected == []
