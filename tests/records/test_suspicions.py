"""What loads and is told: every suspicion is tried on a trial in which nothing else is odd."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.records import read
from dashboard.terms.units import N_PER_KGF, N_PER_LBF
from tests.records.small import write_folder
from tests.records.trial import RATED, SEASONS, trial

DECLARED = {"title": "Trial", "invented": True}


def problems(tmp_path, grids, declared=DECLARED):
    return read(write_folder(tmp_path, grids, declared)).problems


def test_the_trial_itself_is_not_flagged(tmp_path):
    assert [problem.sentence for problem in problems(tmp_path, trial())] == []


# ---- a unit exchanged -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("factor", "times", "units"),
    [
        (N_PER_LBF / N_PER_KGF, "about 2.2 times as soft", "kilograms-force and pounds-force"),
        (N_PER_KGF / N_PER_LBF, "about 2.2 times as firm", "kilograms-force and pounds-force"),
        (1 / N_PER_LBF, "about 4.4 times as soft", "newtons and pounds-force"),
        (1 / N_PER_KGF, "about 9.8 times as soft", "newtons and kilograms-force"),
    ],
)
def test_firmness_of_a_season_in_another_unit_is_flagged(tmp_path, factor, times, units):
    grids = trial()
    of_2023 = {cells[0] for cells in grids["samples"][1:] if cells[3].startswith("2023")}
    for cells in grids["fruit"][1:]:
        if cells[0] in of_2023:
            cells[4:6] = [f"{float(cell) * factor:.2f}" for cell in cells[4:6]]
    found = [p for p in problems(tmp_path, grids) if "exchanged" in p.suggestion]
    assert sorted(p.rule.split("(")[1] for p in found) == [
        "“high” in 2023, 24 samples)",
        "“low” in 2023, 24 samples)",
    ]
    assert all(p.suggestion == f"look whether {units} were exchanged" for p in found)
    assert all(
        abs(float(p.rule.split("about ")[1].split()[0]) - float(times.split()[1])) <= 0.3 for p in found
    )
    assert all(times.split()[-1] in p.rule for p in found)


def test_of_two_seasons_the_one_that_is_unlike_usual_fruit_is_told(tmp_path):
    grids = trial()
    kept = {cells[0] for cells in grids["samples"][1:] if not cells[3].startswith("2022")}
    for name in ("samples", "fruit"):
        grids[name] = [grids[name][0], *(cells for cells in grids[name][1:] if cells[0] in kept)]
    of_2024 = {
        cells[0] for cells in grids["samples"][1:] if cells[3].startswith("2024") and cells[2] == "low"
    }
    for cells in grids["fruit"][1:]:
        if cells[0] in of_2024:
            cells[4:6] = [f"{float(cell) / 4.448:.2f}" for cell in cells[4:6]]
    (problem,) = [p for p in problems(tmp_path, grids) if "exchanged" in p.suggestion]
    assert "“low” in 2024" in problem.rule


def test_a_season_half_as_firm_again_is_not_flagged(tmp_path):
    grids = trial()
    of_2023 = {cells[0] for cells in grids["samples"][1:] if cells[3].startswith("2023")}
    for cells in grids["fruit"][1:]:
        if cells[0] in of_2023:
            cells[4:6] = [f"{float(cell) / 1.5:.2f}" for cell in cells[4:6]]
    assert [p for p in problems(tmp_path, grids) if "exchanged" in p.suggestion] == []


# ---- ratings ----------------------------------------------------------------------------------------------


@pytest.mark.alike(4)
@pytest.mark.parametrize("season", [*SEASONS, None], ids=[*map(str, SEASONS), "every season"])
@pytest.mark.parametrize("step", [1, -1])
def test_a_rating_in_the_row_above_or_below_its_own_is_flagged(tmp_path, season, step):
    grids = trial()
    rows = [cells for cells in grids["samples"][1:] if season is None or cells[3].startswith(str(season))]
    column = 5 + RATED.index("red")
    values = [cells[column] for cells in rows]
    for place, cells in enumerate(rows):
        cells[column] = values[(place - step) % len(values)]
    found = [p for p in problems(tmp_path, grids) if "slipped" in p.suggestion]
    where = "above" if step == 1 else "below"
    assert {p.column for p in found} == {"red"}
    assert f"agrees with the cultivars of the row {where} rather than its own" in found[0].rule
    if season:
        assert [p.row for p in found] == [grids["samples"].index(rows[0]) + 1]


@pytest.mark.alike(3)
@pytest.mark.parametrize("seed", range(12))
def test_ratings_that_mean_nothing_are_not_called_shifted(tmp_path, seed):
    chance, grids = np.random.default_rng(seed), trial()
    for cells in grids["samples"][1:]:
        cells[5:9] = [str(one) for one in chance.integers(0, 11, 4)]
    assert problems(tmp_path, grids) == ()


def test_ratings_in_each_others_columns_are_flagged(tmp_path):
    grids = trial()
    for cells in grids["samples"][1:]:
        if cells[3].startswith("2024"):
            cells[5:8] = [cells[6], cells[7], cells[5]]
    found = [p for p in problems(tmp_path, grids) if "slipped" in p.suggestion]
    assert [(p.column, p.rule) for p in found] == [
        ("shape", "in 2024 agrees with the column fuzz rather than its own"),
        ("fuzz", "in 2024 agrees with the column red rather than its own"),
        ("red", "in 2024 agrees with the column shape rather than its own"),
    ]


@pytest.mark.parametrize(
    ("scale", "cell", "said"),
    [
        (None, lambda value: 1 + value * 0.4, "1 to 5"),
        ({"low": 0, "high": 10, "best": 0}, lambda value: 1 + value * 0.4, "1 to 5"),
        (None, lambda value: min(max(value, 1), 9), "1 to 9"),
    ],
    ids=["1 to 5 on 0 to 10", "the same with 0 the best", "1 to 9 on 0 to 10"],
)
def test_a_scale_whose_ends_are_never_used_is_flagged(tmp_path, scale, cell, said):
    grids = trial()
    for cells in grids["samples"][1:]:
        cells[6] = f"{round(cell(float(cells[6])))}"
    grids["samples"][1][6], grids["samples"][2][6] = said.split(" to ")
    declared = DECLARED | ({"ratings": {"fuzz": scale}} if scale else {})
    (problem,) = [p for p in problems(tmp_path, grids, declared) if p.column == "fuzz"]
    assert (problem.severity, problem.value) == ("flag", said)
    assert "is all that is used of the scale, 0 to 10, in 144 ratings" in problem.rule


# ---- samples ----------------------------------------------------------------------------------------------


def test_samples_without_fruit_or_with_few_are_flagged(tmp_path):
    grids = trial()
    grids["fruit"] = [cells for cells in grids["fruit"] if cells[0] != "S007" and not (cells[0] == "S009" and int(cells[1]) > 3)]  # fmt: skip
    found = sorted(problems(tmp_path, grids), key=lambda one: one.row)
    assert [(p.severity, p.row, p.rule) for p in found] == [
        ("flag", 8, "has no fruit"),
        ("flag", 10, "has 3 fruit where 10 are usual"),
    ]


def test_a_table_of_fruit_that_was_cut_short_is_told(tmp_path):
    folder = write_folder(tmp_path, trial(), DECLARED)
    text = (folder / "fruit.csv").read_text(encoding="utf-8")
    (folder / "fruit.csv").write_text(text[: len(text) // 2 + 9], encoding="utf-8")
    rules = [problem.rule for problem in read(folder).problems]
    assert rules.count("has no fruit") > 60
    assert any("those that are not there are taken as empty" in rule for rule in rules)


@pytest.mark.parametrize(("cell", "meant"), [("0.3", "30"), ("1", "100")])
def test_a_share_that_was_stored_as_a_part_of_1_is_flagged(tmp_path, cell, meant):
    grids = trial()
    grids["samples"][4][9] = cell
    (problem,) = problems(tmp_path, grids)
    assert (problem.severity, problem.row, problem.column) == ("flag", 5, "split_pit_pct")
    assert problem.suggestion == f"write {meant} if that was meant"
