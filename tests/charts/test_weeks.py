"""Classes by week as boxes: a row a class, a column a week, of whatever was asked for."""

from __future__ import annotations

from dashboard.answers.question import Question
from dashboard.charts import weeks
from dashboard.charts.held import Held


def test_the_picture_shows_the_rows_and_weeks_of_each_answer(demo):
    held = Held(weeks.drawing())
    (figure,) = held.figures
    tall = []
    for asked in (Question(demo), Question(demo, flesh_colour=("white",), opens="07-03", closes="08-11")):
        grid = asked.class_weeks
        weeks.fill(held, grid, False)
        assert (figure.y_range.start, figure.x_range.end) == (len(grid.classes), len(grid.starts))
        assert list(figure.yaxis[0].major_label_overrides.values()) == list(grid.classes)
        assert len(figure.xaxis[0].ticker.ticks) == len(grid.starts)
        tall.append(figure.height)
    assert tall[1] < tall[0]
