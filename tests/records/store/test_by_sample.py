"""Fruit are gathered by their samples, in however many pieces a file is gone through."""

from __future__ import annotations

import random

import pytest

from dashboard.records.store import swift, whole_columns

HEAD = "sample,fruit,suture_mm,cross_mm\n"


def lines(apart: bool, seed: int) -> list[str]:
    """A few hundred fruit of samples of one to forty; every tenth sample has a number twice, every ninth a cell that is no reading."""
    chance = random.Random(seed)
    found = []
    for sample in range(60):
        numbers = list(range(1, chance.choice([2, 5, 41])))
        numbers += [numbers[0]] if sample % 10 == 3 else []
        cells = [f"{chance.uniform(55, 75):.{chance.choice([1, 9])}f}" for _ in numbers]
        cells[-1] = "soft" if sample % 9 == 4 else cells[-1]
        found += [f"S{sample:03d},{number},{cell},61\n" for number, cell in zip(numbers, cells, strict=True)]
    if apart:
        chance.shuffle(found)
    return found


@pytest.mark.alike(4)
@pytest.mark.parametrize("piece", [1, 100, 1_000, 1 << 20])
@pytest.mark.parametrize("apart", [False, True])
@pytest.mark.parametrize("quoted", [False, True])
def test_each_sample_has_its_lines_wherever_the_file_is_cut(monkeypatch, apart, quoted, piece):
    monkeypatch.setattr(whole_columns, "PIECE", piece)
    rows = lines(apart, 7)
    by_name: dict[str, list[str]] = {}
    for row in rows:
        by_name.setdefault(row.split(",")[0], []).append(row)
    text = "".join([f'"{row[:4]}"{row[4:]}' for row in rows] if quoted else rows)
    plain = swift.plain(f"{HEAD}{text}".encode(), "fruit.csv")
    assert list(plain.names) == list(by_name)
    assert [plain.cells(place) for place in range(len(by_name))] == [
        "".join(mine) for mine in by_name.values()
    ]
    assert plain.counts.tolist() == [len(mine) for mine in by_name.values()]
    assert [rows[number - 2] for number in plain.rows] == [row for mine in by_name.values() for row in mine]
    odd = {name for name in by_name if int(name[1:]) % 10 == 3 or int(name[1:]) % 9 == 4}
    assert {name for name, one in zip(plain.names, plain.odd, strict=True) if one} == odd
    sheet = plain._sheet([1, 5])
    assert [rows[number - 2].split(",")[1] for number in sheet.rows] == sheet.cells[1].tolist()


def test_a_number_twice_is_seen_where_a_piece_ends_between(monkeypatch):
    """In three pieces, too: the sample is all of the middle one."""
    monkeypatch.setattr(whole_columns, "PIECE", 1)
    for numbers, odd in (((1, 2, 1), True), ((1, 2, 3), False), ((3, 1, 3, 2), True)):
        rows = "".join(f"S1,{number},60,61\n" for number in numbers)
        plain = swift.plain(f"{HEAD}{rows}S2,1,60,61\n".encode(), "fruit.csv")
        assert plain.odd.tolist() == [odd, False]
        assert plain.counts.tolist() == [len(numbers), 1]
