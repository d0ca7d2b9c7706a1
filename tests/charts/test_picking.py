"""A few lines of picking: bars where the days are, words for who does not see them, and no markup from names."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import numpy as np
import pandas as pd
import pytest

from dashboard.charts import picking, style
from dashboard.ripening import day_of
from tests.browser.sets import HOSTILE_NAMES


def windows(*days: tuple[float, float], names: tuple[str, ...] = ()) -> pd.DataFrame:
    index = names or tuple("ABCDEF"[: len(days)])
    first, last = np.array(days, dtype=float).T
    return pd.DataFrame(
        {"first": first, "last": last, "first_low": first - 5, "last_high": last + 5}, index=list(index)
    )


def bars(markup, width: str) -> list[tuple[float, float]]:
    lines = ElementTree.fromstring(str(markup)).iter("line")
    return [
        (float(line.attrib["x1"][:-1]), float(line.attrib["x2"][:-1])) for line in lines if line.attrib.get("stroke-width") == width
    ]  # fmt: skip


def test_a_bar_runs_from_the_first_day_to_the_last_and_its_line_over_the_doubt():
    drawn = picking.drawing(windows((190, 200), (210, 220)), south=False)
    start, end = 190 - 5 - picking.EDGE, 220 + 5 + picking.EDGE
    share = lambda day: pytest.approx(100 * (day - start) / (end - start), abs=0.01)  # noqa: E731
    assert bars(drawn, "8") == [(share(189.5), share(200.5)), (share(209.5), share(220.5))]  # whole days
    assert bars(drawn, "1.5") == [(share(185), share(205)), (share(205), share(225))]


def test_a_single_day_can_be_seen():
    ((start, end),) = bars(picking.drawing(windows((190, 190)), south=False), "8")
    assert end > start


def test_it_says_the_dates_to_who_does_not_see_it():
    drawn = picking.drawing(windows((day_of(7, 12), day_of(7, 20)), (np.nan, np.nan)), south=False)
    label = ElementTree.fromstring(str(drawn)).attrib["aria-label"]
    assert label == "When they are picked: A Jul 12 to Jul 20; B not known."


def test_two_cultivars_of_one_fortnight_stand_on_dates_a_reader_can_tell():
    drawn = picking.drawing(
        windows((day_of(7, 12), day_of(7, 16)), (day_of(7, 14), day_of(7, 18))), south=False
    )
    marks = [
        text.text for text in ElementTree.fromstring(str(drawn)).iter("text") if text.attrib["y"] == "11"
    ]
    assert len(marks) >= 3
    assert all(re.fullmatch(r"Jul \d+", mark) for mark in marks)


def test_who_was_never_picked_has_no_bar_but_a_line_of_words():
    drawn = picking.drawing(windows((190, 200), (np.nan, np.nan)), south=False)
    assert len(bars(drawn, "8")) == 1
    assert "not known" in str(drawn)


def test_where_nobody_was_picked_it_says_so():
    assert "No pick" in picking.drawing(windows((np.nan, np.nan)), south=False)


def test_ends_that_are_not_known_leave_the_bar_alone():
    known = windows((190, 200)).assign(first_low=np.nan, last_high=np.nan)
    drawn = picking.drawing(known, south=False)
    assert len(bars(drawn, "8")) == 1
    assert bars(drawn, "1.5") == []


def test_names_stay_text_and_long_ones_are_cut():
    drawn = str(picking.drawing(windows(*[(190, 200)] * 10, names=HOSTILE_NAMES), south=True))
    picture = ElementTree.fromstring(drawn)
    assert {part.tag for part in picture.iter()} == {"svg", "line", "text"}
    shown = [text.text for text in picture.iter("text") if text.attrib["fill"] == style.INK]
    assert shown == [name if len(name) <= 40 else name[:39] + "…" for name in HOSTILE_NAMES]
    assert not re.search(r"<(img|script|b) ", drawn)
