"""Each of the twelve ways, made smaller: no figure stands in the trial that is not true, and nothing waits but what no sheet lets anybody read."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.ways import ALL
from tests.ways.reckoned import brought_in
from tests.ways.truth import KEY, compared, read_truth, write_truth

SIZES = {"w01": 0.3, "w02": 0.2, "w03": 0.34, "w04": 0.25, "w05": 0.2, "w06": 0.6, "w07": 0.17, "w08": 0.4, "w09": 0.5, "w10": 0.3, "w11": 0.9, "w12": 0.01}  # fmt: skip


@pytest.mark.parametrize("name", sorted(ALL))
def test_what_stands_in_the_trial_is_true(tmp_path: Path, name: str) -> None:
    made = ALL[name].made(tmp_path / "sheets", SIZES[name])
    found = brought_in(ALL[name], made, tmp_path / "sheets", tmp_path / "trial")
    cells = found.compared
    assert not sorted((keys(cells.wrong) | keys(cells.flagged)) - keys(made.may_be_wrong))[:9]
    assert not sorted(keys(cells.waits) - keys(made.may_wait))[:9]
    assert cells.right + len(cells.wrong) + len(cells.flagged) + len(cells.waits) == len(made.truth)
    assert "not accounted for" not in found.shown
    write_truth(tmp_path / "truth.csv", made.truth)
    assert compared(read_truth(tmp_path / "truth.csv"), tmp_path / "trial").right == cells.right > 0


def keys(table) -> set[tuple]:
    return set() if table is None else set(table[KEY].itertuples(index=False, name=None))
