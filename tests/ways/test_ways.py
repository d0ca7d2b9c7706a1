"""Each of the twelve ways, made smaller: no figure stands in the trial that is not true, and nothing waits but what no sheet lets anybody read."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from tests.ways import ALL
from tests.ways.reckoned import Reckoned, brought_in
from tests.ways.truth import KEY, compared, read_truth, write_truth
from tests.ways.way import Made

# By way how much of it is made, and how many answers it takes at most.
SIZES = {
    "w01": (0.3, 8), "w02": (0.2, 28), "w03": (0.34, 21), "w04": (0.25, 6), "w05": (0.2, 12), "w06": (0.6, 16),
    "w07": (0.17, 8), "w08": (0.4, 20), "w09": (0.5, 20), "w10": (0.3, 12), "w11": (0.9, 6), "w12": (0.01, 8),
}  # fmt: skip


@pytest.mark.alike(4)
@pytest.mark.parametrize("name", sorted(SIZES))
def test_what_stands_in_the_trial_is_true(tmp_path: Path, name: str) -> None:
    size, answers = SIZES[name]
    made = ALL[name].made(tmp_path / "sheets", size)
    found = brought_in(ALL[name], made, tmp_path / "sheets", tmp_path / "trial")
    is_true(found, made)
    assert len(found.typed) <= answers, found.asked
    assert compared(_kept(made, tmp_path), tmp_path / "trial").right == found.compared.right > 0


@pytest.mark.slow
def test_ten_years_in_one_file(tmp_path: Path) -> None:
    made = ALL["w12"].made(tmp_path / "sheets")
    is_true(brought_in(ALL["w12"], made, tmp_path / "sheets", tmp_path / "trial"), made)


def test_the_same_sheets_again_need_no_answer_and_change_nothing(tmp_path: Path) -> None:
    made = ALL["w05"].made(tmp_path / "sheets", 0.13)
    brought_in(ALL["w05"], made, tmp_path / "sheets", tmp_path / "trial")
    before = {path.name: path.read_bytes() for path in (tmp_path / "trial").glob("*.csv")}
    again = brought_in(ALL["w05"], made, tmp_path / "sheets", tmp_path / "trial")
    assert not again.typed
    assert {path.name: path.read_bytes() for path in (tmp_path / "trial").glob("*.csv")} == before


def is_true(found: Reckoned, made: Made) -> None:
    cells = found.compared
    assert not sorted((_keys(cells.wrong) | _keys(cells.flagged)) - _keys(made.may_be_wrong))[:9]
    assert not sorted(_keys(cells.waits) - _keys(made.may_wait))[:9]
    assert cells.right + len(cells.wrong) + len(cells.flagged) + len(cells.waits) == len(made.truth)
    assert "not accounted for" not in found.shown


def _keys(table: pd.DataFrame | None) -> set[tuple]:
    return set() if table is None else set(table[KEY].itertuples(index=False, name=None))


def _kept(made: Made, folder: Path) -> pd.DataFrame:
    write_truth(folder / "truth.csv", made.truth)
    return read_truth(folder / "truth.csv")
