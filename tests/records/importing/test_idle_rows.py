"""Rows without a reading: that nothing was picked is offered of a few of them, never of most of a sheet, where readings may lie unseen."""

from __future__ import annotations

import pytest

from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.questions import NOT_PICKED
from dashboard.records.importing.together import singly
from tests.records.importing.season import CULTIVARS, Replies
from tests.records.importing.test_twelve_ways import csv_file

HEAD = ("Cultivar", "Site", "Date", "Red")
ANSWERS = {"tip_mm": "8", "temperature_compensated": "yes", "scale": "0 to 10, 10 best", "rows_without_readings": NOT_PICKED}  # fmt: skip


def rows(rated: int, idle: int, year: int = 2016) -> list[tuple]:
    days = [f"{year}-{month:02}-{day:02}" for month in (6, 7, 8) for day in range(1, 29)]
    keys = [(name, "Low", day) for day in days for name in CULTIVARS]
    return [(*key, "7" if number < rated else "") for number, key in enumerate(keys[: rated + idle])]


def asked(folder, *found) -> list:
    replies = Replies(ANSWERS)
    for number, (head, some) in enumerate(found):
        bring_in([csv_file(folder / f"{number}.csv", head, some)], folder / "trial", ask=singly(replies))
    return [(one.offer, one.asks) for one in replies.asked if one.path[-1] == "rows_without_readings"]


@pytest.mark.parametrize(
    ("rated", "idle", "offer"), [(5, 5, NOT_PICKED), (5, 6, ""), (100, 50, NOT_PICKED), (100, 51, "")]
)
def test_it_is_offered_of_half_the_rows_at_most_and_of_fifty(tmp_path, rated, idle, offer):
    ((offered, asks),) = asked(tmp_path, (HEAD, rows(rated, idle)))
    assert offered == offer
    assert f"hold no reading ({idle} of {rated + idle})" in asks


def test_what_was_said_of_a_few_rows_is_not_offered_for_many_of_another_sheet(tmp_path):
    other = (*HEAD[:3], "Blush")
    offers = asked(tmp_path, (HEAD, rows(5, 2)), (other, rows(5, 20, 2017)))
    assert [offer for offer, _ in offers] == [NOT_PICKED, ""]
