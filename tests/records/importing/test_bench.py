"""The sheet for one site and day comes back as samples and fruit without a question."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from dashboard.records import read
from dashboard.records.importing.bench import FRUIT, HEADINGS, READINGS, SHEET
from tests.records.importing.test_ours import silently
from tests.records.small import tables, write_folder, write_workbook

WORDS = ("suture_in", "cross_in", "firmness_1_lbf", "firmness_2_lbf", "ssc_brix")
FIGURES = [["2.5"] * 10, ["2.625"] * 10, ["9"] * 10, ["10.5"] * 10, ["12.4"] * 10]
Five = list[list[str]]


def five(cultivar: str, figures: list[list[str]] | None = None, pick: str = "1", **judged: str) -> Five:
    """The rows of a cultivar as they stand on the sheet."""
    rows = []
    for line, word in enumerate(WORDS):
        cells = dict.fromkeys(HEADINGS, "") | {"reading": word}
        if line == 0:
            cells |= {"cultivar": cultivar, "row": "3", "position": "7", "expected": "Jul 1 – Jul 9", "pick": pick, **judged}  # fmt: skip
        for number, figure in enumerate((figures or [[]] * 5)[line], 1):
            cells[str(number)] = figure
        rows.append(list(cells.values()))
    return rows


def bench(path: Path, *fives: Five, site: str = "low", day: str = "2024-07-03") -> Path:
    top = [["site", site, "Leave a cell empty where nothing was measured."], ["date", day], [], list(HEADINGS)]  # fmt: skip
    names = [["in walking order"], ["Alvane"], ["Brintel"]]
    return write_workbook(path, {SHEET: [*top, *(row for rows in fives for row in rows)], "names": names}, {"tip_mm": 8, "red_high": 10})  # fmt: skip


def test_what_was_picked_comes_in_and_what_was_not_is_left_out(tmp_path):
    trial = write_folder(tmp_path / "trial", tables())
    week = bench(tmp_path / "week.xlsx", five("Alvane", FIGURES, "2", red="7", note="some bruised"), five("Brintel"), five("T 12-034", FIGURES), five(""))  # fmt: skip
    outcome = silently([week], trial)
    assert outcome.code == 0, outcome.text
    assert outcome.counts["aside"] == 0
    records = read(trial)
    assert not [problem for problem in records.problems if problem.severity == "error"]
    new = records.tables["samples"].iloc[4:]
    assert new["sample"].tolist() == ["low 2024-07-03 Alvane 2", "low 2024-07-03 T 12-034 1"]
    assert new["red"].tolist()[0] == 7
    assert new["note"].tolist()[0] == "some bruised"
    fruit = records.tables["fruit"].iloc[12:]
    assert fruit["fruit"].tolist() == [*range(1, 11)] * 2
    np.testing.assert_allclose(
        fruit[list(READINGS)].iloc[0], [63.5, 66.675, 9 * 4.4482216, 10.5 * 4.4482216, 12.4], rtol=1e-7
    )
    before = (trial / "fruit.csv").read_bytes()
    assert silently([week], trial).code == 0
    assert (trial / "fruit.csv").read_bytes() == before


def _moved(rows: Five) -> Five:
    return [rows[1], rows[0], *rows[2:]]


def _second(rows: Five) -> Five:
    rows[1][0] = "Brintel"
    return rows


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    ("rows", "said", "aside", "fruit"),
    [
        (five("Alvane", [["2,5", *["2.5"] * 9], *FIGURES[1:]]), "“2,5”", 1, 10),
        (five("Alvame", FIGURES, red="7"), "did you mean “Alvane”?|was itself set aside (week.xlsx, sheet bench, row 5); its fruit is set aside", 3 + 50, 0),
        (five("", FIGURES), "has readings and no cultivar", 51, 0),
        (_moved(five("Alvane", FIGURES)), "is outside the five rows of a cultivar", 5 + 5 + 50, 0),
        (_second(five("Alvane", FIGURES)), "only that one counts", 1, 10),
        (five("Brintel", [["2.25"] * 10, *FIGURES[1:]], ""), "“2.25” there and “2.5” in row 10; row 5 is kept; all readings of this fruit are set aside|number the picks", 50, 0),
        (five("Alvane", [["25"] * 10, *FIGURES[1:]]), "25", 10, 10),
    ],
    ids=["a comma", "no such cultivar", "no cultivar", "rows moved", "a second name", "the same cultivar twice", "no such size"],
)  # fmt: skip
def test_what_cannot_be_read_is_set_aside_and_told(tmp_path, rows, said, aside, fruit):
    trial = write_folder(tmp_path / "trial", tables())
    outcome = silently([bench(tmp_path / "week.xlsx", rows, five("Brintel", FIGURES, ""))], trial)
    assert outcome.code == 1
    assert all(one in outcome.text for one in said.split("|")), outcome.text
    assert "rows are set aside" not in outcome.text  # fruit have no rows of their own on the sheet
    assert len(read(trial).tables["fruit"]) - 12 - 10 == fruit
    assert outcome.counts["aside"] == aside, outcome.text


def test_a_day_that_is_none_takes_the_whole_sheet_with_it(tmp_path):
    trial = write_folder(tmp_path / "trial", tables())
    fives = five("Alvane", FIGURES), five("Brintel", FIGURES)
    outcome = silently([bench(tmp_path / "week.xlsx", *fives, day="July 3")], trial)
    assert "July 3" in outcome.text
    assert len(read(trial).tables["fruit"]) == 12
    assert FRUIT == 10
