"""The trade-off pictures hold the frame's own numbers, in one shape for every answer."""

from __future__ import annotations

import numpy as np
import pytest
from bokeh.models import BoxAnnotation, BoxSelectTool, IndexFilter, Span, TapTool

from dashboard.charts import style, tradeoff
from dashboard.charts.held import Held
from tests.charts.conftest import some_of
from tests.charts.drawn import column, one_length, renderers, source_with, sources

# Exact by definition: an inch is 25.4 mm, a pound-force 0.45359237 kg times 9.80665 m/s2.
WRITTEN = {"us": {"size": 1 / 25.4, "firmness": 1 / (0.45359237 * 9.80665), "sugar": 1.0},
           "si": {"size": 1.0, "firmness": 1.0, "sugar": 1.0}}  # fmt: skip


def rows_of(catalogue, units: str = "us", which: str = "every row"):
    cultivars = catalogue.cultivars if which == "nothing known" else some_of(catalogue.cultivars, which)
    values = {key: some_of(frame, which) for key, frame in catalogue.values.items()}
    return tradeoff.points(cultivars, values, units)


def pictures(rows, units: str = "us"):
    held = Held(tradeoff.drawing())
    tradeoff.fill(held, rows, units, [1.0] * len(rows), [1.0] * len(rows))
    return held, dict(zip(tradeoff.PAIRS, held.figures, strict=True))


@pytest.fixture(scope="module")
def to_look_at(catalogue, prepared) -> dict:
    """Drawn once in each system of units, for the tests that only look."""
    return {units: pictures(rows_of(catalogue, units), units)[1] for units in ("us", "si")}


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("pair", tradeoff.PAIRS)
def test_a_mark_stands_at_the_cultivar_s_own_estimates(catalogue, to_look_at, units, pair):
    marks = source_with(to_look_at[units][pair], "cultivar", "mark")
    assert list(marks.data["cultivar"]) == list(catalogue.cultivars.index)
    for trait in pair:
        expected = catalogue.values[trait]["estimate"].to_numpy() * WRITTEN[units][trait]
        np.testing.assert_allclose(column(marks, trait), expected, rtol=1e-12)


@pytest.mark.parametrize("pair", tradeoff.PAIRS)
def test_a_mark_s_fill_and_shape_are_those_of_the_legend(catalogue, to_look_at, pair):
    marks = source_with(to_look_at["us"][pair], "cultivar", "mark")
    classes = catalogue.cultivars
    assert list(marks.data["fill"]) == [style.fill(flesh) for flesh in classes["flesh_colour"]]
    assert list(marks.data["mark"]) == [
        style.mark(flesh, shape)
        for flesh, shape in zip(classes["flesh_colour"], classes["shape_type"], strict=True)
    ]


@pytest.mark.parametrize("pair", tradeoff.PAIRS)
def test_an_interval_bar_runs_from_low_to_high_through_its_mark(catalogue, to_look_at, pair):
    rows, (x, y) = rows_of(catalogue), pair
    across, upright = renderers(to_look_at["us"][pair])[:2]
    for bars, ends in (
        (across, (f"{x}_low", y, f"{x}_high", y)),
        (upright, (x, f"{y}_low", x, f"{y}_high")),
    ):
        assert tuple(getattr(bars.glyph, end).field for end in ("x0", "y0", "x1", "y1")) == ends
        assert bars.view.filter.name == "barred"
        for name in ends:
            np.testing.assert_array_equal(column(bars.data_source, name), rows[name])


def test_the_shape_is_the_same_however_many_pass(catalogue):
    rows = rows_of(catalogue)
    held, made = pictures(rows)
    before = {pair: ([r.id for r in renderers(f)], [s.id for s in sources(f)]) for pair, f in made.items()}
    count = len(rows)
    for passing in (0, 1, count):
        mask = np.arange(count) < passing
        held.show(shown=mask, ringed=mask & (np.arange(count) == 0), barred=mask)
        after = {pair: ([r.id for r in renderers(f)], [s.id for s in sources(f)]) for pair, f in made.items()}
        assert after == before
        for figure in made.values():
            marks = next(r for r in renderers(figure) if "mark" in r.data_source.data)
            assert isinstance(marks.view.filter, IndexFilter)
            assert list(marks.view.filter.indices) == list(range(passing))
            assert len(marks.data_source.data["cultivar"]) == count


def test_the_three_pictures_share_one_source_and_their_filters(catalogue):
    held, made = pictures(rows_of(catalogue))
    drawn_from = {renderer.data_source.id for figure in made.values() for renderer in renderers(figure)}
    assert len(drawn_from) == 1
    for place, name in ((0, "barred"), (1, "barred"), (2, "ringed"), (3, "shown")):
        used = {id(renderers(figure)[place].view.filter) for figure in made.values()}
        assert len(used) == 1
        assert renderers(held.figures[0])[place].view.filter.name == name


def test_what_a_person_chooses_is_told_once_and_what_is_set_is_not(catalogue):
    rows, told = rows_of(catalogue), []
    held, made = pictures(rows)
    held.on_choose("cultivars", told.append)
    source_with(made["size", "sugar"], "cultivar", "mark").selected.indices = [4, 2]
    assert told == [[2, 4]]
    held.choose("cultivars", [4, 2])
    assert told == [[2, 4]]


def test_a_limit_is_a_line_and_a_shade_on_its_far_side(catalogue):
    held, made = pictures(rows_of(catalogue))
    held.bound("size_sugar", left=2.5, right=None, bottom=None, top=15.0)
    figure = made["size", "sugar"]
    lines = [at for at in figure.center if isinstance(at, Span) and at.visible]
    shades = [at for at in figure.center if isinstance(at, BoxAnnotation) and at.visible]
    assert {(line.dimension, line.location) for line in lines} == {("height", 2.5), ("width", 15.0)}
    assert {shade.right for shade in shades if isinstance(shade.right, float)} == {2.5}
    assert {shade.bottom for shade in shades if isinstance(shade.bottom, float)} == {15.0}
    held.bound("size_sugar", left=None, right=None, bottom=None, top=None)
    assert not any(at.visible for at in figure.center if isinstance(at, Span | BoxAnnotation))


def test_marks_outside_the_market_are_pale_in_every_picture(catalogue):
    rows = rows_of(catalogue)
    held, made = pictures(rows)
    inside = np.arange(len(rows)) % 3 == 0
    held.columns("cultivars", full=[1.0 if ok else 0.4 for ok in inside])
    for figure in made.values():
        assert list(source_with(figure, "cultivar", "mark").data["full"]) == [
            1.0 if ok else 0.4 for ok in inside
        ]


def test_other_units_move_the_numbers_and_draw_nothing_anew(catalogue):
    held, made = pictures(rows_of(catalogue))
    before = {pair: [s.id for s in sources(figure)] for pair, figure in made.items()}
    tradeoff.fill(
        held,
        rows_of(catalogue, "si"),
        "si",
        [1.0] * len(rows_of(catalogue, "si")),
        [1.0] * len(rows_of(catalogue, "si")),
    )
    for pair, figure in made.items():
        assert [s.id for s in sources(figure)] == before[pair]
        marks = source_with(figure, "cultivar", "mark")
        for trait in pair:
            np.testing.assert_allclose(column(marks, trait), catalogue.values[trait]["estimate"], rtol=1e-12)
        known = catalogue.values[pair[0]]["estimate"].dropna()
        assert figure.x_range.start < known.min() < known.max() < figure.x_range.end
    assert "Size (mm)" in {axis.axis_label for axis in made["size", "sugar"].below}
    assert "Firmness (N)" in {axis.axis_label for axis in made["size", "firmness"].left}


def test_every_known_estimate_lies_inside_the_axes(catalogue, to_look_at):
    rows = rows_of(catalogue)
    for (x, y), figure in to_look_at["us"].items():
        for trait, ends in ((x, figure.x_range), (y, figure.y_range)):
            known = rows[trait].dropna()
            assert ends.start < known.min()
            assert known.max() < ends.end


@pytest.mark.alike(2)
def test_any_table_is_drawn(catalogue, which):
    rows = rows_of(catalogue, which=which)
    held, made = pictures(rows)
    everything = np.ones(len(rows), dtype=bool)
    held.show(shown=everything, ringed=~everything, barred=everything)
    held.choose("cultivars", [])
    for figure in made.values():
        assert all(one_length(source) for source in sources(figure))
        assert np.isfinite(
            [figure.x_range.start, figure.x_range.end, figure.y_range.start, figure.y_range.end]
        ).all()
        assert figure.x_range.start < figure.x_range.end


def test_every_drag_is_left_to_the_page_and_each_press_adds_or_clears_a_mark(catalogue):
    _, made = pictures(rows_of(catalogue))
    for figure in made.values():
        assert (figure.toolbar.active_drag, figure.toolbar.active_multi) == (None, None)
        assert figure.select(BoxSelectTool)  # made ready where a mouse comes
        (tap,) = figure.select(TapTool)
        assert tap.mode == "xor"


def test_words_say_what_is_not_known(catalogue):
    rows = rows_of(catalogue).set_index("cultivar")
    assert "range not known" in rows.loc["Unpicked", "told_size"]
    assert rows.loc["Unpicked", "evidence"] == "not sampled"
    assert rows.loc["T 15-118", "told_sugar"].startswith("–")
    assert "in" in rows.loc["Aldermere", "told_size"]
