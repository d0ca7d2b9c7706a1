"""What the values of a sample were before: offered where somebody can know, read at a press, hostile text as text."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dashboard.page.tabs import earlier as tab
from dashboard.page.tabs.earlier import SHOWN, EarlierValues, said
from dashboard.records.earlier import Earlier
from dashboard.records.importing.changed import LOG
from dashboard.records.store.opening import StoreError
from dashboard.visit.state import State
from dashboard.wording.earlier import NONE

AT = "2025-07-14T15:00:00Z"
LINE = f"{AT},Ann,<i>today</i>.csv,samples,S1,note,<b>soft</b>,firm\n"


@pytest.fixture
def logged(catalogue, tmp_path) -> State:
    (tmp_path / LOG).parent.mkdir()
    (tmp_path / LOG).write_text("when,who,file,table,key,column,old,new\n" + LINE)
    return State(replace(catalogue, source=str(tmp_path)))


def test_nothing_is_read_before_it_is_asked_for(logged, monkeypatch):
    read = []
    real = tab.earlier
    monkeypatch.setattr(tab, "earlier", lambda *which: read.append(which) or real(*which))
    values = EarlierValues(logged)
    assert not values.shown.visible
    values.of("S1")
    assert (values.shown.visible, values.words.visible, read) == (True, False, [])
    values.button.heard({})
    assert values.words.visible
    assert "Note: was “&lt;b&gt;soft&lt;/b&gt;” until" in values.words.object
    assert "&lt;i&gt;today&lt;/i&gt;.csv." in values.words.object
    values.of("S2")
    assert not values.words.visible
    values.button.heard({})
    assert NONE in values.words.object
    assert len(read) == 2


def test_nothing_is_offered_where_nobody_can_know(catalogue, tmp_path, logged):
    for source in ("", str(tmp_path / "none"), str(tmp_path / "book.xlsx")):
        values = EarlierValues(State(replace(catalogue, source=source)))
        values.of("S1")
        assert not values.shown.visible
    values = EarlierValues(logged)
    values.of("")
    assert not values.shown.visible


def test_many_are_cut_short_and_a_store_that_cannot_be_read_says_so():
    many = [Earlier("samples", "", "red", str(number), AT, "Ann", "a.csv") for number in range(SHOWN + 2)]
    assert str(said(many, "us")).endswith("<p>And 2 earlier values.</p>")
    assert "cannot be read just now: it is &lt;locked&gt;" in said(StoreError("it is <locked>"), "us")
