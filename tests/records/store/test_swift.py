"""Fruit that are checked as whole columns come in as those that are looked at one by one."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dashboard.records.checking import checked
from dashboard.records.comma_files import sheet_in
from dashboard.records.declaration import Declaration
from dashboard.records.findings import Findings
from dashboard.records.keys import once
from dashboard.records.store import bringing, swift, whole_columns
from dashboard.records.store.kept import source_of
from tests.records.small import tables, write_folder

# What a cell of a plain file may hold, and what makes a file or a row no plain one.
CELLS = st.sampled_from(
    [
        "",
        "60.5",
        "061",
        "6e1",
        "-",
        "NA",
        "na",
        "nan",
        "NaN",
        "True",
        "inf",
        "1e400",
        "1_0",
        "0x1F",
        "200",
        "34",
        "-5",
        "sixty",
        " 60",
        "6 0",
        "١",
    ]
)
NUMBERS = st.sampled_from(["1", "2", "3", "1", "02", "1.0", "1.5", "0", "", "10000"])
NAMES = st.sampled_from(["S1", "S2", "S3", "S 4", "S  4", "", "'=S", "é"])


@settings(max_examples=200)
@given(
    st.lists(st.tuples(NAMES, NUMBERS, CELLS, CELLS), min_size=1, max_size=5),
    st.sampled_from(["\n", "\r\n"]),
    st.sampled_from(["", "nothing", "all"]),
    st.sampled_from([1, 30, whole_columns.PIECE]),
)
def test_no_row_is_taken_for_plain_that_the_ordinary_way_would_say_anything_of(rows, end, quoted, piece):
    lines = ["sample,fruit,suture_mm,cross_in", *(",".join(row) for row in rows)]
    raw = end.join(lines).encode() + end.encode()
    if quoted == "nothing":
        raw = raw.replace(b",,", b',"",')
    elif quoted:
        raw = end.join(",".join(f'"{cell}"' for cell in line.split(",")) for line in lines).encode()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(whole_columns, "PIECE", piece)
        plain = swift.plain(raw, "fruit.csv")
    if plain is None:
        return
    sheet, said = sheet_in(raw, "fruit.csv", "fruit")
    assert not said
    findings = Findings(sheet)
    frame = once(checked(sheet, Declaration(), findings), "fruit", findings)
    odd = {problem.row for problem in findings.problems}
    good = set(frame.index)
    at = {row: place for place, row in enumerate(sheet.rows)}
    for place, (name, lines, count) in enumerate(block for bale in plain.bales(2) for block in bale.blocks()):
        mine = plain.rows[plain.firsts[place] :][:count].tolist()
        if not plain.odd[place]:
            assert not odd.intersection(mine)
            assert good.issuperset(mine)
            assert set(frame.loc[mine, "sample"]) == {name}
            cells = [line.split(",") for line in lines.split("\n")[:-1]]
            assert cells == [[column[at[row]] for column in sheet.cells] for row in mine]


def test_most_fruit_go_the_swift_way_and_the_store_is_the_same(tmp_path, monkeypatch):
    grids = tables()
    grids["fruit"][5][2] = "34"  # told: unusually low
    folder = write_folder(tmp_path / "in", grids)
    said = bringing.bring(tmp_path / "swift.store", folder, "Ada")
    plain = swift.plain((folder / "fruit.csv").read_bytes(), "fruit.csv")
    assert plain is not None
    assert plain.odd.tolist() == [False, True, False, False]
    monkeypatch.setattr(swift, "plain", lambda *_: None)
    other = bringing.bring(tmp_path / "other.store", folder, "Ada")
    assert [one.sentence for one in said.problems] == [one.sentence for one in other.problems]
    assert sorted(rows(tmp_path / "swift.store")) == sorted(rows(tmp_path / "other.store"))


HEAD, ROWS = "sample,fruit,suture_mm", ["S1,1,60.5", "S1,2,", "S2,1,61", "S2,2,62"]


@pytest.mark.parametrize(
    ("lines", "odd"),
    [
        ([HEAD, *ROWS, ""], []),
        (['"sample","fruit","suture_mm"', *(f'"{row[:2]}"{row[2:]}' for row in ROWS)], []),
        ([HEAD, ROWS[0], ROWS[2], ROWS[1], ROWS[3]], []),  # the fruit of a sample apart
        ([HEAD, *ROWS[:3], "S2,2,sixty"], ["S2"]),
        ([HEAD, *ROWS, ",,"], [""]),  # no row at all
        ([HEAD, *ROWS, "S2,2,63"], ["S2"]),
    ],
)
def test_what_programs_write_is_plain_and_its_text_is_kept_bare(lines, odd):
    plain = swift.plain("\r\n".join(lines).encode(), "fruit.csv")
    assert plain is not None
    assert [name for name, one in zip(plain.names, plain.odd, strict=True) if one] == odd
    (bale,) = plain.bales(9)
    kept = [row for _, cells, _ in bale.blocks() for row in cells.split("\n")[:-1]]
    assert kept[:3] == ROWS[:3]
    assert [lines[row - 1].replace('"', "") for row in plain.rows] == kept


@pytest.mark.parametrize("last", [True, False])
@pytest.mark.parametrize(
    "cell", ['"6,1"', '"6\nS2,2,61"', '"6""1"', '6"1', '"6" ', ' "6"', '"61', "6;1", "6,1"]
)
def test_a_cell_that_holds_more_than_its_text_is_not_plain(cell, last):
    """Neither in the last line, which may have no end."""
    raw = f"{HEAD}\nS2,1,60\nS1,1,{cell}" if last else f"{HEAD}\nS1,1,{cell}\nS2,1,60\n"
    assert swift.plain(raw.encode(), "fruit.csv") is None


def test_a_name_that_no_name_is_as_long_as_goes_the_ordinary_way():
    for length, plain in ((80, True), (81, False)):
        assert (swift.plain(f"{HEAD}\n{'S' * length},1,60\n".encode(), "fruit.csv") is not None) == plain


@pytest.mark.parametrize("end", ["\n\n", "\r\n\r\n", ""])
def test_empty_lines_below_all_others_are_none_and_one_between_is_not_plain(end):
    assert swift.plain(f"{HEAD}\nS1,1,60{end}".encode(), "fruit.csv").counts.tolist() == [1]
    assert swift.plain(f"{HEAD}\nS1,1,60\n\nS1,2,60{end}".encode(), "fruit.csv") is None


def rows(store: Path) -> list[tuple[str, ...]]:
    return list(zip(*source_of(store).sheets["fruit"].cells, strict=True))
