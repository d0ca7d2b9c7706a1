"""Headings in two rows, columns without one, answers that hold for more than one sheet, and answers that cannot be."""

from __future__ import annotations

import builtins

import pytest
import xlsxwriter

from dashboard.records.importing.blocks import blocks
from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.mapping import Question
from dashboard.records.importing.pages import opened
from dashboard.records.importing.terminal import asked
from dashboard.records.importing.together import singly
from tests.records.importing.season import Replies, came_in, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows

DAYS = ("7/5/16", "7/12/16", "7/19/16")


def two_rows(path, remark: str = "", color: str = "Color"):
    """A sheet a week, captions over the headings; one sheet has a remark above, one another word for a rating."""
    with xlsxwriter.Workbook(path) as book:
        for week, day in enumerate(DAYS):
            sheet = book.add_worksheet(f"wk {week}")
            start = 4 if week == 1 and remark else 3
            sheet.write_row(0, 0, ["North block"])
            sheet.write_row(1, 0, ["Picked:", day])
            if start == 4:
                sheet.write(2, 0, remark)
            sheet.write_row(start, 0, ["Variety", "Tree", ""])
            sheet.merge_range(start, 3, start, 5, "Fruit")
            sheet.merge_range(start, 6, start, 7, "Ratings")
            sheet.write(start, 8, "Remarks")
            sheet.write_row(start + 1, 3, [1, 2, 3, "Shape", color if week == 2 else "Color"])
            for line, (name, tree, reading, *figures) in enumerate([("Alvane", "9-1", "Suture", 61, 62, 63, 7, 8), ("", "", "Brix", 11, 12, 13), ("Zorvan", "2-2", "Suture", 51, 52, 53, 5, 6)]):  # fmt: skip
                sheet.write_row(start + 2 + line, 0, [name, tree, reading, *figures])
    return path


ANSWERS = {
    ("Tree", "is"): "not used", "empty": "as above", "unit": "mm", "scale": "0 to 10, 10 best", "order": "month/day", "century": "20",
    "site": "Low", ("Colour", "is"): "red",
}  # fmt: skip


def test_headings_in_two_rows_are_one_table(tmp_path):
    page = opened([two_rows(tmp_path / "a.xlsx")], {}).pages[0]
    (block,) = blocks(page)
    assert block.shape == ("Variety", "Tree", "column C", "Fruit 1–3", "Shape", "Color", "Remarks")
    assert [key for key, _, _ in block.titles] == ["A, 4 above", "A, 3 above", "B, 3 above"]
    assert len(block.rows) == 3
    assert not block.strays


def test_a_title_directly_above_the_headings_stays_a_title(tmp_path):
    file = csv_file(
        tmp_path / "a.csv", ["Picked 7/5/16"], [["Variety", "Shape", "Red"], ["Alvane", "7", "8"]]
    )
    (block,) = blocks(opened([file], {}).pages[0])
    assert (block.shape, block.titles) == (("Variety", "Shape", "Red"), (("A, 1 above", 0, 0),))


def test_what_is_said_of_a_heading_holds_in_the_whole_file(tmp_path):
    """One sheet says Colour and one has a remark above: neither is asked about anew, but for a scale: it may be another on each sheet."""
    outcome, one = came_in([two_rows(tmp_path / "a.xlsx")], tmp_path / "one", ANSWERS)
    assert (outcome.code, outcome.counts["aside"]) == (0, 0)
    file = two_rows(tmp_path / "b.xlsx", "rain, 1.4 in. of it", "Colour")
    outcome, other = came_in([file], tmp_path / "other", ANSWERS)
    assert (outcome.code, outcome.counts["aside"]) == (0, 0)
    known = {question.path for question in one.asked}
    more = [question.path[3:] for question in other.asked if question.path not in known]
    assert {*more} == {("Colour", "is"), ("A, 3 above too", "is"), ("Shape", "scale"), ("Colour", "scale")}
    assert len(more) == 4
    assert any(
        question.about.startswith("column B, three rows above the headings, ") for question in other.asked
    )


def test_figures_without_a_word_for_them_are_not_read_as_the_row_says(tmp_path):
    file = csv_file(tmp_path / "a.csv", ("Cultivar", "Site", "Date", 1, 2, 3), [["Alvane", "Low", "2016-07-05", 61, 62, 63]])  # fmt: skip
    said = iter(["as the row says", "suture"])
    asked: list[Question] = []

    def answer(question: Question) -> str:
        asked.append(question)
        return next(said) if question.path[-1] == "is" else question.offer or {"unit": "mm", "tip_mm": "8"}.get(str(question.path[-1]), "yes")  # fmt: skip

    assert bring_in([file], tmp_path / "trial", ask=singly(answer)).counts["aside"] == 0
    again = [one for one in asked if one.path[-1] == "is"]
    assert "no column of these rows is “which reading”" in again[1].shown[-1]


def test_two_columns_cannot_be_the_same(tmp_path, monkeypatch, capsys):
    file = csv_file(tmp_path / "a.csv", (*LONG[:6], "P1", "P2", "Brix"), long_rows(season(1)))
    typed = iter(["firmness 1", "firmness 2"])
    monkeypatch.setattr(builtins, "input", lambda _: next(typed))
    plain = Replies({"unit": "n", "tip_mm": "8", "temperature_compensated": "yes"})
    outcome = bring_in([file], tmp_path / "trial", ask=singly(lambda one: asked(one) if one.path[-2:] == ("P2", "is") else plain(one)))  # fmt: skip
    assert outcome.code == 0
    assert "“P1” is firmness 1 already; say “not used” for one of the two, or what else it is." in capsys.readouterr().out  # fmt: skip


@pytest.mark.parametrize(("lines", "said"), [(["june"], "June"), (["?", "JULY"], "July")])
def test_letters_do_not_matter_and_a_question_mark_tells_more(monkeypatch, capsys, lines, said):
    left = iter(lines)
    monkeypatch.setattr(builtins, "input", lambda _: next(left))
    assert asked(Question(("months", "juin"), "which month is “juin”?", ("June", "July"))) == said
    assert ("Enter takes what stands in brackets" in capsys.readouterr().out) == ("?" in lines)
