"""Sheets that mix what the twelve ways of ``tests.ways`` keep apart: no figure stands in the trial that was not measured."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
import xlsxwriter

from dashboard.records import read
from dashboard.records.importing.rows import fruit_number
from dashboard.terms.units import MM_PER_INCH
from tests.records.importing.season import FRUIT, Sample, came_in, held, is_true, season
from tests.ways.sheets import HEAD as LONG
from tests.ways.sheets import text_file as csv_file

GROUPS = ("Suture (in)", "Cross (in)", "Firmness 1 (lb)", "Firmness 2 (lb)", "Brix")


def figures(sample: Sample) -> list[list[object]]:
    """Ten figures a reading, in inches, pounds and degrees."""
    return [*(sample.eighths.T / 8).tolist(), *sample.pounds.T.tolist(), sample.brix.tolist()]


def week_sheet(
    sheet: xlsxwriter.workbook.Worksheet, rows: list[list[object]], titles: list[str], merge=True
) -> int:
    """Titles, groups over F1 … F10, and a row a sample: name, rating, fifty figures. Gives back the row below."""
    for line, title in enumerate(titles):
        sheet.merge_range(line, 0, line, 8, title) if merge else sheet.write(line, 0, title)
    top = len(titles) + 1
    for place, group in enumerate(GROUPS):
        first = 2 + FRUIT * place
        sheet.merge_range(top, first, top, first + FRUIT - 1, group) if merge else sheet.write(
            top, first, group
        )
    sheet.write_row(top + 1, 0, ["Variety", "Red", *[f"F{number}" for number in range(1, FRUIT + 1)] * 5])
    for line, row in enumerate(rows, top + 2):
        sheet.write_row(line, 0, row)
    return top + 2 + len(rows)


def wide(sample: Sample, name: str | None = None) -> list[object]:
    return [name or sample.cultivar, sample.ratings["red"], *np.concatenate(figures(sample)).tolist()]


def by_week(samples: list[Sample]) -> dict[date, list[Sample]]:
    weeks: dict[date, list[Sample]] = {}
    for sample in samples:
        weeks.setdefault(sample.day, []).append(sample)
    return weeks


def long_rows(samples: list[Sample], day=lambda day: day.isoformat()) -> list[list[object]]:
    """A row a fruit, in SI."""
    return [
        [sample.cultivar, sample.site, day(sample.day), number, *sample.si[number - 1].tolist()]
        for sample in samples for number in range(1, FRUIT + 1)
    ]  # fmt: skip


def test_3_date_cells_of_another_country_are_asked_about_by_file(tmp_path):
    """3/7 typed where the month stands first has become March 7; 25/7 has stayed text. A text like 2016-07-05 says its day itself."""
    samples = season(4, year=2016)  # July 5, 12, 19 and 26
    with xlsxwriter.Workbook(tmp_path / "book.xlsx") as book:
        sheet, form = book.add_worksheet("all"), book.add_format({"num_format": "d/m/yyyy"})
        sheet.write_row(0, 0, LONG)
        for line, row in enumerate(long_rows(samples, lambda day: day), 1):
            day = row[2]
            sheet.write_row(line, 0, row[:2])
            if day.day <= 12 and line % 3:
                sheet.write_datetime(line, 2, date(day.year, day.day, day.month), form)
            else:
                sheet.write_string(
                    line, 2, day.isoformat() if day.day <= 12 else f"{day.day}/{day.month}/{day.year}"
                )
            sheet.write_row(line, 3, row[3:])
    more = season(4, year=2017)
    with xlsxwriter.Workbook(tmp_path / "right.xlsx") as book:
        sheet, form = book.add_worksheet("all"), book.add_format({"num_format": "d/m/yyyy"})
        sheet.write_row(0, 0, LONG)
        for line, row in enumerate(long_rows(more, lambda day: day), 1):
            sheet.write_row(line, 0, [*row[:2], "", *row[3:]])
            if row[2].day <= 12:
                sheet.write_datetime(line, 2, row[2], form)
            else:
                sheet.write_string(line, 2, f"{row[2].day}/{row[2].month}/{row[2].year}")
    text = season(4, year=2018)  # of a text file no cell holds a date
    third = csv_file(tmp_path / "text.csv", LONG, long_rows(text, lambda day: day.isoformat() if day.day <= 12 else f"{day.day}/{day.month}/{day.year}"))  # fmt: skip
    answers = {"order": "day/month", "book.xlsx": "day and month exchanged", "right.xlsx": "right"}
    _, replies = came_in([tmp_path / "book.xlsx", tmp_path / "right.xlsx", third], tmp_path / "trial", answers)  # fmt: skip
    assert [question.path[-1] for question in replies.asked if "date_cells" in question.path] == ["book.xlsx", "right.xlsx"]  # fmt: skip
    first = next(question for question in replies.asked if "date_cells" in question.path)
    assert first.shown[0] == "  “2016-05-07” → right: 2016-05-07; day and month exchanged: 2016-07-05"  # fmt: skip
    is_true(tmp_path / "trial", [*samples, *more, *text])


def test_6_codes(tmp_path):
    samples = season(1, sites=("Low", "High"))
    codes = {"Low": "L1", "High": "H2"}
    flesh = {"Alvane": "Y", "Brintel": "W", "Corvale": "Y", "T 12-034": "W", "Dusk Marrow": "r"}
    head = [*LONG, "Flesh", "Split pit"]
    rows = [[row[0], codes[row[1]], *row[2:], flesh[row[0]], 0] for row in long_rows(samples)]
    rows[3][4], rows[14][8], rows[25][6], rows[36][7] = "n/a", "-", "x", 0
    answers = {
        "n/a": "nothing", "-": "nothing", "x": "aside", ("Firmness 2 (N)", "zero"): "nothing", ("Split pit", "zero"): "a reading",
        "Y": "yellow", "W": "white", "r": "red", "L1": "Low", "H2": "High",
    }  # fmt: skip
    head_answers = {("Flesh", "is"): "flesh color"}
    outcome, replies = came_in(
        [csv_file(tmp_path / "a.csv", head, rows)], tmp_path / "trial", answers | head_answers
    )
    assert {"n/a", "-", "x", "zero", "Y", "W", "r"} <= replies.kinds
    assert outcome.counts["aside"] == 1
    gone = {(samples[0].key, 4, 0), (samples[1].key, 5, 4), (samples[2].key, 6, 2), (samples[3].key, 7, 3)}
    is_true(tmp_path / "trial", [*samples], frozenset(gone))
    records = read(tmp_path / "trial")
    assert records.tables["cultivars"].set_index("cultivar")["flesh_colour"].to_dict() == {
        name: {"Y": "yellow", "W": "white", "r": "red"}[code] for name, code in flesh.items()
    }
    assert (records.tables["samples"]["split_pit_pct"] == 0).all()


def test_11_two_samples_of_one_day_are_not_mixed(tmp_path):
    samples = season(1) + season(1, seed=2)
    rows = [wide(sample) for sample in samples]
    with xlsxwriter.Workbook(tmp_path / "book.xlsx") as book:
        week_sheet(book.add_worksheet("Week 27"), rows, ["Picked July 5, 2016"])
    outcome, _ = came_in(
        [tmp_path / "book.xlsx"], tmp_path / "trial", {"scale": "0 to 10, 10 best", "site": "Low"}
    )
    assert outcome.counts["aside"] >= 5 * 50
    assert len({problem.rule for problem in outcome.problems if "another sample" in problem.rule}) == 5
    is_true(tmp_path / "trial", samples[:5])


def test_metric_and_inch_sheets_of_one_trial_stand_in_one_column(tmp_path):
    samples = season(2)
    rows = [
        [s.cultivar, s.site, s.day.isoformat(), n, *(s.eighths[n - 1] / 8), *s.pounds[n - 1], s.brix[n - 1]]
        for s in samples[5:] for n in range(1, FRUIT + 1)
    ]  # fmt: skip
    inches = [*LONG[:4], "Suture (in)", "Cross (in)", "Firmness 1 (lb)", "Firmness 2 (lb)", "Brix"]
    came_in([csv_file(tmp_path / "mm.csv", LONG, long_rows(samples[:5]))], tmp_path / "trial", {})
    came_in([csv_file(tmp_path / "in.csv", inches, rows)], tmp_path / "trial", {})
    is_true(tmp_path / "trial", samples)
    assert len(held(tmp_path / "trial")) == 10
    assert MM_PER_INCH == 25.4


def test_rows_of_a_reading_that_do_not_pair_are_flagged(tmp_path):
    """A row a reading, and nobody numbered the fruit: from the one that lacks on, readings stand beside another fruit's."""
    samples, words = season(1), ("suture", "cross", "firmness 1", "firmness 2", "ssc")
    rows = [
        [s.cultivar, s.site, s.day.isoformat(), words[reading], s.si[fruit, reading]]
        for s in samples for reading in range(5) for fruit in range(FRUIT)
        if (s, reading, fruit) != (samples[1], 1, 4)
    ]  # fmt: skip
    sheet = csv_file(tmp_path / "a.csv", ("Cultivar", "Site", "Date", "Reading", "Value"), rows)
    outcome, _ = came_in([sheet], tmp_path / "trial", {("suture", "unit"): "mm", ("cross", "unit"): "mm", ("firmness 1", "unit"): "n", ("firmness 2", "unit"): "n"})  # fmt: skip
    (told,) = [one for one in outcome.problems if "do not pair" in one.rule]
    assert (told.severity, told.row, told.column) == ("flag", 52, "D")
    assert "10 of “suture”, 9 of “cross”" in told.rule


@pytest.mark.parametrize("said", ["not used", "a fruit"])
def test_a_mean_below_fruit_that_have_no_numbers_is_asked_about(tmp_path, said):
    samples, rows = season(1), []
    for sample in samples:
        rows += [[row[0], row[1], row[2], *row[4:]] for row in long_rows([sample])]
        rows.append([*rows[-1][:3], *np.round(sample.si.mean(axis=0), 1)])
    sheet = csv_file(tmp_path / "a.csv", (*LONG[:3], *LONG[4:]), rows)
    outcome, replies = came_in([sheet], tmp_path / "trial", {"mean_rows": said})
    (question,) = [one for one in replies.asked if one.path[-1] == "mean_rows"]
    assert "the last row of 5 samples is the mean of the rows above it" in question.asks
    assert outcome.counts["unused"] == (5 * 8 if said == "not used" else 0)
    if said == "not used":
        is_true(tmp_path / "trial", samples)


def test_fruit_alone_raise_no_question_of_means(tmp_path):
    samples = season(1)
    rows = [[row[0], row[1], row[2], *row[4:]] for row in long_rows(samples)]
    _, replies = came_in([csv_file(tmp_path / "a.csv", (*LONG[:3], *LONG[4:]), rows)], tmp_path / "trial", {})
    assert "mean_rows" not in replies.kinds
    is_true(tmp_path / "trial", samples)


def test_a_number_of_a_fruit_may_be_written_as_programs_write_it():
    assert [fruit_number(cell) for cell in ("1", "F1", "#10", "1.0", "0", "1.5", "x")] == [
        1,
        1,
        10,
        1,
        0,
        0,
        0,
    ]
