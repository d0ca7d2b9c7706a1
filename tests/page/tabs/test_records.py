"""What the records hold is short; the rest is folded and made when it is asked for."""

from __future__ import annotations

import json

import panel as pn
import pytest

from dashboard.page.parts.elements import RowTable
from dashboard.page.parts.pressable import Fold
from dashboard.page.tabs.records import records, told
from dashboard.records.causes import gathered
from dashboard.visit.state import State
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.stands_on import held
from tests.pressing import press


def folds(layout) -> dict[str, Fold]:
    return {one.heading: one for one in layout.select(Fold)}


def test_six_lines_at_the_most_then_the_cautions(catalogue):
    lines = held(catalogue)
    assert len(lines) <= 6
    assert all(len(line.split()) <= 25 for line in lines[1:])
    said = told(catalogue)
    assert catalogue.records_title in said.unescape()
    assert [said.index(said.escape(line)) for line in CAUTIONS] == sorted(said.index(said.escape(line)) for line in CAUTIONS)  # fmt: skip
    assert said.count("<li>") == len(lines) + len(CAUTIONS)


def test_the_rest_is_folded_and_made_once_when_it_is_opened(demo):
    layout = records(State(demo, "?v=1&tab=records"))
    assert not layout.select(pn.pane.HoloViews)
    assert not layout.select(RowTable)
    opener = folds(layout)["Where the variation comes from"]
    for _ in range(2):
        press(opener, {})
        assert len(layout.select(pn.pane.HoloViews)) == 1


@pytest.mark.parametrize("times", [1, 3])
def test_what_was_found_is_a_table_under_its_fold(demo, times):
    layout = records(State(demo, "?v=1&tab=records"))
    causes = gathered(demo.problems)
    assert causes
    opener = folds(layout)[f"What the check found ({len(causes)} lines)"]
    for _ in range(times):
        press(opener, {})
    (table,) = layout.select(RowTable)
    rows = json.loads(table.told)["rows"]
    assert len(rows) == min(len(causes), 20)
    for row, cause in zip(rows, causes, strict=False):  # as the command writes it
        assert row["cells"][0].split(":")[0] == cause.severity
        assert row["cells"][3].endswith(cause.likewise or cause.rule)
    press(folds(layout)[f"Every place of it ({len(demo.problems):,})"], {})
    assert json.loads(layout.select(RowTable)[1].told)["total"] == len(demo.problems)
