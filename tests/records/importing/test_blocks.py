"""Tables found under titles, ten fruit side by side in the ways that people set them, and read as what they are."""

from __future__ import annotations

import numpy as np
import pytest
import xlsxwriter

from dashboard.records.importing.blocks import blocks
from dashboard.records.importing.pages import Page
from tests.records.importing.season import FRUIT, READINGS, came_in, is_true, season
from tests.records.importing.test_twelve_ways import GROUPS, csv_file, figures, wide


def page(*rows: list[str], merged=()) -> Page:
    width = max(map(len, rows))
    cells = np.array([[*row, *[""] * (width - len(row))] for row in rows], dtype=object)
    return Page("a.xlsx", "one", cells, np.arange(1, len(rows) + 1), merged)


def test_headings_are_found_under_titles_and_the_titles_kept():
    found = blocks(
        page(
            ["Trial block"],
            ["Week 27", "", "2016"],
            [],
            ["Variety", "Date", "Brix"],
            ["Alvane", "2016-07-05", "11"],
        )
    )
    assert len(found) == 1
    assert found[0].shape == ("Variety", "Date", "Brix")
    assert [key for key, _, _ in found[0].titles] == ["A, 3 above", "A, 2 above", "C, 2 above"]
    assert found[0].rows.tolist() == [4]


@pytest.mark.parametrize(
    ("above", "head", "shape"),
    [
        (["", "Suture", "", "", "Brix"], ["Variety", "F1", "F2", "F3", "F1", "F2", "F3"], ("Variety", "Suture 1–3", "Brix 1–3")),
        (["", "", "Suture", "", "", "Brix"], ["Variety", "1", "2", "3", "1", "2", "3"], ("Variety", "Suture 1–3", "Brix 1–3")),
        ([], ["Variety", "Suture 1", "Suture 2", "Suture 3", "Brix F1", "Brix F2", "Brix F3"], ("Variety", "Suture 1–3", "Brix 1–3")),
        ([], ["Variety", "F1 Suture", "F1 Brix", "F2 Suture", "F2 Brix", "F3 Suture", "F3 Brix"], ("Variety", "Suture 1–3", "Brix 1–3")),
        (["", "F1", "", "F2", "", "F3"], ["Variety", "Suture", "Brix", "Suture", "Brix", "Suture", "Brix"], ("Variety", "Suture 1–3", "Brix 1–3")),
        ([], ["Variety", "Firmness 1", "Firmness 2", "Brix"], ("Variety", "Firmness 1", "Firmness 2", "Brix")),
        ([], ["Variety", "Brix", "Note", "Brix"], ("Variety", "Brix (B)", "Note", "Brix (D)")),
    ],
)  # fmt: skip
def test_fruit_side_by_side_are_one_heading(above, head, shape):
    rows = [head, ["Alvane", *["12"] * (len(head) - 1)]]
    found = blocks(page(*([above] if above else []), *rows))
    assert found[0].shape == shape


def test_a_row_of_figures_is_no_heading_whatever_words_stand_in_it():
    row = ["Alvane", "red", "color", "11.5"]
    found = blocks(page(["Variety", "Flesh", "Note", "Brix"], row, row))
    assert [block.rows.tolist() for block in found] == [[1, 2]]


def test_headings_written_anew_go_on_with_the_block_and_another_table_is_its_own():
    head, row = ["Variety", "Date", "Brix"], ["Alvane", "2016-07-05", "11"]
    found = blocks(
        page(head, row, head, row, [], ["High block"], ["Variety", "Site", "Red"], ["Brintel", "High", "7"])
    )
    assert [block.shape for block in found] == [tuple(head), ("Variety", "Site", "Red")]
    assert [block.rows.tolist() for block in found] == [[1, 3], [7]]
    assert [len(block.again) for block in found] == [3, 0]
    assert [key for key, _, _ in found[1].titles] == ["A, 1 above"]


def test_five_readings_below_each_other_and_a_merged_name_beside_them(tmp_path):
    samples = season(2)
    words = ("Sut", "Equator", "Press 1", "Press 2", "Brix")
    with xlsxwriter.Workbook(tmp_path / "a.xlsx") as book:
        sheet = book.add_worksheet("all")
        sheet.write_row(0, 0, ["Variety", "Date", "Reading", *range(1, FRUIT + 1)])
        line = 1
        for sample in samples:
            sheet.merge_range(line, 0, line + 4, 0, sample.cultivar)
            sheet.write(line, 1, sample.day.isoformat())
            for word, row in zip(words, figures(sample), strict=True):
                sheet.write_row(line, 2, [word, *row])
                line += 1
    answers = {
        ("Date", "empty"): "as above", "site": "Low", ("Sut", "unit"): "in", ("Equator", "unit"): "in",
        ("Press 1", "unit"): "lbf", ("Press 2", "unit"): "lbf",
    }  # fmt: skip
    outcome, replies = came_in([tmp_path / "a.xlsx"], tmp_path / "trial", answers)
    assert {question.path[-2] for question in replies.asked if question.path[2:3] == ("readings",)} == set(
        words
    )
    assert outcome.code == 0
    is_true(tmp_path / "trial", samples)


def test_every_fruit_with_its_readings_below_it(tmp_path):
    samples = season(1)
    with xlsxwriter.Workbook(tmp_path / "a.xlsx") as book:
        sheet = book.add_worksheet("July 5 2016")
        for number in range(FRUIT):
            sheet.merge_range(0, 1 + 5 * number, 0, 5 + 5 * number, f"Fruit {number + 1}")
        sheet.write_row(1, 0, ["Variety", *GROUPS * FRUIT])
        for line, sample in enumerate(samples, 2):
            sheet.write_row(line, 0, [sample.cultivar, *np.array(figures(sample)).T.ravel().tolist()])
    outcome, _ = came_in([tmp_path / "a.xlsx"], tmp_path / "trial", {"site": "Low", "date": "sheet name"})
    assert outcome.code == 0
    is_true(tmp_path / "trial", samples)
    assert len(READINGS) == len(GROUPS)


def test_one_figure_beside_ten_fruit_is_not_of_the_first_fruit(tmp_path):
    samples = season(1)
    head = ["Variety", "Date", *[f"Suture {n} (in)" for n in range(1, FRUIT + 1)], "Brix"]
    head = ["Variety", "Date", *[f"Suture F{n}" for n in range(1, FRUIT + 1)], "Brix"]
    rows = [[s.cultivar, s.day.isoformat(), *wide(s)[2:12], 11.5] for s in samples]
    answers = {("Suture 1–10", "unit"): "in", "site": "Low", ("Brix", "is"): "mean sugar", "fruit measured": "not known"}  # fmt: skip
    outcome, replies = came_in([csv_file(tmp_path / "a.csv", head, rows)], tmp_path / "trial", answers)
    asked = next(question for question in replies.asked if question.path[-2:] == ("Brix", "is"))
    assert asked.offer == ""
    assert "ssc" not in asked.options
    assert outcome.counts["aside"] == 5  # a mean whose fruit were not counted cannot be weighed


@pytest.mark.parametrize("between", [[], [[]]])
def test_each_of_several_tables_on_a_page_has_its_title_and_its_captions(between):
    def table(day, name):
        return [[f"Picked {day}"], ["", "Suture", "", "", "Brix"], ["Variety", "F1", "F2", "F3", "F1", "F2", "F3"], [name, *["12"] * 6]]  # fmt: skip

    found = blocks(page(*table("7/5/2016", "Alvane"), *between, *table("7/12/2016", "Brintel")))
    assert [block.shape for block in found] == [("Variety", "Suture 1–3", "Brix 1–3")] * 2
    assert [block.page.cells[block.titles[0][1], 0] for block in found] == [
        "Picked 7/5/2016",
        "Picked 7/12/2016",
    ]
    assert [block.page.cells[block.rows, 0].tolist() for block in found] == [["Alvane"], ["Brintel"]]


def test_captions_written_anew_with_the_headings_are_no_row_of_figures(tmp_path):
    samples = season(1)
    with xlsxwriter.Workbook(tmp_path / "a.xlsx") as book:
        sheet, line = book.add_worksheet("July 5 2016"), 0
        for some in (samples[:2], samples[2:]):
            for place, group in enumerate(GROUPS):
                sheet.write(line, 1 + FRUIT * place, group)
            sheet.write_row(line + 1, 0, ["Variety", *[f"F{number}" for number in range(1, FRUIT + 1)] * 5])
            for sample in some:
                sheet.write_row(line + 2, 0, [sample.cultivar, *np.concatenate(figures(sample))])
                line += 1
            line += 2
    outcome, _ = came_in([tmp_path / "a.xlsx"], tmp_path / "trial", {"date": "sheet name", "site": "Low"})
    assert outcome.code == 0
    is_true(tmp_path / "trial", samples)
