"""Sugar read at another temperature than 20 °C, on a refractometer that does not correct for it."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.records import read
from dashboard.records.brix_at_20 import AT_20, NOT_KNOWN, OF_THE_DAY, correction, zero
from dashboard.records.writing import write
from dashboard.terms.units import UNITS
from tests.records.small import DECLARED, tables, write_folder
from tests.records.trial import trial

PUBLISHED = Path(__file__).resolve().parents[1] / "reference" / "brix_temperature.csv"
SECOND = PUBLISHED.with_name("brix_temperature_other.csv")
inside = {"reading": st.floats(0, 30), "celsius": st.floats(10, 30)}


def at(reading, celsius, how=AT_20):
    return correction(*np.broadcast_arrays(np.asarray(reading, float), np.asarray(celsius, float)), how)


def one(reading: float, celsius: float, how: str = AT_20) -> float:
    return float(at([reading], [celsius], how)[0])


def published() -> np.ndarray:
    """(147, 3): temperature, reading, correction."""
    with PUBLISHED.open(encoding="utf-8") as file:
        return np.array([[float(cell) for cell in row[:3]] for row in list(csv.reader(file))[1:]])


def test_every_figure_of_the_table_is_given_back():
    warm, reading, added = published().T
    assert len(added) == 21 * 7
    np.testing.assert_allclose(at(reading, warm), added, atol=1e-12)


def test_other_tables_agree_within_a_tenth_of_a_scale_division():
    """A division of a hand refractometer is 0.2 °Brix. Sources: tests/reference/README.md."""
    with SECOND.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert {row["source"] for row in rows} == {"OIV", "ISO 1743", "cane laboratory"}
    for row in rows:
        ours = one(float(row["reading_brix"]), float(row["juice_temp_c"]))
        assert ours == pytest.approx(float(row["correction_brix"]), abs=0.0201), row


def test_cold_juice_reads_too_high_and_warm_juice_too_low():
    grid = published()[:, 2].reshape(21, 7)  # by temperature, by reading
    assert (grid[:10] < 0).all()
    assert (grid[10] == 0).all()
    assert (grid[11:] > 0).all()
    assert (np.diff(grid, axis=0) > 0).all()
    assert (np.diff(np.abs(grid), axis=1) >= 0).all()  # sweet juice no less than water


@given(**inside, how=st.sampled_from([AT_20, OF_THE_DAY]))
def test_a_correction_is_bounded_and_of_one_sign(reading, celsius, how):
    added = one(reading, celsius, how)
    assert abs(added) <= (0.8 if how == AT_20 else 0.18) + 1e-9
    assert added * (celsius - 20) >= -1e-9
    assert one(0, celsius, OF_THE_DAY) == 0


@given(**inside, more=st.floats(0.01, 5))
def test_warmer_juice_gets_more_and_two_readings_keep_their_order(reading, celsius, more):
    if celsius + more <= 30:
        assert one(reading, celsius + more) > one(reading, celsius)
    if reading + more <= 30:
        assert reading + more + one(reading + more, celsius) > reading + one(reading, celsius)


def test_between_the_figures_it_is_linear():
    # 10 and 15 °Brix at 25 °C: .36 and .37, at 26 °C: .43 and .44
    assert one(12, 25) == pytest.approx(0.364)
    assert one(12, 25.5) == pytest.approx(0.399)
    assert one(10, 25, OF_THE_DAY) == pytest.approx(0.36 - 0.33)


@pytest.mark.parametrize(("reading", "celsius"), [(12, 9.9), (12, 30.1), (30.1, 25), (12, np.nan), (np.nan, 25)])  # fmt: skip
def test_outside_the_table_nothing_is_corrected(reading, celsius):
    assert np.isnan(one(reading, celsius))


def test_how_zero_was_set_is_never_guessed():
    assert np.isnan(one(12, 25, NOT_KNOWN))


# ---- as records are read ----------------------------------------------------------------------------------


def at_bench(how: str | None = AT_20, heading: str = "juice_temp_c", warm: str = "25", **declared):
    """The small records with one temperature in every sample, and what is declared of the refractometer."""
    grids = tables()
    grids["samples"] = [[*cells, heading if cells[0] == "sample" else warm] for cells in grids["samples"]]
    return grids, DECLARED | {"temperature_compensated": False, "refractometer_zero": how} | declared


def sugar(records, table: str = "fruit"):
    return records.tables[table]["ssc_brix"].to_numpy()


RAW = np.array([float(cells[-1]) for cells in tables()["fruit"][1:]])


def flags(records) -> list:
    return [problem for problem in records.problems if "as it was read" in problem.rule]


@pytest.mark.parametrize(
    ("how", "heading", "warm"), [(AT_20, "juice_temp_f", "77"), (OF_THE_DAY, "juice_temp_c", "25")]
)
def test_sugar_is_brought_to_20_and_all_else_stays(tmp_path, how, heading, warm):
    raw = read(write_folder(tmp_path / "raw", tables()))
    records = read(write_folder(tmp_path / "warm", *at_bench(how, heading, warm)))
    np.testing.assert_allclose(sugar(records), RAW + at(RAW, 25, how), atol=1e-9)
    others = [name for name in raw.tables["fruit"] if name != "ssc_brix"]
    assert records.tables["fruit"][others].equals(raw.tables["fruit"][others])
    assert not records.problems
    assert any("Sugar is brought to 20 °C" in said for said in records.declaration.sentences)


def test_both_ends_of_the_table_belong_to_it_in_fahrenheit_too():
    np.testing.assert_allclose(at(10, UNITS["f"].to_si(np.array([50.0, 68.0, 86.0]))), [-0.58, 0, 0.77])


def test_a_mean_is_brought_to_20_and_its_deviation_stays(tmp_path):
    grids, declared = at_bench(AT_20)
    grids["fruit"] = [cells[:-1] + ([cells[-1]] if cells[0] != "S1" else [""]) for cells in grids["fruit"]]
    grids["means"] = [["sample", "n", "ssc_brix", "ssc_sd_brix"], ["S1", "10", "10", "0.8"]]
    means = read(write_folder(tmp_path, grids, declared)).tables["means"]
    assert means[["ssc_brix", "ssc_sd_brix"]].to_numpy().tolist() == [[pytest.approx(10.36), 0.8]]


def untouched(tmp_path, grids, declared):
    """The problem told of records whose sugar stays as it was read."""
    records = read(write_folder(tmp_path, grids, declared))
    (problem,) = flags(records)
    assert sugar(records).tolist() == RAW.tolist()
    assert (problem.severity, problem.whose is None) == ("flag", problem.row == 1)
    return problem


@pytest.mark.parametrize("how", [None, NOT_KNOWN])
def test_an_unknown_zero_leaves_readings_as_they_are_and_says_so(tmp_path, how):
    problem = untouched(tmp_path, *at_bench(how))
    assert "refractometer_zero is not known" in problem.rule


def test_a_refractometer_that_corrects_by_itself_is_not_corrected_again(tmp_path):
    problem = untouched(tmp_path, *at_bench(AT_20, temperature_compensated=True))
    assert (problem.file, problem.row, problem.value) == ("samples.csv", 5, "25.0 °C")
    assert "as in 3 other rows" in problem.rule


def test_samples_without_a_temperature_are_told_once(tmp_path):
    grids, declared = at_bench(AT_20)
    for row in (2, 4):
        grids["samples"][row - 1][-1] = ""
    records = read(write_folder(tmp_path, grids, declared))
    (problem,) = flags(records)
    assert (problem.row, problem.rule) == (4, "is missing for 2 of 4 samples with sugar, which stays as it was read")  # fmt: skip
    assert set(records.tables["fruit"]["sample"][sugar(records) != RAW]) == {"S2", "S4"}
    (none,) = flags(read(write_folder(tmp_path / "none", tables(), declared)))
    assert "is missing for 4 of 4 samples" in none.rule


def test_what_the_table_does_not_reach_is_told_at_its_place(tmp_path):
    grids, declared = at_bench(AT_20)
    grids["samples"][1][-1] = "8"
    grids["fruit"][-1][-1] = "31"
    records = read(write_folder(tmp_path, grids, declared))
    cold, sweet = sorted(flags(records), key=lambda one: one.column)
    assert (cold.file, cold.row, cold.value) == ("samples.csv", 2, "8.0 °C")
    assert (sweet.file, sweet.row, sweet.value) == ("fruit.csv", len(grids["fruit"]), "31")
    assert sugar(records)[-1] == 31
    assert sugar(records)[:3].tolist() == RAW[:3].tolist()


@pytest.mark.parametrize(("heading", "warm"), [("juice_temp_c", "77"), ("juice_temp_f", "25")])
def test_a_temperature_in_the_other_unit_is_set_aside(tmp_path, heading, warm):
    records = read(write_folder(tmp_path, *at_bench(AT_20, heading, warm)))
    assert sum(problem.severity == "error" for problem in records.problems) == 4


def test_a_word_that_does_not_say_how_zero_was_set_is_told(tmp_path):
    records = read(write_folder(tmp_path, *at_bench("yes")))
    (problem,) = [one for one in records.problems if one.severity == "error"]
    assert (problem.column, problem.value) == ("refractometer_zero", "yes")
    assert records.declaration.refractometer_zero == NOT_KNOWN
    assert zero({"refractometer_zero": "At 20 °C"}, None) == AT_20


def test_what_was_corrected_and_written_out_is_not_corrected_again(tmp_path):
    records = read(write_folder(tmp_path / "one", *at_bench(AT_20)))
    write(records.tables, records.declaration, tmp_path / "two")
    assert sugar(read(tmp_path / "two")).tolist() == sugar(records).tolist()


def test_last_digits_are_judged_as_they_were_read(tmp_path):
    """Corrected readings would end in other digits than those that a person wrote."""
    grids = trial()
    samples = {row[0]: row for row in grids["samples"][1:]}
    site, year = grids["samples"][1][2], grids["samples"][1][3][:4]
    for cells in grids["fruit"][1:]:
        if (samples[cells[0]][2], samples[cells[0]][3][:4]) == (site, year):
            cells[6] = f"{round(float(cells[6]) * 2) / 2:.1f}"
    grids["samples"] = [[*row, "juice_temp_c" if row[0] == "sample" else "24.3"] for row in grids["samples"]]
    told = read(write_folder(tmp_path, grids, {"title": "T", "temperature_compensated": False, "refractometer_zero": AT_20})).problems  # fmt: skip
    assert [problem.column for problem in told if "end in 0 or 5" in problem.rule] == ["ssc_brix"]
