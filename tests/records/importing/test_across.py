"""A table with days across: one question says what its figures are, each cell is that reading of that day, and no cell is another's."""

from __future__ import annotations

import csv
from datetime import date, timedelta

import numpy as np
import pytest
import xlsxwriter

from dashboard.records import read
from dashboard.records.importing.across import by_day
from dashboard.records.importing.blocks import blocks
from dashboard.records.importing.dates import heads_day
from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.pages import Page
from dashboard.records.importing.terminal import asked_together
from tests.records.importing.season import CULTIVARS, adds_up, came_in, held

DAYS = [date(2016, 7, 1) + timedelta(days=7 * week) for week in range(3)]
WAYS = {
    "month/day": [f"{day.month}/{day.day}" for day in DAYS],
    "day/month/year": [f"{day.day}.{day.month}.{day.year}" for day in DAYS],
    "iso": [day.isoformat() for day in DAYS],
    "word": [f"{day:%b} {day.day}" for day in DAYS],
    "word first": [f"{day.day} {day:%B} {day.year}" for day in DAYS],
}
ANSWERS = {
    ("days across, walk.csv", "is"): "red", "order": "month/day", "year": "2016", "scale": "0 to 10, 10 best", "site": "Low", "rows_without_readings": "nothing was picked", "zero": "a reading",
    ("Variety", "is"): "cultivar", ("Fruit", "is"): "fruit number", ("site", "Low"): "Low",
}  # fmt: skip


def text(path, rows):
    path.parent.mkdir(exist_ok=True)
    with path.open("w", newline="") as file:
        csv.writer(file).writerows(rows)
    return path


def ratings(trial, column="red"):
    frame = read(trial).tables["samples"]
    cells = zip(frame["cultivar"], frame["date"].dt.strftime("%Y-%m-%d"), frame[column], strict=True)
    return {(cultivar, day): value for cultivar, day, value in cells if value == value}


def true(rows, days=DAYS):
    return {(row[0], day.isoformat()): float(cell) for row in rows for day, cell in zip(days, row[1:], strict=True) if cell != ""}  # fmt: skip


ROWS = [["Alvane", 1, 2, 3], ["Brintel", 4, "", 6], ["Corvale", "", "", 9], ["T 12-034", 7.5, 8, ""]]


@pytest.mark.alike(3)
@pytest.mark.parametrize("way", WAYS)
def test_cultivars_down_and_days_across_in_every_form_of_a_day(tmp_path, way):
    file = text(tmp_path / "walk.csv", [["Variety", *WAYS[way]], *ROWS])
    said = ANSWERS | ({"order": "day/month"} if way == "day/month/year" else {})
    outcome, replies = came_in([file], tmp_path / "trial", said)
    assert ratings(tmp_path / "trial") == true(ROWS)
    assert outcome.counts["aside"] == outcome.counts["unused"] == 0
    asked = [one for one in replies.asked if one.path[-1] == "is"]
    assert [one.asks for one in asked if "days" in one.path[3]] == [
        "these headings are days; what are the figures under all of them?"
    ]
    kinds = [one.path[-1] for one in replies.asked]
    assert kinds.count("order") == (way in ("month/day", "day/month/year"))
    assert kinds.count("year") == (way in ("month/day", "word"))
    assert bring_in([file], tmp_path / "trial").counts["aside"] == 0
    assert ratings(tmp_path / "trial") == true(ROWS)


def test_days_that_follow_each_other_are_no_fruit(tmp_path):
    days = [date(2016, 7, one) for one in (1, 2, 3)]
    for name, heads in {"a": ["7/1", "7/2", "7/3"], "b": ["Jul 1", "Jul 2", "Jul 3"]}.items():
        came_in(
            [text(tmp_path / name / "walk.csv", [["Variety", *heads], *ROWS])],
            tmp_path / name / "trial",
            ANSWERS,
        )
        assert ratings(tmp_path / name / "trial") == true(ROWS, days)


def test_fruit_down_and_days_across(tmp_path):
    chance = np.random.default_rng(3)
    brix = chance.integers(90, 150, (3, 5, 3)) / 10
    rows = [
        [name, fruit + 1, *brix[at, fruit]] for at, name in enumerate(CULTIVARS[:3]) for fruit in range(5)
    ]
    rows[7][3] = ""  # the sample has four fruit that day
    for number, row in enumerate(rows):
        row[0] = row[0] if number % 5 == 0 else ""  # the name stands once
    rows[5][2] = ""  # and where it stands nothing was read on the first day
    file = text(tmp_path / "walk.csv", [["Variety", "Fruit", *WAYS["iso"]], *rows])
    outcome, _ = came_in(
        [file], tmp_path / "trial", ANSWERS | {("days across, walk.csv", "is"): "ssc", "empty": "as above"}
    )
    assert outcome.counts["aside"] == 0
    there = held(tmp_path / "trial")
    for at, name in enumerate(CULTIVARS[:3]):
        for place, day in enumerate(DAYS):
            found = {fruit: float(values[4]) for fruit, values in there[name, "Low", day.isoformat()].items()}
            gone = {1} if (at, place) == (1, 0) else {3} if (at, place) == (1, 1) else set()
            assert found == {fruit + 1: brix[at, fruit, place] for fruit in range(5) if fruit + 1 not in gone}


def test_a_row_is_a_reading_that_a_column_names(tmp_path):
    rows = [
        ["Alvane", "Red", 5, 6, 7],
        ["Alvane", "Shape", 8, 9, 4],
        ["Brintel", "Red", "", 3, 2],
        ["Brintel", "Shape", 1, "", 6],
    ]
    rows = [
        [
            name,
            {"Red": "Diameter", "Shape": "Brix"}[what],
            *(cell and (cell / 10 + 2 if what == "Red" else cell + 8) for cell in cells),
        ]
        for name, what, *cells in rows
    ]
    file = text(tmp_path / "walk.csv", [["Variety", "Reading", *WAYS["iso"]], *rows])
    said = ANSWERS | {
        ("days across, walk.csv", "is"): "as the row says",
        ("Reading", "is"): "which reading",
        ("Diameter", "is"): "suture",
        ("Brix", "is"): "ssc",
        "unit": "in",
    }
    came_in([file], tmp_path / "trial", said)
    there = held(tmp_path / "trial")
    for name, what, *cells in rows:
        for day, cell in zip(DAYS, cells, strict=True):
            if cell != "":
                value = there[name, "Low", day.isoformat()][1][4 if what == "Brix" else 0]
                assert value == pytest.approx(cell if what == "Brix" else cell * 25.4)


def test_tables_of_two_ratings_are_asked_about_apart(tmp_path):
    book = tmp_path / "walk.xlsx"
    with xlsxwriter.Workbook(book) as made:
        form = made.add_format({"num_format": "m/d/yyyy"})
        for number, name in enumerate(("Red", "Shape")):
            sheet = made.add_worksheet(name)
            sheet.write_row(0, 0, ["Site: Low"])
            sheet.write(2, 0, "Variety")
            for place, day in enumerate(DAYS, 1):
                sheet.write_datetime(2, place, day, form)
            for line, row in enumerate(ROWS, 3):
                sheet.write_row(
                    line, 0, [row[0], *(cell if cell == "" else cell + number for cell in row[1:])]
                )
    outcome, replies = came_in([book], tmp_path / "trial", ANSWERS)
    asked = {
        one.path[3]: one.proposal for one in replies.asked if one.path[-1] == "is" and "days" in one.path[3]
    }
    assert asked == {"days across, walk.xlsx: Red": "red", "days across, walk.xlsx: Shape": "shape"}
    assert ratings(tmp_path / "trial") == true(ROWS)
    assert ratings(tmp_path / "trial", "shape") == {key: value + 1 for key, value in true(ROWS).items()}
    assert outcome.counts["aside"] == 0


def test_days_below_a_row_that_names_the_rating_and_a_second_table_below(tmp_path):
    more = [date(2016, 8, 1), date(2016, 8, 8)]
    file = text(tmp_path / "walk.csv", [
        ["Variety", "Red", "", ""], ["", *WAYS["month/day"]], *ROWS, [], ["Shape"], ["Variety", "8/1", "8/8"], ["Alvane", 3, 4], ["Brintel", 5, ""],
    ])  # fmt: skip
    said = ANSWERS | {("days across, walk.csv, table 2", "is"): "shape", ("A, 1 above", "is"): "not used"}
    came_in([file], tmp_path / "trial", said)
    red, shape = ratings(tmp_path / "trial"), ratings(tmp_path / "trial", "shape")
    assert red == true(ROWS)
    assert shape == true([["Alvane", 3, 4], ["Brintel", 5, ""]], more)


def test_what_is_wrong_with_a_cell_or_a_heading_takes_no_other_with_it(tmp_path):
    heads = ["Variety", "7/1/2016", "7/32/2016", "7/15/2016", "7/22/2016", "Mean"]
    rows = [["Alvane", 1, 5, 3, "seven?", 9], ["Brintel", 4, 6, 99, 5, 9], ["Corvale", 2, 5, 8, 6, 9], ["Dusk Marrow", "", "", "", "", ""]]  # fmt: skip
    file = text(tmp_path / "walk.csv", [heads, *rows])
    said = ANSWERS | {"seven?": "aside", ("Mean", "is"): "not used", ("7/32/2016", "is"): "not used"}
    outcome, _ = came_in([file], tmp_path / "trial", said)
    days = {"2016-07-01": 1, "2016-07-15": 3, "2016-07-22": 4}
    want = {(row[0], day): row[at] for row in rows[:3] for day, at in days.items()}
    gone = (("Alvane", "2016-07-22"), ("Brintel", "2016-07-15"))
    assert ratings(tmp_path / "trial") == {key: value for key, value in want.items() if key not in gone}
    assert (outcome.counts["read"], outcome.counts["aside"]) == (4 + 3 + 7, 2)
    assert outcome.counts["unused"] == 9  # two columns, and a cultivar that nobody picked


def test_a_day_that_is_none_or_of_another_season_is_set_aside_alone(tmp_path):
    file = text(tmp_path / "walk.csv", [["Variety", "Jul 1", "Jun 31", "Jul 15"], *ROWS])
    outcome, _ = came_in([file], tmp_path / "trial", ANSWERS)
    assert ratings(tmp_path / "trial") == {
        key: value for key, value in true(ROWS).items() if key[1] != "2016-07-08"
    }
    assert outcome.counts["aside"] == 3  # the heading and what stands under it
    assert "is not a day of the calendar" in outcome.text
    adds_up(outcome)


def test_a_name_that_is_none_takes_its_row_with_it(tmp_path):
    rows = [["Alvane", 1, 2, 3], ["Brintel", 4, 5, 6], ["12", 7, 8, 9]]
    file = text(tmp_path / "walk.csv", [["Variety", *WAYS["iso"]], *rows])
    outcome, _ = came_in([file], tmp_path / "trial", ANSWERS | {("cultivars", "12"): "not used"})
    assert ratings(tmp_path / "trial") == true(rows[:2])
    assert outcome.counts["aside"] + outcome.counts["unused"] == 4


@pytest.mark.parametrize(
    "heading",
    [
        "7/3",
        "7/3/24",
        "3.7.2024",
        "3.7.",
        "2024-07-03",
        "24-07-03",
        "Jul 3",
        "3-Jul",
        "July 3, 2024",
        "Week 27",
        "2024-W27",
        "20240703",
    ],
)
def test_headings_that_are_days(heading):
    assert heads_day(heading)


@pytest.mark.parametrize(
    "heading",
    [
        "",
        "Brix 3",
        "Suture 1",
        "F3",
        "3",
        "7.5",
        "1-5",
        "2 1/2",
        "13/32",
        "W3",
        "Fruit 12",
        "2024",
        "45000",
        "3 juil.",
        "D1",
    ],
)
def test_headings_that_are_none(heading):
    assert not heads_day(heading)


def test_rows_in_which_days_stand_are_no_headings():
    rows = [["Variety", "Site", "Picked", "Sampled", "Red"], ["Alvane", "Orchard", "7/1", "7/8", "8"], ["Brintel", "Orchard", "7/2", "7/9", "7"]]  # fmt: skip
    page = Page("a.csv", "", np.array(rows, dtype=object), np.arange(1, 4))
    (block,) = by_day(blocks(page))
    assert (block.head, block.across, len(block.rows)) == (0, "", 2)
    rows = [["Variety", "7/1", "7/8"], ["Alvane", "8", "7"], ["Brintel", "", "6"]]
    first, second = by_day(blocks(Page("a.csv", "", np.array(rows, dtype=object), np.arange(1, 4))))
    assert (first.day, second.day) == ((0, 1), (0, 2))
    assert (first.rows.tolist(), second.rows.tolist()) == ([1], [1, 2])


def test_on_a_terminal_it_is_one_line_of_the_list_of_columns(tmp_path, monkeypatch, capsys):
    book = text(tmp_path / "Red.csv", [["Variety", *WAYS["month/day"]], *ROWS])
    said = iter(["month/day", "2016", "yes"])
    monkeypatch.setattr("builtins.input", lambda _: next(said, "later"))
    bring_in([book], tmp_path / "trial", ask=asked_together)
    shown = capsys.readouterr().out
    assert "days across, Red.csv" in shown
    assert "→ red" in shown
