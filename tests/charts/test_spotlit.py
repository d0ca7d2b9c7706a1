"""The hall's picture: the same figures as on the page, marks twice as thick, and the one that is spoken of ringed."""

from __future__ import annotations

import numpy as np
import pytest
from bokeh.models import Span

from dashboard.charts import spotlit, tradeoff
from tests.charts.conftest import some_of
from tests.charts.drawn import column, renderers, source_with


def picture(catalogue, units: str = "us", which: str = "every row", pair: tuple = ("size", "sugar")):
    cultivars = catalogue.cultivars if which == "nothing known" else some_of(catalogue.cultivars, which)
    values = {key: some_of(frame, which) for key, frame in catalogue.values.items()}
    rows = tradeoff.points(cultivars, values, units)
    held = spotlit.held()
    spotlit.fill(held, rows, [1.0] * len(rows), [1.0] * len(rows), pair)
    return held, held.figures[0], rows


def plain(look) -> float:
    return float(getattr(look, "value", look))


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("pair", tradeoff.PAIRS)
def test_a_mark_stands_where_it_stands_on_the_page(catalogue, units, pair):
    _, figure, rows = picture(catalogue, units, pair=pair)
    source = source_with(figure, "cultivar", "mark")
    assert list(source.data["cultivar"]) == list(catalogue.cultivars.index)
    for axis, trait in zip(("x", "y"), pair, strict=True):
        np.testing.assert_allclose(column(source, axis), rows[trait])
        np.testing.assert_allclose(column(source, f"{axis}_high"), rows[f"{trait}_high"])
    for ranged, trait in zip((figure.x_range, figure.y_range), pair, strict=True):
        low, high = tradeoff.spread(rows[trait])
        assert ranged.start <= low
        assert high <= ranged.end


@pytest.mark.parametrize("pair", tradeoff.PAIRS)
def test_the_interval_of_whichever_is_spoken_of_is_seen_whole(catalogue, pair):
    _, figure, rows = picture(catalogue, pair=pair)
    for ranged, trait in zip((figure.x_range, figure.y_range), pair, strict=True):
        assert ranged.start < rows[f"{trait}_low"].min()
        assert rows[f"{trait}_high"].max() < ranged.end


def test_one_interval_of_no_use_does_not_press_all_others_together(catalogue):
    rows = tradeoff.points(catalogue.cultivars, catalogue.values, "us")
    low, high = tradeoff.spread(rows["size"])
    rows.loc[0, "size_high"] = high + 100 * (high - low)
    start, end = spotlit.room(rows, "size")
    assert start <= low
    assert end == pytest.approx(high + (high - low) / 2)


def test_what_is_spoken_of_is_drawn_over_the_frame_too(catalogue):
    _, figure, _ = picture(catalogue)
    levels = {(one.view.filter.name == "spot", one.level) for one in renderers(figure)}
    assert levels == {(True, "annotation"), (False, "glyph")}


def test_marks_and_limits_are_twice_as_large_as_on_the_page(catalogue):
    held, figure, _ = picture(catalogue)
    desk = tradeoff.drawing().copy()[0]

    large, small = (
        next(
            one.glyph
            for one in renderers(of)
            if getattr(getattr(one.glyph, "marker", None), "field", "") == "mark"
        )
        for of in (figure, desk)
    )
    for look in ("size", "line_width"):
        assert plain(getattr(large, look)) >= 2 * plain(getattr(small, look))
    held.bound(spotlit.NAME, left=2.5)
    (limit,) = figure.select({"type": Span})
    assert limit.line_width == 4


@pytest.mark.parametrize("which", ["spot", "starred", "ringed"])
def test_what_is_picked_out_is_drawn_for_those_alone(catalogue, which):
    held, figure, rows = picture(catalogue)
    mask = np.zeros(len(rows), dtype=bool)
    mask[1] = True
    held.show(**{which: mask})
    drawn = [one for one in renderers(figure) if one.view.filter.name == which]
    assert drawn
    assert all(list(one.view.filter.indices) == [1] for one in drawn)


def test_any_table_is_borne(catalogue, which):
    _, figure, rows = picture(catalogue, which=which)
    assert len(source_with(figure, "cultivar", "mark").data["x"]) == max(len(rows), 1)
    assert all(np.isfinite([figure.x_range.start, figure.x_range.end]))
