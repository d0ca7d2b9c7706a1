"""Each visitor has parts of their own, and what is set again is not sent again."""

from __future__ import annotations

import numpy as np
from bokeh.document import Document
from bokeh.models import BoxAnnotation

from dashboard.charts import calendar, tradeoff
from dashboard.charts.held import Held
from tests.charts.drawn import source_with


def test_one_visitor_s_answer_is_not_another_s(catalogue):
    drawing = tradeoff.drawing()
    one, other = Held(drawing), Held(drawing)
    rows = tradeoff.points(catalogue.cultivars, catalogue.values, "us")
    tradeoff.fill(one, rows, "us", [1.0] * len(rows), [1.0] * len(rows))
    one.show(shown=np.arange(len(rows)) < 3)
    one.bound("size_sugar", left=2.0, right=None)
    assert len(source_with(other.figures[0], "cultivar", "mark").data["cultivar"]) == 0
    assert not any(isinstance(at, BoxAnnotation) for at in other.figures[0].center)
    mine, theirs = (
        {id(model) for model in figure.references()} for figure in (one.figures[0], other.figures[0])
    )
    assert not mine & theirs


def test_the_same_answer_again_changes_nothing(catalogue):
    rows = tradeoff.points(catalogue.cultivars, catalogue.values, "us")
    held = Held(tradeoff.drawing())
    tradeoff.fill(held, rows, "us", [1.0] * len(rows), [1.0] * len(rows))
    mask = np.arange(len(rows)) < 3
    held.show(shown=mask, ringed=mask, barred=mask)
    seen = []
    document = Document()
    for figure in held.figures:
        document.add_root(figure)
    document.on_change(seen.append)
    held.show(shown=mask.copy(), ringed=mask.copy(), barred=mask.copy())
    held.choose("cultivars", [])
    held.columns("cultivars", full=[1.0] * len(rows))
    held.bound("size_sugar", left=None, right=None, bottom=None, top=None)
    held.frame("size_sugar", xlabel=held.figures[0].xaxis[0].axis_label)
    assert seen == []


def test_columns_of_another_length_replace_all_of_the_old():
    held = Held(calendar.drawing((0.0, 9.0), False))
    columns = {name: [1.0, 2.0] for name in ("first", "last", "earliest", "latest", "row", "before", "after")}
    held.fill("rows", {**columns, "usual": ["a", "b"]})
    held.fill("rows", {"row": [1.0], "usual": ["c"]})
    assert dict(source_with(held.figures[2], "usual").data) == {"row": [1.0], "usual": ["c"]}


def test_what_is_chosen_is_told_once_each_and_only_where_there_is_such_a_row():
    """A browser may say anything: thousands of times the same, and rows that are not there."""
    held, told = Held(calendar.drawing((0.0, 9.0), False)), []
    held.fill("rows", {"row": [1.0, 2.0, 3.0], "usual": ["a", "b", "c"]})
    held.on_choose("rows", told.append)
    held._sources["rows"].selected.indices = [2, 0, 7, -1, *[0] * 60_000]
    assert told == [[0, 2]]
