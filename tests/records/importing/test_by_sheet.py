"""A sheet a reading is read by the sheets' names; a column a site is refused with what to do."""

from __future__ import annotations

import pytest
import xlsxwriter

from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.questions import OF_A_PLACE
from dashboard.records.importing.together import singly
from tests.records.importing.season import CULTIVARS, Replies, came_in, is_true, season
from tests.records.importing.test_twelve_ways import csv_file

KEYS = ("Cultivar", "Site", "Date")
FIGURES = {
    "Suture in": lambda one: one.eighths[:, 0] / 8, "Cross in": lambda one: one.eighths[:, 1] / 8,
    "P1 lb": lambda one: one.pounds[:, 0], "P2 lb": lambda one: one.pounds[:, 1], "Brix": lambda one: one.brix,
}  # fmt: skip


def test_a_sheet_a_reading_is_offered_by_its_name(tmp_path):
    samples = season(2)
    with xlsxwriter.Workbook(tmp_path / "a.xlsx") as book:
        for name, figures in FIGURES.items():
            sheet = book.add_worksheet(name)
            sheet.write_row(0, 0, (*KEYS, *range(1, 11)))
            for line, one in enumerate(samples, 1):
                sheet.write_row(line, 0, (*one.key, *map(float, figures(one))))
    outcome, replies = came_in([tmp_path / "a.xlsx"], tmp_path / "trial", {})
    offers = [one.offer for one in replies.asked if one.path[-1] == "is"]
    assert offers == ["suture", "cross", "firmness 1", "firmness 2", "ssc"]
    assert outcome.counts["aside"] == 0
    is_true(tmp_path / "trial", samples)


def test_where_each_row_names_its_reading_the_name_of_the_sheet_says_nothing(tmp_path):
    rows = [(*one.key, name, *figures(one)) for one in season(1) for name, figures in FIGURES.items()]
    file = csv_file(tmp_path / "Brix.csv", (*KEYS, "Reading", *range(1, 11)), rows)
    replies = Replies(
        {"unit": "in", "P1 lb": "lbf", "P2 lb": "lbf", "tip_mm": "8", "temperature_compensated": "yes"}
    )
    bring_in([file], tmp_path / "trial", ask=singly(replies))
    is_true(tmp_path / "trial", season(1))


@pytest.mark.parametrize("reading", ["ssc", "red"])
def test_a_column_a_site_is_refused_with_what_to_do(tmp_path, reading):
    rows = [(name, "2016-07-05", 7.5, 8, 6) for name in CULTIVARS]
    said = []

    def ask(question):
        if question.path[-2] in ("Low", "High", "North"):
            said.append(question.refuses(reading))
            return "not used" if said[-1] else reading
        return None

    bring_in([csv_file(tmp_path / "a.csv", ("Cultivar", "Date", "Low", "High", "North"), rows)], tmp_path / "trial", ask=singly(ask))  # fmt: skip
    assert said[0] == ""
    assert said[1].startswith(f"“Low” is {reading} already")
    assert said[1].endswith(OF_A_PLACE)
