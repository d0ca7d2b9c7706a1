"""A sample opens down to its fruit."""

from __future__ import annotations

import csv

import pytest

from dashboard.answers.question import Question
from dashboard.page.parts.elements import RowTable
from dashboard.page.tabs.evidence import READINGS, checks_view, fruit_view, samples_view
from dashboard.page.tabs.one_cultivar import cultivar
from dashboard.places import demo_data
from dashboard.terms.traits import FRUIT_TRAITS, TRAITS
from dashboard.visit.state import State
from tests.pressing import press


def test_no_difference_from_the_checks_is_told_as_certain(demo):
    told = {
        row["cells"][3]
        for name in demo.cultivars.index[::4]
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
    place = 1 + len(READINGS) + list(FRUIT_TRAITS).index("size")
    assert [row["cells"][place] for row in told["rows"]] == [
        TRAITS["size"].written(size, units) for size in part["size"]
    ]


@pytest.mark.parametrize("units", ["us", "si"])
def test_the_diameters_and_cheeks_are_those_that_were_written_down(demo, units):
    """Against the file itself."""
    asked = Question(demo, cultivar="Avrel", units=units)
    sample = samples_view(asked, 1)["rows"][0]["id"]
    with (demo_data() / "fruit.csv").open() as file:
        written = [row for row in csv.DictReader(file) if row["sample"] == sample]
    told = [row["cells"] for row in fruit_view(asked, sample)["rows"]]
    assert len(told) == len(written) > 0
    inch, lb = (25.4, 4.4482216) if units == "us" else (1, 1)
    for cells, row in zip(told, written, strict=True):
        cheeks = sorted((float(row["firmness_1_n"]), float(row["firmness_2_n"])), reverse=True)
        read = [float(row["suture_mm"]) / inch, float(row["cross_mm"]) / inch, *(one / lb for one in cheeks)]
        rounded = [0.5 / 10 ** len(cell.partition(".")[2]) + 1e-9 for cell in cells[1:5]]
        assert all(
            abs(float(cell) - one) <= by for cell, one, by in zip(cells[1:5], read, rounded, strict=True)
        )


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
