"""Sheets of one workbook or one layout that differ in what nobody sees: scales, means instead of fruit, an encoding."""

from __future__ import annotations

import numpy as np
import pytest
import xlsxwriter

from dashboard.records import read
from dashboard.records.importing import dates
from dashboard.records.importing.spread import meant
from tests.records.importing.season import came_in
from tests.records.importing.test_twelve_ways import csv_file


def test_scales_are_asked_of_each_year_of_a_workbook(tmp_path):
    with xlsxwriter.Workbook(tmp_path / "book.xlsx") as book:
        for year, days in (("2021", ("07-01", "07-08")), ("2022", ("07-02", "07-09"))):
            sheet = book.add_worksheet(year)
            extra = (
                ["Shape"] if year == "2022" else []
            )  # another layout, which goes by the answers of the first
            sheet.write_row(0, 0, ["Variety", "Date", "Red", "Comments", *extra])
            for line, (name, day, red) in enumerate(zip(("Alvane", "Brintel"), days, (4, 7), strict=True), 1):
                sheet.write_row(line, 0, [name, f"{year}-{day}", red, "x", *[red for _ in extra]])
    scales = {("scale", "2021"): "0 to 10, 10 best", ("scale", "2022"): "1 to 9, 1 best"}
    _, replies = came_in(
        [tmp_path / "book.xlsx"], tmp_path / "trial", {**scales, "site": "Low", "Low": "Low"}
    )
    asked = [one for one in replies.asked if "scale" in one.path]
    assert [one.path[-1] for one in asked].count("2021") == 1
    assert all(one.path[-1] in " ".join(one.shown) for one in asked)
    red = read(tmp_path / "trial").tables["samples"].set_index(["cultivar", "date"])["red"].sort_index()
    np.testing.assert_allclose(red.to_numpy(), [4, 6.25, 7, 2.5])  # (9 - 4) / 8 and (9 - 7) / 8 of ten


@pytest.mark.parametrize(("label", "role", "offered"), [("Brix", "ssc", "mean sugar"), ("se (C)", "", "se sugar"), ("s (D)", "", "sd sugar")])  # fmt: skip
def test_beside_a_spread_a_mean_is_offered_and_no_reading(label, role, offered):
    assert meant(["n", "Brix", "se (C)", "s (D)"], label, role) == offered


def test_an_error_of_a_mean_becomes_a_deviation_where_the_fruit_are_counted(tmp_path):
    rows = [["Alvane", "2016-07-05", 9, 12.0, 0.2], ["Brintel", "2016-07-05", "", 11.0, 0.3], ["Corvale", "2016-07-05", 4, 10.0, 0.5]]  # fmt: skip
    table = csv_file(tmp_path / "means.csv", ["Variety", "Date", "n", "Brix", "se"], rows)
    outcome, replies = came_in([table], tmp_path / "trial", {"site": "Low", "Low": "Low", "zero": "at 20 C"})
    offers = {one.path[-2]: one for one in replies.asked if one.path[-1] == "is"}
    assert (offers["Brix"].offer, offers["se"].offer) == ("mean sugar", "se sugar")
    assert "ssc" not in offers["Brix"].options
    means = read(tmp_path / "trial").tables["means"]
    np.testing.assert_allclose(means["ssc_sd_brix"], [0.6, 1.0])  # 0.2 times 3, 0.5 times 2
    assert outcome.counts["aside"] == 2  # of the mean that nobody counted


def test_the_encoding_is_known_before_headings_and_names_are(tmp_path):
    rows = [["Élantine", "2016-07-05", 1, 12.0], ["Müravel", "2016-07-05", 1, 11.0]]
    table = csv_file(tmp_path / "mac.csv", ["Variety", "Date", "Fruit", "°Brix"], rows, encoding="mac-roman")
    answers = {"mac.csv": "mac-roman", "site": "Low", "Low": "Low"}
    _, replies = came_in([table], tmp_path / "trial", answers)
    assert replies.asked[0].path == ("encoding", "mac.csv")
    assert "¡Brix" not in (tmp_path / "trial" / "importing" / "mapping.toml").read_text("utf-8")
    assert set(read(tmp_path / "trial").tables["samples"]["cultivar"]) == {"Élantine", "Müravel"}


def test_a_mean_and_its_spread_in_one_cell_and_sheets_named_by_two_figures(tmp_path):
    with xlsxwriter.Workbook(tmp_path / "old.xlsx") as book:
        for year in ("98", "99"):
            sheet = book.add_worksheet(year)
            sheet.write_row(0, 0, ["Cultivar", "Date", "n", "Brix"])
            sheet.write_row(1, 0, ["Alvane", "6/15", 9, "12.4 ± 0.2" if year == "98" else "11.4 +/- 0.3"])
    answers = {
        "order": "month/day",
        "year": "sheet name",
        "behind": "se",
        "site": "Low",
        "Low": "Low",
    }
    outcome, replies = came_in([tmp_path / "old.xlsx"], tmp_path / "trial", {**answers, "zero": "at 20 C"})
    (asked,) = [one for one in replies.asked if one.path[-1] == "year"]
    assert asked.shown[-1] == "  sheet name → 1998, 1999"
    assert "file name" not in asked.options  # it holds no year
    assert outcome.counts["aside"] == 0
    found = read(tmp_path / "trial").tables
    np.testing.assert_allclose(found["means"][["ssc_brix", "ssc_sd_brix"]], [[12.4, 0.6], [11.4, 0.9]])
    assert sorted(found["samples"]["date"].dt.year) == [1998, 1999]
    assert dates.year_in("00", 19) is None


def test_a_scale_or_year_that_no_name_tells_is_said_sheet_by_sheet(tmp_path):
    head, rows = ["Variety", "Date", "Red"], [["Alvane", "July 5", 3], ["Brintel", "July 12", 7]]
    files = [csv_file(tmp_path / name, head, rows) for name in ("a.csv", "b.csv")]
    answers = {"scale": "sheet by sheet", ("scale_of", "a.csv"): "0 to 10, 10 best", ("scale_of", "b.csv"): "1 to 9, 1 best"}  # fmt: skip
    answers |= {"year": "file by file", ("year_of", "a.csv"): "2021", ("year_of", "b.csv"): "2022"}
    came_in(files, tmp_path / "trial", {**answers, "site": "Low", "Low": "Low"})
    red = read(tmp_path / "trial").tables["samples"].set_index("date")["red"].sort_index()
    assert [f"{day:%Y-%m-%d}" for day in red.index] == [
        "2021-07-05",
        "2021-07-12",
        "2022-07-05",
        "2022-07-12",
    ]
    assert red.tolist() == [3, 7, 7.5, 2.5]


def test_weeks_by_number_with_their_year_in_a_column_of_its_own(tmp_path):
    rows = [
        ["Alvane", "Low", 2021, 27, 3],
        ["Alvane", "Low", 2022, 27, 7],
        ["Alvane", "Low", 2022, 28, "none"],
    ]
    table = csv_file(tmp_path / "a.csv", ["Variety", "Site", "Year", "Week", "Red"], rows)
    answers = {("Week", "is"): "date", ("Year", "is"): "not used", "day_numbers": "week of the year", "year": "column Year"}  # fmt: skip
    answers |= {"weeks": "a week later", "none": "nothing", "scale": "0 to 10, 10 best", "Low": "Low"}
    outcome, replies = came_in([table], tmp_path / "trial", answers)
    (asked,) = [one for one in replies.asked if one.path[-1] == "weeks"]
    assert asked.shown[0].startswith("  “27” → right: 2021-07-05 to 2021-07-11; a week earlier: 2021-06-28")
    assert (outcome.counts["unused"], outcome.counts["aside"]) == (0, 0)
    samples = read(tmp_path / "trial").tables["samples"]
    weeks = [tuple(day.isocalendar()[:2]) for day in samples["date"]]
    assert weeks == [(2021, 28), (2022, 28)]  # of the row in which nothing was picked there is no sample
    assert samples["red"].tolist() == [3, 7]


def test_a_row_a_figure(tmp_path):
    figures = [("suture", 62.5), ("brix", 12.1), ("suture", 63.5), ("brix", 12.2)]
    rows = [["Alvane", "Low", "2016-07-05", *figure] for figure in figures]
    table = csv_file(tmp_path / "a.csv", ["Cultivar", "Site", "Date", "Trait", "Value"], rows)
    _, replies = came_in([table], tmp_path / "trial", {"unit": "mm", "Low": "Low", "Alvane": "Alvane"})
    offers = {one.path[-2]: one.offer for one in replies.asked if one.path[-1] == "is"}
    assert (offers["Trait"], offers["Value"]) == ("which reading", "as the row says")
    fruit = read(tmp_path / "trial").tables["fruit"]
    assert fruit[["fruit", "suture_mm", "ssc_brix"]].to_numpy().tolist() == [[1, 62.5, 12.1], [2, 63.5, 12.2]]


def test_a_summary_whose_columns_are_not_used_is_asked_for_no_day(tmp_path):
    file = tmp_path / "a.xlsx"
    with xlsxwriter.Workbook(file) as book:
        for name, rows in {"picked": [["Cultivar", "Site", "Date", "Red"], ["Alvane", "Low", "2016-07-05", 4]], "summary": [["Cultivar", "Picks", "Avg Brix"], ["Alvane", 3, 12.2], ["LSD", "", 0.4]]}.items():  # fmt: skip
            sheet = book.add_worksheet(name)
            for line, row in enumerate(rows):
                sheet.write_row(line, 0, row)
    answers = {("Picks", "is"): "not used", ("Avg Brix", "is"): "not used", "scale": "0 to 10, 10 best", "Low": "Low", "Alvane": "Alvane"}  # fmt: skip
    outcome, replies = came_in([file], tmp_path / "trial", answers)
    assert "fixed" not in {step for one in replies.asked for step in one.path}
    assert (outcome.counts["aside"], outcome.counts["read"]) == (0, 9)  # with the heading of its names
