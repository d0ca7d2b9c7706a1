"""What a value was before, in one line, in the reader's unit."""

from __future__ import annotations

import os
import time

import pytest

from dashboard.records.earlier import Earlier
from dashboard.wording.earlier import told

AT = "2025-07-14T15:00:00Z"


@pytest.fixture(autouse=True)
def _by_one_clock(monkeypatch):
    monkeypatch.setenv("TZ", "UTC")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.mark.parametrize(
    ("one", "line"),
    [
        (Earlier("fruit", "3", "suture_in", "2.49", AT, "Ann", "today.xlsx", 7), "Fruit 3, suture: was 2.49 in until import 7, Jul 14, 2025, by Ann, today.xlsx."),
        (Earlier("fruit", "3", "suture_mm", "63.5", AT, "", "a.csv"), "Fruit 3, suture: was 2.50 in until Jul 14, 2025, a.csv."),
        (Earlier("fruit", "1", "ssc_brix", "12.4", AT, "Ann", "a.csv"), "Fruit 1, sugar: was 12.4 °Brix until Jul 14, 2025, by Ann, a.csv."),
        (Earlier("samples", "", "red", "6.5", AT, "Ann", "a.csv"), "Red: was 6.5 until Jul 14, 2025, by Ann, a.csv."),
        (Earlier("samples", "", "note", "<b>\x07", AT, "Ann", "a.csv"), "Note: was “<b>\\x07” until Jul 14, 2025, by Ann, a.csv."),
        (Earlier("samples", "", "my own", "x", "soon", "", ""), "My own: was “x” until soon."),
    ],
)  # fmt: skip
def test_a_value_is_told_with_until_when_and_by_whom(one, line):
    assert told(one, "us") == line
    assert os.environ["TZ"] == "UTC"


def test_a_reader_of_millimeters_reads_millimeters():
    one = Earlier("fruit", "3", "suture_in", "2.49", AT, "Ann", "today.xlsx", 7)
    assert told(one, "si").startswith("Fruit 3, suture: was 63.2 mm until import 7")  # 2.49 × 25.4 = 63.246
