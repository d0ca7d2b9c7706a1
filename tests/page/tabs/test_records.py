"""What the records hold is short; the rest is folded and made when it is asked for."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd
import panel as pn
import pytest

from dashboard.page.parts.elements import RowTable
from dashboard.page.parts.pressable import Fold
from dashboard.page.tabs.check import open_sample, places_view
from dashboard.page.tabs.one_cultivar import cultivar
from dashboard.page.tabs.records import records
from dashboard.page.tabs.records import told as said_of
from dashboard.records.causes import causes
from dashboard.records.problems import Whose
from dashboard.visit.state import State
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.stands_on import held
from tests.pressing import press, told


def folds(layout) -> dict[str, Fold]:
    return {one.heading: one for one in layout.select(Fold)}


def test_six_lines_at_the_most_then_the_cautions(catalogue):
    lines = held(catalogue)
    assert len(lines) <= 6
    assert all(len(line.split()) <= 25 for line in lines[1:])
    said = said_of(catalogue)
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


def newest_first(rows) -> bool:
    days = [pd.to_datetime(row["cells"][1], format="%b %d, %Y") for row in rows]
    return days == sorted(days, reverse=True)


@pytest.mark.parametrize("times", [1, 3])
def test_a_line_a_cause_is_opened_to_its_places_and_a_place_to_its_fruit(demo, times):
    state = State(demo, "?v=1&tab=records")
    layout = records(state)
    same = causes(demo.problems)
    assert same
    opener = folds(layout)[f"To look at: {len(demo.problems):,} places, the newest first"]
    for _ in range(times):
        press(opener, {})
    lines, places = layout.select(RowTable)
    rows = told(lines)["rows"]
    assert [row["cells"][0].split()[0] for row in rows] == [str(len(one)) for one in same[:20]]
    assert not places.visible
    press(lines, {"open": "0"})
    shown = told(places)
    assert places.visible
    assert shown["asked"] == 1
    assert shown["total"] == len(same[0])
    assert newest_first(shown["rows"])
    press(places, {"open": "1"})
    assert (state.tab, state.cultivar, state.sample) == ("cultivar", same[0][1].whose.cultivar, same[0][1].whose.sample)  # fmt: skip


def test_the_sample_that_was_pressed_lies_open_on_the_card_and_asks_to_be_seen(demo):
    state = State(demo, "?v=1&tab=records")
    card = cultivar(state)
    sample = demo.problems[0].whose
    for asked in (1, 2):
        open_sample(state, sample.sample)
        *_, samples, fruit = card.select(RowTable)
        assert folds(card)["Its samples and their fruit"].open
        assert fruit.visible
        assert told(fruit)["asked"] == asked
        assert f"({sample.sample})" in told(fruit)["title"]
        assert sample.sample in [row["id"] for row in told(samples)["rows"]]
        assert state.sample == ""
        state.choose(tab="records")
    open_sample(state, "nobody’s")
    assert state.tab == "records"


def test_what_was_not_loaded_is_named_and_cannot_be_opened(demo):
    lost = replace(demo.problems[0], whose=Whose("S9", "Nobody", "", "2025-07-01"))
    view = places_view(demo, [lost, demo.problems[0]], 1)
    assert [column["label"] for column in view["columns"]][:3] == ["Cultivar", "Picked", "Not loaded"]
    assert view["rows"][0]["cells"][:3] == ["", "Jul 1, 2025", "Nobody"]
    assert view["rows"][1]["cells"][2] == ""
