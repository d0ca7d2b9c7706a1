"""Our own sheets come in without a question: the empty workbook filled in, and tables that were written out."""

from __future__ import annotations

import json
import tempfile
from pathlib import Path

import pandas as pd
import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from dashboard.records import read
from dashboard.records.importing.incoming import Outcome, bring_in
from dashboard.records.schema import TABLES
from dashboard.records.writing import write
from tests.records.importing.season import adds_up, came_in, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows
from tests.records.small import DECLARED, Grid, filled, tables, write_folder


def whole() -> dict[str, Grid]:
    """A row or more of every table."""
    return tables() | {
        "means": [["sample", "n", "size_mm", "size_sd_mm"], ["S5", "8", "62.5", "1.25"]],
        "samples": [*tables()["samples"], ["S5", "Brintel", "high", "2024-W30", "1", "", "", "", "only means"]],
        "weather": [["site", "date", "tmin_c", "tmax_c"], ["low", "2024-01-01", "-5", "5"]],
        "trees": [["site", "row", "position", "cultivar", "planted"], ["low", "3", "12", "Alvane", "2015"]],
        "yields": [["cultivar", "site", "year", "pick", "kg_per_tree"], ["Alvane", "low", "2024", "1", "31.5"]],
        "nursery": [["cultivar", "nursery", "rootstock", "season", "price_per_tree"], ["Alvane", "Undern", "seedling", "2025", "9.5"]],
    }  # fmt: skip


def silently(files: list[Path], trial: Path) -> Outcome:
    """Brought in without a question; what is told adds up."""
    outcome = bring_in(files, trial)
    assert not outcome.questions, [question.path for question in outcome.questions]
    assert outcome.counts, outcome.text
    adds_up(outcome)
    return outcome


def same(one: Path, other: Path) -> None:
    """Both read as the same records, in whatever order their rows stand."""
    here, there = read(one), read(other)
    assert here.declaration.dates == there.declaration.dates
    for name, table in TABLES.items():
        frames = [
            records.tables[name].sort_values(list(table.key), ignore_index=True) for records in (here, there)
        ]
        pd.testing.assert_frame_equal(*frames, check_dtype=False, obj=name)


NUMBERS = st.decimals(36, 100, places=3).map(str)
_FEW = settings(
    max_examples=3, deadline=None, phases=[Phase.generate], suppress_health_check=[HealthCheck.too_slow]
)


@_FEW
@given(st.data())
def test_the_empty_workbook_filled_in_bit_by_bit_comes_in_as_it_would_be_read(data):
    grids = whole()
    for cells in grids["fruit"][1:]:
        cells[2:7] = data.draw(st.tuples(NUMBERS, NUMBERS, NUMBERS, NUMBERS, st.sampled_from(["", "NA", "11.25"])))  # fmt: skip
    cut = {name: data.draw(st.integers(1, len(grid))) for name, grid in grids.items() if name in ("trees", "fruit", "weather")}  # fmt: skip
    first = {name: grid[: cut.get(name, len(grid))] for name, grid in grids.items()}
    rest = {name: [grid[0], *grid[cut[name] :]] for name, grid in grids.items() if name in cut}
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        assert silently([filled(place / "half.xlsx", first)], place / "trial").code == 0
        assert silently([filled(place / "later.xlsx", rest, None)], place / "trial").code == 0
        same(place / "trial", write_folder(place / "at once", grids))


def test_what_was_written_out_comes_in_as_it_was_and_twice_changes_nothing(tmp_path):
    records = read(write_folder(tmp_path / "before", whole()))
    write(records.tables, records.declaration, tmp_path / "written out")
    files = sorted((tmp_path / "written out").glob("*.csv"))
    assert silently(files, tmp_path / "trial").code == 0
    same(tmp_path / "trial", tmp_path / "before")
    before = {file.name: file.read_bytes() for file in (tmp_path / "trial").glob("*.*")}
    assert silently(files, tmp_path / "trial").code == 0
    assert {file.name: file.read_bytes() for file in (tmp_path / "trial").glob("*.*")} == before


_CELLS = st.sampled_from(["", "n/a", "<10", "2 1/2", "63,5", "0", "Alvane", "7/5/16", "S1", "low", "1e9", "=A1", "no", "fruit", "5 juil."])  # fmt: skip


@_FEW
@given(st.data())
def test_whatever_stands_in_our_sheets_every_cell_is_accounted_for(data):
    grids = whole()
    for name in data.draw(st.lists(st.sampled_from(list(grids)), min_size=2, max_size=8)):
        row = data.draw(st.integers(1, len(grids[name]) - 1))
        grids[name][row][data.draw(st.integers(0, len(grids[name][0]) - 1))] = data.draw(_CELLS)
    with tempfile.TemporaryDirectory() as folder:
        trial = write_folder(Path(folder) / "trial", tables())
        outcome = silently([filled(Path(folder) / "book.xlsx", grids)], trial)
        assert outcome.code == (1 if outcome.counts["aside"] else 0)
        assert not [problem for problem in read(trial).problems if problem.severity == "error"]


def test_a_trial_in_inches_and_on_another_scale_keeps_its_own(tmp_path):
    grids = whole()
    scales = {"ratings": {"red": {"low": 1, "high": 5, "best": 1}}}
    trial = write_folder(
        tmp_path / "trial", grids | {"samples": [*whole()["samples"][:1]]}, DECLARED | scales
    )
    (trial / "fruit.csv").write_text("sample,fruit,suture_in,cross_in\n")
    (trial / "means.csv").unlink()
    told = DECLARED | {"red_low": 0, "red_high": 10, "red_best": 10}
    outcome = silently([filled(tmp_path / "book.xlsx", whole(), told)], trial)
    assert (
        "is rated from 0 to 10, 10 best, and the trial otherwise; its figures are converted" in outcome.text
    )
    records = read(trial).tables
    assert records["samples"]["red"].dropna().tolist() == [6.5, 6, 8, 4]
    assert (trial / "fruit.csv").read_text().startswith("sample,fruit,suture_in,cross_in,")
    assert records["fruit"]["suture_mm"].iloc[0] == pytest.approx(61.5)


def test_what_cannot_be_read_is_set_aside_with_what_hangs_on_it(tmp_path):
    grids = whole()
    grids["samples"][1][3] = "7/1/2023"  # S1, with three fruit of seven cells
    grids["fruit"][5][2] = "6,2"
    book = filled(tmp_path / "book.xlsx", {name: grid for name, grid in grids.items() if name != "trees"})
    outcome = silently([book], tmp_path / "trial")
    assert outcome.code == 1
    assert outcome.counts["aside"] == 8 + 3 * 7 + 1
    assert "was itself set aside" in outcome.text
    assert len(read(tmp_path / "trial").tables["fruit"]) == 9
    assert (tmp_path / "trial" / "importing" / "set_aside.xlsx").exists()


def test_what_says_another_thing_than_the_trial_is_set_aside(tmp_path):
    trial = write_folder(tmp_path / "trial", whole())
    grids = whole()
    grids["samples"][1][1] = "Brintel"  # S1 is of Alvane in the trial: another sample, and other fruit
    grids["fruit"][4][2] = "71"  # of S2
    grids["cultivars"][3][6] = "yes"  # nobody had said whether it is a check
    grids["cultivars"][1][6] = "no"
    outcome = silently([filled(tmp_path / "book.xlsx", grids)], trial)
    assert "stands already with cultivar “Alvane”, and here with “Brintel”" in outcome.text
    assert "S2, fruit 1, suture_mm: “61.5” stands, the file has “71”" in outcome.text
    assert "differs from what stands already (the trial has yes)" in outcome.text
    assert outcome.counts["aside"] == 8 + 3 * 7 + 1 + 1
    after = read(trial).tables
    assert after["fruit"].equals(read(write_folder(tmp_path / "before", whole())).tables["fruit"])
    assert after["cultivars"]["check"].tolist() == [True, False, True]


def test_what_was_taken_another_way_than_the_trial_s_is_left_out(tmp_path):
    trial = write_folder(tmp_path / "trial", whole(), DECLARED | {"currency": "USD"})
    rows = {name: (trial / f"{name}.csv").read_bytes() for name in whole()}
    told = DECLARED | {"temperature_compensated": "no", "full_bloom_open_pct": 90, "currency": "EUR"}
    outcome = silently([filled(tmp_path / "book.xlsx", whole(), told)], trial)
    assert "was taken where temperature_compensated is no, and the trial says yes" in outcome.text
    assert "was taken where full_bloom_open_pct is 90, and the trial says 50" in outcome.text
    assert "was taken where currency is EUR, and the trial says USD" in outcome.text
    # Headings and cells; means have a column of sugar, too, and so have limits.
    assert outcome.counts["aside"] == (2 + 12) + (1 + 1) + (1 + 1) + 1
    assert {name: (trial / f"{name}.csv").read_bytes() for name in whole()} == rows


def test_sugar_read_from_another_zero_is_left_out_where_the_zero_matters(tmp_path):
    warm = DECLARED | {"temperature_compensated": "no", "refractometer_zero": "at 20 C"}
    trial = write_folder(tmp_path / "trial", whole(), warm)
    told = warm | {"refractometer_zero": "water of the day"}
    outcome = silently([filled(tmp_path / "book.xlsx", whole(), told)], trial)
    assert (
        "was taken where refractometer_zero is water of the day, and the trial says at 20 C" in outcome.text
    )
    silent = {item: value for item, value in warm.items() if item != "refractometer_zero"}
    assert "left out" not in silently([filled(tmp_path / "silent.xlsx", whole(), silent)], trial).text


def test_a_sheet_that_only_looks_like_ours_is_asked_about(tmp_path):
    """Where nothing declares tip, scale and units, our headings say less than they seem to."""
    write_folder(tmp_path / "a", {name: tables()[name] for name in ("samples", "fruit")}, None)
    files = [tmp_path / "a" / "samples.csv", tmp_path / "a" / "fruit.csv"]
    assert bring_in(files, tmp_path / "trial").questions
    (tmp_path / "a" / "datapackage.json").write_text(json.dumps({"orchard_slate": "x"}))
    assert bring_in(files, tmp_path / "trial").questions
    known = write_folder(tmp_path / "known", tables())
    assert silently(files, known).code == 0  # the trial says it


def test_our_sheets_and_others_come_in_together(tmp_path):
    """A name that our sheet of cultivars has is known in the other."""
    grids = {name: grid for name, grid in tables().items() if name != "weather"}
    book = filled(tmp_path / "book.xlsx", grids, DECLARED | {"seasons": [2016, 2024]})
    samples = [sample for sample in season(1) if sample.cultivar in ("Alvane", "Brintel")]
    rows = [["low" if cell == "Low" else cell for cell in row] for row in long_rows(samples)]
    outcome, replies = came_in(
        [book, csv_file(tmp_path / "a.csv", LONG, rows)], tmp_path / "trial", {"Low": "low"}
    )
    assert replies.kinds == {"is"}
    assert outcome.code == 0
    assert len(read(tmp_path / "trial").tables["samples"]) == 6
    assert read(tmp_path / "trial").declaration.title == "Small trial"
