"""What stands in a drawn picture: its sources by the columns they have, its filters, its ranges."""

from __future__ import annotations

import holoviews as hv
import numpy as np
from bokeh.models import ColumnDataSource, GlyphRenderer, Plot


def drawn(element) -> Plot:
    return hv.renderer("bokeh").get_plot(element).state


def source_with(figure: Plot, *columns: str) -> ColumnDataSource:
    """The one source that has all these columns."""
    found = {source.id: source for source in sources(figure) if set(columns) <= set(source.data)}
    assert len(found) == 1, f"{len(found)} sources have {columns}"
    return next(iter(found.values()))


def sources(figure: Plot) -> list[ColumnDataSource]:
    return [renderer.data_source for renderer in renderers(figure)]


def renderers(figure: Plot) -> list[GlyphRenderer]:
    return [renderer for renderer in figure.renderers if isinstance(renderer, GlyphRenderer)]


def column(source: ColumnDataSource, name: str) -> np.ndarray:
    return np.asarray(source.data[name])


def one_length(source: ColumnDataSource) -> bool:
    return len({len(values) for values in source.data.values()}) <= 1
