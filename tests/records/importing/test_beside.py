"""Two tables side by side on one sheet are read each by itself; a name written again so that a wide sheet can be read parts nothing."""

from __future__ import annotations

import numpy as np
import xlsxwriter

from dashboard.records.importing.beside import parted
from dashboard.records.importing.pages import Page
from tests.records.importing.season import came_in, is_true, season

HEAD = ("Variety", "Red", "Shape", "Variety", "Brix", "Fuzz")


def page(*names: tuple[str, str], head: tuple[str, ...] = HEAD) -> Page:
    cells = np.array([head, *((left, "3", "4", right, "12", "5") for left, right in names)], dtype=object)
    return Page("a.xlsx", "July", cells, np.arange(1, len(cells) + 1))


def test_other_names_part_a_sheet_and_the_same_names_do_not():
    twice = page(("Alvane", "Brintel"), ("Brintel", "Alvane"))
    parts, cells = parted([twice, twice], [(1, 2, 4), (1, 1, 0), (0, 1, 2)])
    assert [part.name for part in parts] == [
        "a.xlsx: July, columns A to C",
        "a.xlsx: July, columns D to F",
    ] * 2
    assert [list(part.cells[1]) for part in parts[:2]] == [["Alvane", "3", "4", "", "", ""], ["", "", "", "Brintel", "12", "5"]]  # fmt: skip
    assert sorted(cells) == [(0, 1, 2), (2, 1, 0), (3, 2, 4)]
    again = page(("Alvane", "alvane"), ("Brintel", "Brintell"), ("Corvale", "Corvale"))
    assert parted([again], [])[0] == [again]


def test_the_same_headings_again_part_a_sheet_whatever_the_names():
    """Two sites side by side, the same names in the same order: of one fruit nothing is read twice."""
    twice = page(("Alvane", "Alvane"), ("Brintel", "Brintel"), head=(*HEAD[:3], *HEAD[:3]))
    assert [part.part for part in parted([twice], [])[0]] == ["columns A to C", "columns D to F"]


def test_a_last_column_of_names_or_of_tasters_parts_nothing():
    last = page(("Alvane", "Brintel"), ("Brintel", "Alvane"), head=(*HEAD[:3], "", "", "Variety"))
    assert parted([last], [])[0] == [last]
    tasters = page(("Alvane", "Ann"), ("Brintel", "Bob"), head=("Variety", *HEAD[1:3], "Name", *HEAD[4:]))
    assert parted([tasters], [])[0] == [tasters]


def test_the_figures_of_the_right_table_stand_under_its_own_names(tmp_path):
    samples = season(1)
    with xlsxwriter.Workbook(tmp_path / "book.xlsx") as book:
        sheet = book.add_worksheet("July 5 2016")
        for first, groups in ((0, ("Suture (mm)", "Cross (mm)")), (22, ("P1 (N)", "P2 (N)", "Brix"))):
            sheet.write(1, first, "Variety")
            for place, group in enumerate(groups):
                sheet.write(0, first + 1 + 10 * place, group)
                sheet.write_row(1, first + 1 + 10 * place, range(1, 11))
        for line, (left, right) in enumerate(zip(samples, samples[::-1], strict=True), 2):
            sheet.write_row(line, 0, [left.cultivar, *left.si[:, :2].T.ravel()])
            sheet.write_row(line, 22, [right.cultivar, *right.si[:, 2:].T.ravel()])
    outcome, _ = came_in([tmp_path / "book.xlsx"], tmp_path / "trial", {"date": "sheet name", "site": "Low"})
    assert outcome.code == 0
    is_true(tmp_path / "trial", samples)
