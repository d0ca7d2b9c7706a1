"""A sample opens down to its fruit."""

from __future__ import annotations

import pytest

from dashboard.answers.question import Question
from dashboard.page.parts.elements import RowTable
from dashboard.page.tabs.evidence import checks_view, fruit_view, samples_view
from dashboard.page.tabs.one_cultivar import cultivar
from dashboard.terms.traits import FRUIT_TRAITS, TRAITS
from dashboard.visit.state import State
from tests.pressing import press


def test_no_difference_from_the_checks_is_told_as_certain(demo):
    told = {
        row["cells"][3]
        for name in demo.cultivars.index
        for row in checks_view(Question(demo, cultivar=str(name)))["rows"]
    }
    assert {"over 99 %", "under 1 %"} < told
    assert not told & {"100 %", "0 %"}


@pytest.mark.parametrize("units", ["us", "si"])
def test_every_fruit_of_a_sample_is_shown_as_measured(demo, units):
    asked = Question(demo, cultivar="Avrel", units=units)
    sample = samples_view(asked, 1)["rows"][0]["id"]
    told, fruit = fruit_view(asked, sample), asked.dossier["fruit"]
    part = fruit[fruit["sample"].astype(str) == sample]
    assert len(told["rows"]) == len(part) > 0
    place = 1 + list(FRUIT_TRAITS).index("size")
    assert [row["cells"][place] for row in told["rows"]] == [
        TRAITS["size"].written(size, units) for size in part["size"]
    ]


def test_a_press_on_a_date_opens_the_fruit_and_another_cultivar_closes_them(demo):
    state = State(demo, "?v=1&tab=cultivar&cultivar=Avrel")
    tables = cultivar(state).select(RowTable)
    samples, fruit = tables[-2:]
    assert not fruit.visible
    row = samples_view(state.question, 1)["rows"][0]
    press(samples, {"open": row["id"]})
    assert fruit.visible
    assert row["id"] in fruit.told
    state.choose(cultivar="Aldrum")
    assert not fruit.visible


def test_a_sample_that_is_not_there_shows_nothing(demo):
    told = fruit_view(Question(demo, cultivar="Avrel"), "no such sample")
    assert told["rows"] == []
