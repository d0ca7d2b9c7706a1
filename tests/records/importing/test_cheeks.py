"""7/8 in one cell: two cheeks, a fraction, or neither, as it was answered; nothing of it is guessed."""

from __future__ import annotations

import pytest

from dashboard.records.importing.cheeks import cheek, two
from dashboard.records.importing.figures import How, figure
from dashboard.records.importing.mapping import Answers
from dashboard.records.importing.roles import ROLES
from tests.records.importing.season import came_in, is_true, season
from tests.records.importing.test_twelve_ways import LONG, csv_file

PATH = ("layout", 0, "columns", "Pressure (lb)")


@pytest.mark.parametrize(
    ("cell", "both"),
    [
        ("7/8", ("7", "8")), ("7-8", ("7", "8")), ("7 / 8.5", ("7", "8.5")), ("10–9", ("10", "9")), ("7 1/2 / 8", ("7 1/2", "8")), ("7,5/8", ("7,5", "8")),
        ("7 1/2", None), ("7½", None), ("6-3/4", None), ("7", None), ("7/8/9", None), ("2022-07-08", None), ("<7/8", None), ("7.5", None),
    ],
)  # fmt: skip
def test_two_figures_of_a_cell(cell, both):
    assert two(cell) == both


def test_a_date_is_two_figures_in_the_order_that_was_said():
    said = Answers()
    assert (cheek("7/8", said, PATH), cheek("7/8", said, PATH, second=True)) == ("7/8", "")
    said.layouts.append({"columns": {PATH[-1]: {"cheeks": "two cheeks"}}})
    halves = [(cheek(cell, said, PATH), cheek(cell, said, PATH, second=True)) for cell in ("7/8", "9", "2022-07-08")]  # fmt: skip
    assert halves == [("7", "8"), ("9", ""), ("2022-07-08", "")]
    said.put((*PATH, "cheek_dates"), "day, then month")
    halves = [(cheek(cell, said, PATH), cheek(cell, said, PATH, second=True)) for cell in ("2022-07-08", "1932-07-01")]  # fmt: skip
    assert halves == [("8", "7"), ("1932-07-01", "")]  # 7/32 became July 1932


def test_two_cheeks_in_a_cell_are_asked_about_and_read(tmp_path):
    samples = season(1)
    rows, ways = [], ("{}/{}", "{}-{}", "{} / {}")
    for sample in samples:
        sample.pounds = (2 * sample.pounds).round() / 2
        for number in range(10):
            pair = ways[number % 3].format(*(f"{value:g}" for value in sample.pounds[number]))
            rows.append([sample.cultivar, sample.site, sample.day.isoformat(), number + 1, *sample.si[number, :2], pair, sample.brix[number]])  # fmt: skip
    rows[0][6], samples[0].pounds[0] = "7/8", (7, 8)
    rows[1][6] = f"{samples[0].pounds[1, 0]:g}"  # one cheek alone
    table = csv_file(tmp_path / "a.csv", [*LONG[:6], "Pressure (lb)", "Brix"], rows)
    _, replies = came_in([table], tmp_path / "trial", {"cheeks": "two cheeks"})
    (asked,) = [one for one in replies.asked if one.path[-1] == "cheeks"]
    assert asked.shown[0] == "  “7/8” → two cheeks: 7 and 8; a fraction: 0.875"
    assert (len(asked.shown), asked.offer) == (3, "")
    is_true(tmp_path / "trial", samples, frozenset({(samples[0].key, 2, 3)}))
    _, silent = came_in([table], tmp_path / "trial", {})
    assert not silent.asked


def test_a_fraction_behind_a_whole_number_is_one_where_no_cell_holds_two():
    pounds = ROLES["firmness 1"]
    assert [figure(cell, How(pounds, "lbf")).text for cell in ("7 1/2", "7½", "6-3/4", "7 1/2 lb")] == ["7.5", "7.5", "6.75", "7.5"]  # fmt: skip
    assert [figure(cell, How(pounds, "lbf", pairs=True)).text for cell in ("7/8", "6-3/4")] == ["", ""]
    assert figure("7/8", How(pounds, "lbf", fractions=True)).text == "0.875"
    assert figure("2 1/2", How(ROLES["suture"], "cm")).text == ""  # of a diameter it means inches
