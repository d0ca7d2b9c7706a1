"""The law of conservation: every filled cell is read, set aside with a reason, or declared as not used; whatever stands in it."""

from __future__ import annotations

import csv
import io
import random
import tempfile
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dashboard.records import read
from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.mapping import Question
from dashboard.records.importing.together import singly
from tests.records.importing.season import FRUIT, Sample, adds_up, came_in, held, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows

_ANY = settings(max_examples=8, suppress_health_check=[HealthCheck.too_slow])
_CELLS = st.one_of(
    st.text(max_size=8), st.integers(-5, 200).map(str), st.sampled_from(["n/a", "<10", "2 1/2", "7/8", "63,5", "0", "Alvane", "2016-07-05", "7/5/16", "F1", "Variety"])
)  # fmt: skip


def first_that_may_be(question: Question) -> str:
    """An answer of somebody in a hurry: the offer, else the first word, else something of the right kind."""
    if question.offer:
        return question.offer
    if question.path[-1] == "scale" or "scale" in question.path:
        return "0 to 10, 10 best"
    if question.path[0] in ("cultivars", "sites"):
        return str(question.path[-1])
    if question.path[-1] == "tip_mm":
        return "8"
    if question.path[-1] == "year":
        return "2016"
    if question.path[-1] == "date":
        return "2016-07-05"
    if "is" in question.path:
        return "not used"
    if question.path[0] == "headings_in_row":
        return "not used"
    return question.options[0] if question.options and question.path[-1] != "site" else "Low"


@_ANY
@given(st.data())
def test_every_filled_cell_of_any_sheet_is_accounted_for(data):
    rows = [list(LONG), *(list(map(str, row)) for row in long_rows(season(1))[:12])]
    titles = data.draw(st.lists(st.lists(_CELLS, max_size=3), max_size=2))
    for _ in range(data.draw(st.integers(0, 10))):
        line = data.draw(st.integers(0, len(rows) - 1))
        rows[line][data.draw(st.integers(0, len(rows[line]) - 1))] = data.draw(_CELLS)
    rows += data.draw(st.lists(st.lists(_CELLS, max_size=11), max_size=2))
    text = io.StringIO(newline="")
    csv.writer(text).writerows([*titles, *rows])
    with tempfile.TemporaryDirectory() as place:
        file = Path(place) / "any.csv"
        file.write_text(text.getvalue(), encoding="utf-8", errors="replace", newline="")
        outcome = bring_in([file], Path(place) / "trial", ask=singly(first_that_may_be))
        assert all(problem.sentence.isprintable() for problem in outcome.problems)
        if not outcome.counts:
            assert outcome.questions or outcome.problems, outcome.text
            return
        adds_up(outcome)
        if outcome.counts["aside"]:
            assert outcome.code == 1
        if (Path(place) / "trial" / "samples.csv").exists() and _any_sample(Path(place) / "trial"):
            records = read(Path(place) / "trial")  # what came in is loaded whole
            assert not [problem for problem in records.problems if problem.severity == "error"]


def _any_sample(trial: Path) -> bool:
    return len((trial / "samples.csv").read_text(encoding="utf-8").splitlines()) > 1


def _cell(rows, chance, column, text):
    row = chance.randrange(1, len(rows))
    rows[row][column] = text
    return {row}


def _quote(rows, chance, column, text):
    row = chance.randrange(1, len(rows))
    rows[row][0] = '"' + rows[row][0] + '"x'
    return {row}


def _shift(rows, chance, column, text):
    row = chance.randrange(1, len(rows))
    rows[row][4:5] = ["63", "5"]
    return {row}


def _again(rows, chance, column, text):
    row = chance.randrange(1, len(rows))
    rows.append([*rows[row][:8], "19.5" if rows[row][8] != "19.5" else "19.0"])
    return {len(rows) - 1}


# What is done to one row, and whether the whole row or one cell of it is lost.
RULES = {
    "word for a figure": (_cell, 5, "sixty-six mm", "cell"),
    "too large": (_cell, 4, "1500", "cell"),
    "below zero": (_cell, 6, "-4", "cell"),
    "a limit": (_cell, 4, "<10", "cell"),
    "two figures": (_cell, 8, "11.2/12.0", "cell"),
    "a formula": (_cell, 8, "=A1", "cell"),
    "a decimal point too many": (_cell, 4, "6.3.5", "cell"),
    "a date for a figure": (_cell, 5, "2016-08-05", "cell"),
    "no cultivar": (_cell, 0, "", "row"),
    "no site": (_cell, 1, "", "row"),
    "no day": (_cell, 2, "", "row"),
    "no day of the calendar": (_cell, 2, "2016-06-31", "row"),
    "a day in words": (_cell, 2, "sometime", "row"),
    "a fruit without number": (_cell, 3, "", "cells"),
    "a number of a fruit in words": (_cell, 3, "one", "cells"),
    "unseen letters": (_cell, 0, "Al\u200bvane", "row"),
    "a lone quotation mark": (_quote, 0, "", "row"),
    "a decimal comma between commas": (_shift, 0, "", "row"),
    "written again and changed": (_again, 0, "", "cell"),
    "a unit of another kind": (_cell, 6, "12 mm", "cell"),
}


@pytest.mark.alike(2)
@pytest.mark.parametrize("times", [1, pytest.param(5, marks=pytest.mark.slow)])
@pytest.mark.parametrize("name", RULES)
def test_a_hundred_broken_files_each_one_named_problem_and_no_good_row_lost(tmp_path, name, times):
    """Five files a rule, each broken at another place; without ``-m slow`` one of them."""
    for seed in range(times):
        samples = season(1)
        rows = [list(LONG), *(list(map(str, row)) for row in long_rows(samples))]
        act, column, text, lost = RULES[name]
        broken = act(rows, random.Random(f"{name} {seed}"), column, text)
        file = csv_file(tmp_path / f"{seed}.csv", rows[0], rows[1:])
        trial = tmp_path / f"trial {seed}"
        outcome, _ = came_in([file], trial, {"empty": "set aside", "sixty-six mm": "aside"})
        causes = {problem.rule for problem in outcome.problems if problem.severity == "error"}
        assert len(causes) == 1, (name, seed, outcome.text)
        assert outcome.code == 1
        _all_but(trial, samples, broken, lost)


def _all_but(trial: Path, samples: list[Sample], broken: set[int], lost: str) -> None:
    """Every row that was left alone stands as it was; of the broken one nothing that is not true."""
    there = held(trial)
    for at in range(len(samples) * FRUIT):
        sample, number = samples[at // FRUIT], at % FRUIT + 1
        found = there[sample.key].get(number)
        if at + 1 not in broken:
            np.testing.assert_allclose(found, sample.si[number - 1], rtol=1e-9)
        elif lost == "cell":
            wrong = ~np.isclose(found, sample.si[number - 1], rtol=1e-9)
            assert wrong.sum() == 1
            assert np.isnan(found[wrong]).all()
        else:
            assert found is None
