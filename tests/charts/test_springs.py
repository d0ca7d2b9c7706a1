"""What frost took, as a picture."""

from __future__ import annotations

import numpy as np

from dashboard.charts.springs import MOST, STEPS, drawing, height


def test_a_box_a_spring_and_cultivar_darker_where_more_was_lost():
    drawn = str(drawing(["Candover", "<i>"], [2020, 2021], np.array([[0.0, 0.95], [0.2, 0.5]])))
    assert drawn.count("<rect") == 4
    assert STEPS[-1][1] in drawn
    assert ">95<" in drawn
    assert ">20<" in drawn
    assert "&lt;i&gt;" in drawn
    assert "Over 90 % of at least one: 2020." in drawn


def test_no_more_than_so_many_rows_are_drawn():
    names = [f"C{at}" for at in range(MOST + 5)]
    drawn = str(drawing(names, [2020], np.zeros((1, len(names)))))
    assert drawn.count("<rect") == MOST
    assert f'height="{height(MOST)}"' in drawn
    assert "Over 90 % of at least one: none." in drawn
