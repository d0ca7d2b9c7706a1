"""What the records hold is short; the rest is folded and made when it is asked for."""

from __future__ import annotations

import panel as pn
import pytest

from dashboard.page.parts.buttons import Button
from dashboard.page.parts.elements import RowTable
from dashboard.page.tabs.records import records, told
from dashboard.visit.state import State
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.stands_on import held
from tests.pressing import press


def folds(layout) -> dict[str, Button]:
    return {one.label[2:]: one for one in layout.select(Button) if one.label[:1] in "▸▾"}


def test_six_lines_at_the_most_then_the_cautions(catalogue):
    lines = held(catalogue)
    assert len(lines) <= 6
    assert all(len(line.split()) <= 25 for line in lines[1:])
    said = told(catalogue)
    assert catalogue.records_title in said.unescape()
    assert [said.index(said.escape(line)) for line in CAUTIONS] == sorted(said.index(said.escape(line)) for line in CAUTIONS)  # fmt: skip
    assert said.count("<li>") == len(lines) + len(CAUTIONS)


def test_the_rest_is_folded_and_opens_and_closes(demo):
    layout = records(State(demo, "?v=1&tab=records"))
    assert not layout.select(pn.pane.HoloViews)
    assert not layout.select(RowTable)
    opener = folds(layout)["Where the variation comes from"]
    press(opener, {})
    assert len(layout.select(pn.pane.HoloViews)) == 1
    press(opener, {})
    assert not layout.select(pn.pane.HoloViews)


@pytest.mark.parametrize("times", [1, 3])
def test_what_was_found_is_a_table_under_its_fold(demo, times):
    layout = records(State(demo, "?v=1&tab=records"))
    found = [one for title, one in folds(layout).items() if title.startswith("What was found")]
    assert bool(found) == bool(demo.problems)
    for opener in found:
        for _ in range(times):
            press(opener, {})
        assert len(layout.select(RowTable)) == 1
