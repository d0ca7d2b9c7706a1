"""The pictures of a published slate: the live page's own drawings with everything in them that filters may show."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
from bokeh.embed import components
from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.charts import calendar, drawing, tradeoff
from dashboard.charts.held import Held
from dashboard.terms.traits import HEADLINE


def pictures(asked: Question, rows: pd.Index) -> tuple[Markup, dict[str, Markup]]:
    """A script and by name the places of the pictures; ``rows`` are the cultivars that a filter may leave."""
    drawing.ready()
    fruit, season = _fruit(asked, rows), _season(asked)
    figures: dict[str, Any] = {
        str(figure.name): figure for held in (fruit, season) for figure in held.figures
    }
    del figures["cover"]  # its draws would not fit into a file that one can mail
    for figure in figures.values():
        figure.sizing_mode = "stretch_width"
    script, places = components(figures, wrap_script=False)
    return Markup(script), {
        name: Markup(place) for name, place in places.items()
    }  # Bokeh's own, escaped there


def _fruit(asked: Question, rows: pd.Index) -> Held:
    known = asked.catalogue.cultivars.loc[rows]
    inside = asked.fit["taken"].reindex(rows)
    held = Held(tradeoff.drawing())
    points = tradeoff.points(known, {trait: asked.values[trait].loc[rows] for trait in HEADLINE}, asked.units)
    tradeoff.fill(held, points, asked.units, tradeoff.full(inside), [1.0] * len(points))
    held.show(
        shown=np.ones(len(rows), dtype=bool),
        ringed=asked.not_beaten[asked.catalogue.cultivars.index.get_indexer(rows)],
    )
    tradeoff.bound(held, asked.bounds, asked.units)
    return held


def _season(asked: Question) -> Held:
    catalogue = asked.catalogue
    span = calendar.extent(catalogue.windows)
    held = Held(calendar.drawing(span, catalogue.south))
    windows = asked.windows
    inside = asked.fit["taken"].reindex(windows.index).to_numpy(dtype=bool)
    calendar.fill_season(held, calendar.picked_by_day(windows, inside, span))
    calendar.fill_page(held, calendar_rows(asked, windows.iloc[: calendar.PAGE]))
    calendar.fill_cover(held, None)
    return held


def calendar_rows(asked: Question, windows: pd.DataFrame) -> dict[str, Any]:
    """The columns of the calendar for ``windows`` in their order, at most a page of them."""
    catalogue = asked.catalogue
    span = calendar.extent(catalogue.windows)
    return {
        **calendar.page_rows(windows, asked.fit["taken"], 0, (), catalogue.checks, span),
        **calendar.told(windows, 0, catalogue.south),
    }


def all_calendar_rows(asked: Question) -> dict[str, list]:
    """The same columns for all cultivars by ripening; the browser takes from them the page it shows."""
    windows = asked.windows
    pages = [
        calendar_rows(asked, windows.iloc[at : at + calendar.PAGE])
        for at in range(0, len(windows), calendar.PAGE)
    ]
    whole: dict[str, list] = {}
    for page in pages:
        for name, values in page.items():
            plain = [_plain(value) for value in values]
            whole.setdefault(name, []).extend(plain)
    return whole


def _plain(value: Any) -> Any:
    if isinstance(value, float | np.floating):
        return round(float(value), 2) if np.isfinite(value) else None
    return str(value)
