"""What frost took, as a picture."""

from __future__ import annotations

import numpy as np

from dashboard.charts.springs import MOST, STEPS, drawing, height
from dashboard.charts.style import PROSE_CSS


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


def test_figures_of_many_springs_give_way_on_a_phone():
    """Which the dress does; a box of one of 25 springs is nine pixels wide there, a figure fourteen."""
    few, many = (
        str(drawing(["A"], range(2000, 2000 + count), np.full((count, 1), 0.5))) for count in (5, 25)
    )
    assert 'class="springs"' in few
    assert 'class="springs many"' in many
    assert many.count('<g class="share">') == 25
    assert ".springs.many .share { display: none; }" in PROSE_CSS
