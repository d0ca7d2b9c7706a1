"""A picture is drawn once for all; every visitor gets a copy of the drawing.

HoloViews takes some 80 ms to draw an overlay; copying the Bokeh models it made takes a fifth of that. Pictures drawn
together share what is the same in them, sources and filters, and so do their copies: what is chosen in one is chosen
in all without asking the server. A drawing holds looks and no figures; those are poured into each copy.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cache
from typing import Any

import holoviews as hv
from bokeh.core.property.validation import validate
from bokeh.core.serialization import Deserializer, Serializer
from bokeh.models import (
    AllIndices,
    BoxZoomTool,
    CDSView,
    ColumnDataSource,
    Filter,
    PanTool,
    SaveTool,
    WheelZoomTool,
)
from bokeh.models.renderers import GlyphRenderer
from bokeh.plotting import figure

from dashboard.charts import style

# The page's own dress for pictures, word for word: what the browser finds as it wants it, it does not paint anew.
FIGURE: dict[str, Any] = {
    "background_fill_color": style.PAPER, "border_fill_color": style.PAPER, "outline_line_color": style.INK, "outline_line_alpha": 0
}  # fmt: skip
AXIS: dict[str, Any] = {
    **{f"{line}_line_color": "rgba(0, 0, 0, 0.22)" for line in ("axis", "major_tick", "minor_tick")},
    **{f"{line}_line_alpha": 0 for line in ("axis", "major_tick", "minor_tick")},
    "major_label_text_color": "rgba(0, 0, 0, 0.6)", "axis_label_text_color": style.INK,
    "major_label_text_font": style.FONT, "axis_label_text_font": style.FONT,
    "major_label_text_font_size": "0.925em", "axis_label_text_font_size": "1em",
    "major_label_text_font_style": "normal", "axis_label_text_font_style": "normal", "axis_label_standoff": 12,
}  # fmt: skip

MOVING = (PanTool, WheelZoomTool, BoxZoomTool, SaveTool)


@cache
def ready() -> None:
    """Load what draws, once a process. In a notebook its scripts go into the output, so that pictures need no internet."""
    hv.extension("bokeh", logo=False, inline=True)
    hv.renderer("bokeh").webgl = False  # a few hundred marks are drawn faster without


class Drawing:
    """``pictures`` by name; see ``copy``."""

    def __init__(self, **pictures: hv.Dimensioned):
        figures = [_drawn(name, picture) for name, picture in pictures.items()]
        self._written = Serializer().encode(figures)

    def copy(self) -> list[figure]:
        """The figures, as models of their own; each has its name, and so have their sources and filters."""
        with validate(False):  # what was written has been looked at
            return Deserializer().decode(self._written)


def shared(source: ColumnDataSource, rows: Filter | None = None, **fields: str) -> Callable[[Any, Any], None]:
    """A hook: the element is drawn from these columns of ``source`` (``x="size"``), and only the ``rows`` of it."""

    def hook(plot, _element) -> None:
        drawn = plot.handles["glyph_renderer"]
        drawn.data_source = source
        drawn.view = CDSView(filter=rows or AllIndices())
        for glyph in (drawn.glyph, drawn.selection_glyph, drawn.nonselection_glyph):
            glyph.update(**fields)
        drawn.muted_glyph = None

    return hook


def known_as(name: str) -> Callable[[Any, Any], None]:
    """A hook: the figure has this name, by which it is found on the page, and stays where it is."""

    def hook(plot, _element) -> None:
        plot.state.name = name
        _still(plot.state)

    return hook


def _still(drawn: figure) -> None:
    """No picture is pushed away or enlarged, though layers bring tools for it: a thumb scrolls past it."""
    drawn.toolbar.tools = [tool for tool in drawn.toolbar.tools if not isinstance(tool, MOVING)]


def unchosen(plot, _element) -> None:
    """A hook for what looks the same whether rows are chosen or not: less to send, less to set up in the browser."""
    drawn = plot.handles["glyph_renderer"]
    drawn.selection_glyph = drawn.nonselection_glyph = None


def _drawn(name: str, picture: hv.Dimensioned) -> figure:
    drawn = hv.renderer("bokeh").get_plot(picture).state
    drawn.name = name
    drawn.toolbar.logo = None
    _still(drawn)
    drawn.title = drawn.context_menu = None
    drawn.update(**FIGURE)
    for axis in drawn.axis:
        axis.update(**AXIS)
    for grid in drawn.grid:
        if grid.grid_line_color is not None:
            grid.update(grid_line_color="rgba(0, 0, 0, 0.1)", grid_line_alpha=1)
    return drawn


def sources(figures: Sequence[figure]) -> dict[str, ColumnDataSource]:
    """The named sources of these figures."""
    found = (drawn.data_source for drawn in _glyphs(figures))
    return {str(one.name): one for one in found if one.name and isinstance(one, ColumnDataSource)}


def filters(figures: Sequence[figure]) -> dict[str, Any]:
    """The named filters of these figures."""
    found = (drawn.view.filter for drawn in _glyphs(figures))
    return {str(rows.name): rows for rows in found if rows.name}


def _glyphs(figures: Sequence[figure]) -> Iterator[GlyphRenderer]:
    for one in figures:
        yield from (drawn for drawn in one.renderers if isinstance(drawn, GlyphRenderer))
