"""Another gauge within a sheet is flagged where its figures begin, by day or by person, also where its fruit are firmer; a season as it is is not."""

from __future__ import annotations

import tracemalloc

import numpy as np
import pandas as pd
import pytest

from dashboard.records.importing.unit_parts import _stretches
from dashboard.terms.units import N_PER_KGF, N_PER_LBF
from tests.records.importing.season import came_in, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows

HEAD = [heading.replace(" (N)", "") for heading in LONG]
BEGINS = "begins firmness of"


def told(folder, rows, head=HEAD, unit="n") -> list:
    answers = {"unit": unit, ("Who", "is"): "not used"}
    outcome, _ = came_in([csv_file(folder / "a.csv", head, rows)], folder / "trial", answers)
    return [one for one in outcome.problems if BEGINS in one.rule]


def in_pounds(samples, persons, kilograms="Bob", firmer=1.0) -> list[list]:
    """Rows of a fruit each, firmness in lb, but for one person, who read kg of fruit so many times as firm; the person at the end."""
    rows = long_rows(samples)
    for number, row in enumerate(rows):
        person = persons(number // 10)
        row[6:8] = [
            round(value / (N_PER_KGF / firmer if person == kilograms else N_PER_LBF), 1) for value in row[6:8]
        ]
        row.append(person)
    return rows


@pytest.mark.parametrize(("unit", "shown"), [(1.0, ""), (N_PER_LBF, "1/4.4 of"), (N_PER_KGF, "1/9.8 of")])
def test_a_unit_that_changes_from_a_day_on_is_flagged_there(tmp_path, unit, shown):
    """Newtons for two weeks, then another gauge: what stands below is by so much smaller."""
    samples = season(4)
    for sample in samples[1:]:  # of one level, so that the step is the unit's alone
        sample.pounds = samples[0].pounds
    rows = long_rows(samples)
    for row in rows:
        row[6:8] = [value / (unit if row[2] >= samples[10].day.isoformat() else 1) for value in row[6:8]]
    flags = told(tmp_path, rows)
    assert [(one.row, one.column) for one in flags] == ([(102, "G")] if shown else [])
    assert all(shown in one.rule and "10 samples (rows 102 to 201)" in one.rule for one in flags)


@pytest.mark.alike(2)
@pytest.mark.parametrize("firmer", [1.0, 1.33])
@pytest.mark.parametrize(
    "persons",
    [lambda sample: ("Ann", "Bob")[sample % 2], lambda sample: ("Ann", "Bob")[sample // 10 % 2]],
    ids=["in turns", "by day"],
)
def test_kilograms_of_one_person_are_flagged_also_of_firmer_fruit(tmp_path, persons, firmer):
    rows = in_pounds(season(4), persons, firmer=firmer)
    (flag,) = told(tmp_path, rows, (*HEAD, "Who"), "lbf")
    assert "by Who “Bob”" in flag.rule
    assert flag.suggestion == "look whether they were read in another unit: kgf under lb"
    assert flag.row == next(number for number, row in enumerate(rows, 2) if row[-1] == "Bob")


@pytest.mark.alike(3)
@pytest.mark.parametrize("seed", range(6))
def test_two_people_with_one_gauge_are_not_flagged(tmp_path, seed):
    """Cultivars and weeks differ as they do, a third each way."""
    chance, samples = np.random.default_rng(seed), season(6, seed=seed)
    for sample in samples:
        sample.pounds = sample.pounds * np.exp(chance.normal(0, 0.25))
    rows = in_pounds(samples, lambda sample: ("Ann", "Bob")[sample % 2], kilograms="")
    assert not told(tmp_path, rows, (*HEAD, "Who"), "lbf")


@pytest.mark.parametrize("number", [40, 3000])
def test_the_stretch_that_is_most_surely_off_is_found_to_the_sample(number):
    """As by looking at each, and of many samples as few places between them as memory allows."""
    chance = np.random.default_rng(number)
    logs = chance.normal(0, 0.1, number)
    begins, ends = number // 5, number // 2
    logs[begins:ends] += 1.0
    samples = pd.DataFrame({"log": logs, "cultivar": np.arange(number) % 7})
    part = next(_stretches(samples, np.ones(number, dtype=bool)))
    assert np.flatnonzero(part).tolist() == [*range(begins, ends)]


def test_a_sheet_of_many_samples_takes_little_memory():
    samples = pd.DataFrame(
        {"log": np.random.default_rng(1).normal(0, 0.3, 60_000), "cultivar": np.arange(60_000) % 900}
    )
    tracemalloc.start()
    assert len(list(_stretches(samples, np.ones(60_000, dtype=bool)))) >= 2
    assert tracemalloc.get_traced_memory()[1] < 200e6
    tracemalloc.stop()
