"""The demo records load whole."""

from __future__ import annotations

import time

import pytest

from dashboard.places import demo_data
from dashboard.records import read


@pytest.mark.parametrize("source", ["", "workbook.xlsx"], ids=["folder", "workbook"])
def test_the_demo_records_hold_no_error_and_lose_no_row(source):
    records = read(demo_data() / source)
    assert [problem.sentence for problem in records.problems if problem.severity == "error"] == []
    assert {name: len(frame) for name, frame in records.tables.items()} == records.rows_written
    assert records.set_aside.empty
    assert records.declaration.invented


def test_flags_of_the_demo_records_are_few_beside_its_fruit():
    records = read(demo_data())
    assert len(records.problems) < 0.01 * len(records.tables["fruit"])


def test_the_demo_records_are_read_in_a_few_seconds():
    start = time.process_time()
    records = read(demo_data())
    assert len(records.tables["fruit"]) > 40_000
    assert time.process_time() - start < 5
