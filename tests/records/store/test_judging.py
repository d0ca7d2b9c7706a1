"""A cell is judged once and found again; cells that would lie in one slot are not taken for each other."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.records.store.judging import Judge, _slots, columns_of
from dashboard.records.store.whole_columns import NotPlainError

HEADINGS = ("sample", "fruit", "suture_mm")


def looked_at(judge: Judge, cells: list[tuple[str, str]]):
    raw = "".join(f"S1,{number},{cell}\n" for number, cell in cells).encode()
    return judge.piece(raw, slice(0, len(raw)))


def test_what_is_said_of_a_cell_holds_when_it_stands_again():
    judge, cells = (
        Judge(HEADINGS),
        [("1", "60.5"), ("2", ""), ("3", "soft"), ("4", "34"), ("5", "-"), ("", "60.5")],
    )
    for _ in range(2):
        piece = looked_at(judge, [*cells, *cells])
        assert piece.odd.tolist() == 2 * [False, False, True, True, False, True]
        assert piece.numbers[:5].tolist() == [1, 2, 3, 4, 5]


def test_cells_of_one_slot_keep_their_numbers():
    numbers = [str(number) for number in range(1, 10_000)]
    words = np.array([int.from_bytes(number.encode(), "little") for number in numbers], dtype=np.uint64)
    slots, count = np.unique(_slots(words), return_counts=True)
    shared = set(slots[count > 1].tolist())
    alike = [number for number, slot in zip(numbers, _slots(words).tolist(), strict=True) if slot in shared]
    assert len(alike) > 20  # or the test shows nothing
    judge = Judge(HEADINGS)
    for some in (alike, alike[::-1], numbers):
        piece = looked_at(judge, [(number, "60.5") for number in some])
        assert piece.numbers.tolist() == [int(number) for number in some]
        assert not piece.odd.any()


def test_a_long_cell_is_told_from_one_that_begins_alike():
    cells = ["60.123456789", "60.1234567890", "60.12345", "60.1234x6789", "60.123456789"]
    piece = looked_at(Judge(HEADINGS), [(str(number), cell) for number, cell in enumerate(cells, 1)])
    assert piece.odd.tolist() == [False, False, False, True, False]


@pytest.mark.parametrize(
    "headings",
    [("sample", "fruit", "color"), ("sample", "suture_mm"), ("sample", "fruit", "suture_mm", "suture_in")],
)
def test_other_headings_go_the_ordinary_way(headings):
    with pytest.raises(NotPlainError):
        columns_of(headings)
