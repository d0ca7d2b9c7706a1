"""An order drawn: a column a week, red where it may be short, and a bar a year."""

from __future__ import annotations

import numpy as np

from dashboard.charts import style, supply


def test_a_week_that_may_be_short_is_red_and_told():
    fan = np.outer([0.0, 0.5, 1.0, 1.5, 2.0], [100.0, 100.0])
    drawn = supply.weeks(["Jun 10", "Jun 17 <b>"], np.array([100.0, 100.0]), fan, [False, True], "pounds")
    assert "<b>" not in drawn
    assert "May be short: Jun 17" in drawn
    assert drawn.count(style.BARE_EDGE) == 1
    assert drawn.count(style.CHOSEN) == 2


def test_a_middle_season_that_is_cut_off_has_no_line():
    fan = np.outer([0.0, 0.5, 9.0, 9.5, 10.0], [100.0])
    assert style.INK not in supply.weeks(["Jun 10"], np.array([100.0]), fan, [False], "pounds")


def test_years_are_bars_up_to_the_whole():
    drawn = supply.years(np.array([0.0, 0.5, 1.0]))
    assert drawn.count("<rect") == 3
    assert "from 0 % in year 1 to 100 % in year 3" in drawn
