"""What is set before a drawing stands in it, and what is set again is not sent again."""

from __future__ import annotations

import numpy as np
from bokeh.document import Document

from dashboard.charts import calendar, tradeoff
from dashboard.charts.held import Held
from tests.charts.drawn import drawn, source_with


def test_what_is_set_before_the_drawing_stands_in_the_drawing(catalogue):
    rows = tradeoff.points(catalogue.cultivars, catalogue.values, "us")
    held = Held(len(rows))
    mask = np.arange(len(rows)) < 3
    held.show(mask, mask, mask)
    held.choose([2])
    held.pale(mask, 0.25)
    held.bound("size-sugar", left=2.0, right=None, bottom=None, top=None)
    figure = drawn(tradeoff.tradeoff(rows, "size", "sugar", "us", held))
    marks = source_with(figure, "cultivar", "mark")
    assert marks.selected.indices == [2]
    assert list(marks.data["full"]) == [1.0 if ok else 0.25 for ok in mask]
    assert [
        at.location for at in figure.center if getattr(at, "dimension", "") == "height" and at.visible
    ] == [2.0]


def test_the_same_answer_again_changes_nothing(catalogue):
    rows = tradeoff.points(catalogue.cultivars, catalogue.values, "us")
    held = Held(len(rows))
    figure = drawn(tradeoff.tradeoff(rows, "size", "sugar", "us", held))
    mask = np.arange(len(rows)) < 3
    held.show(mask, mask, mask)
    seen = []
    document = Document()
    document.add_root(figure)
    document.on_change(seen.append)
    held.show(mask.copy(), mask.copy(), mask.copy())
    held.choose([])
    held.bound("size-sugar", left=None, right=None, bottom=None, top=None)
    held.frame("size-sugar", xlabel=figure.xaxis[0].axis_label)
    assert seen == []


def test_columns_of_another_length_replace_all_of_the_old():
    held = Held(0)
    frame = {
        name: [1.0, 2.0]
        for name in ("first", "last", "earliest", "latest", "row", "row_", "middle", "before", "after")
    }
    words = {
        name: ["a", "b"]
        for name in ("cultivar", "colour", "color", "name_before", "name_after", "usual", "seen", "seasons")
    }
    figure = drawn(calendar.calendar({**frame, **words}, (0.0, 9.0), False, held))
    calendar.fill_page(held, {name: values[:1] for name, values in {**frame, **words}.items()})
    source = source_with(figure, "usual")
    assert {len(values) for values in source.data.values()} == {1}
