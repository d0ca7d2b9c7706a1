"""The ripening calendar: the whole season at a glance, and under it every cultivar's row, a page at a time."""

from __future__ import annotations

import math
from functools import lru_cache

import pandas as pd
import panel as pn
import panel_material_ui as pmui
from markupsafe import Markup

from dashboard.charts import calendar
from dashboard.charts.drawing import Drawing
from dashboard.charts.held import Held
from dashboard.ripening import day_label, days_without, season_of
from dashboard.state import State
from dashboard.views import live
from dashboard.views.elements import Prose
from dashboard.views.words import counted, stretches


def season(state: State) -> pn.Column:
    catalogue = state.comparison.catalogue
    span, south = calendar.extent(catalogue.windows), catalogue.south
    held = Held(_drawing(span, south))
    here = {"page": 0}
    words = Prose()
    overview, rows = held.figures
    where = pmui.Select(label="Rows", options=_pages(state.comparison.windows, south), value=0, width=280)

    def turn(to: int) -> None:
        here["page"] = to
        show()

    back = live.button("Earlier", lambda: turn(here["page"] - 1), variant="outlined")
    on = live.button("Later", lambda: turn(here["page"] + 1), variant="outlined")
    jump = live.at_once(turn)
    where.param.watch(lambda event: jump(event.new) if event.new != here["page"] else None, "value")

    def fresh(*_parts) -> None:
        here["page"] = 0
        windows = state.comparison.windows
        calendar.fill_season(held, _by_day(state, span))
        where.options = _pages(windows, south)
        words.say(_words(state))
        show()

    def show(*_parts) -> None:
        windows = state.comparison.windows
        here["page"] = page = min(max(0, here["page"]), max(0, math.ceil(len(windows) / calendar.PAGE) - 1))
        asked = state.comparison
        columns = {
            **calendar.page_rows(windows, asked.fit["meets"], page, asked.shortlist, catalogue.checks, span),
            **calendar.told(windows, page, south),
        }
        calendar.fill_page(held, columns)
        where.value, back.disabled = page, page == 0
        on.disabled = (page + 1) * calendar.PAGE >= len(windows)

    live.follow(state, fresh, "windows", "fit", tab="season")
    live.follow(state, show, "shortlist", tab="season")
    return pn.Column(
        words,
        overview,
        pn.FlexBox(back, where, on, align_items="center"),
        Prose(BELOW),
        rows,
        sizing_mode="stretch_width",
    )


@lru_cache(maxsize=8)
def _drawing(span: tuple[float, float], south: bool) -> Drawing:
    return calendar.drawing(span, south)


def _by_day(state: State, span: tuple) -> dict:
    windows = state.comparison.windows
    return calendar.picked_by_day(
        windows, state.comparison.fit["meets"].reindex(windows.index).to_numpy(dtype=bool), span
    )


def _pages(windows: pd.DataFrame, south: bool) -> dict[str, int]:
    """Each page by the days it covers, so that one can jump to a part of the season."""
    pages = {}
    for page in range(max(1, math.ceil(len(windows) / calendar.PAGE))):
        part = windows.iloc[page * calendar.PAGE : (page + 1) * calendar.PAGE]
        if not len(part):
            return {"no rows": 0}
        first, last = (day_label(part["middle"].iloc[end], south) for end in (0, -1))
        pages[f"{page + 1}: ripe {first} to {last} ({len(part)})"] = page
    return pages


def _words(state: State) -> Markup:
    asked = state.comparison
    windows, south = asked.windows, asked.catalogue.south
    if not len(windows):
        return Markup("<h2>Season</h2><p>{}</p>").format(
            asked.emptied.sentence if asked.emptied else "No picks are recorded for these cultivars."
        )
    clearing = windows[asked.fit["meets"].reindex(windows.index).to_numpy(dtype=bool)]
    market = asked.catalogue.markets[asked.market].name if asked.market else ""
    which = (
        f"the {len(clearing)} that clear every limit of {market}"
        if market
        else f"these {counted(len(windows), 'cultivar')}"
    )
    said = Markup("<h2>Season</h2><p>{}</p><p><b>{}</b> {}</p>").format(
        f"Upper picture: how many of {counted(len(windows), 'cultivar')} with recorded picks are usually being picked on each day; "
        f"dark: {which}.",
        "Days without fruit:",
        _gaps(clearing, which, season_of(asked.catalogue.windows), south),
    )
    unknown = int(asked.passes.sum()) - len(windows)
    if unknown:
        said += Markup('<p class="quiet small">{} without a recorded pick: unknown, not absent.</p>').format(
            counted(unknown, "cultivar")
        )
    return said


def _gaps(clearing: pd.DataFrame, which: str, season: tuple[float, float], south: bool) -> str:
    whole = f"of the whole season, {day_label(season[0], south)} to {day_label(season[1], south)}"
    if clearing.empty:
        return f"none clears the limits, so every day {whole}."
    gaps = days_without(clearing, season)
    if not gaps:
        return f"none; on every day {whole}, one of {which} is usually being picked."
    return f"{stretches(gaps, south)}. On these days {whole}, none of {which} is usually being picked."


BELOW = Markup(
    '<p class="quiet small">A bar is the usual time of picking (dark: clears the market), the thin line runs from the earliest to the '
    "latest pick seen in any season. ★ is on your shortlist. These are raw averages over sites and seasons: a warm year moves every "
    "date, often by one to three weeks, mostly together.</p>"
)
