"""A copy is the whole picture: what was drawn, sharing what was shared, with names to find its parts by."""

from __future__ import annotations

import holoviews as hv
from bokeh.models import BoxZoomTool, ColumnDataSource, IndexFilter, PanTool, WheelZoomTool

from dashboard.charts import calendar, standing, tradeoff, weeks
from dashboard.charts.drawing import Drawing, filters, shared, sources, unchosen
from tests.charts.drawn import drawn


def drawing() -> Drawing:
    source, rows = (
        ColumnDataSource(name="all", data={"a": [1.0], "b": [2.0]}),
        IndexFilter(name="few", indices=[0]),
    )
    dots = hv.Points(([0.0], [0.0])).opts(color="red", hooks=[shared(source, rows, x="a", y="b"), unchosen])
    return Drawing(one=dots, two=dots.clone())


def test_a_copy_has_the_looks_of_the_drawing_and_models_of_its_own():
    made = drawing()
    one, other = made.copy(), made.copy()
    assert [figure.name for figure in one] == ["one", "two"]
    for figure in one:
        (dots,) = figure.renderers
        assert (dots.glyph.x.field, dots.glyph.y.field, dots.glyph.fill_color.value) == ("a", "b", "red")
        assert dots.selection_glyph is None
        assert dots.nonselection_glyph is None
    assert one[0] is not other[0]
    assert sources(one)["all"] is not sources(other)["all"]


def test_no_picture_is_pushed_away_or_enlarged(catalogue):
    span = calendar.extent(catalogue.windows)
    own = catalogue.picks[catalogue.picks["cultivar"] == "Briskwell"]
    figures = [
        *(
            one
            for made in (tradeoff.drawing(), weeks.drawing(), calendar.drawing(span, False))
            for one in made.copy()
        ),
        drawn(standing.seasons(own, span, False)),
    ]
    assert len(figures) > 5
    for figure in figures:
        assert not [
            tool for tool in figure.toolbar.tools if isinstance(tool, (PanTool, WheelZoomTool, BoxZoomTool))
        ]


def test_what_pictures_share_their_copies_share():
    one, two = drawing().copy()
    assert one.renderers[0].data_source is two.renderers[0].data_source
    assert one.renderers[0].view.filter is two.renderers[0].view.filter
    assert list(sources([one, two])) == ["all"]
    assert list(filters([one, two])) == ["few"]
