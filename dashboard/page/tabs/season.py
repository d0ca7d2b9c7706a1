"""The ripening calendar: the whole season at a glance, and under it every cultivar's row, a page at a time."""

from __future__ import annotations

import math
from functools import lru_cache, partial
from typing import Any

import pandas as pd
import panel_material_ui as pmui
from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.charts import calendar
from dashboard.charts.drawing import Drawing
from dashboard.charts.held import Held
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column, Wrapped
from dashboard.page.parts.elements import ChoiceBoxes, Prose, RowTable
from dashboard.page.parts.ticking import press, tick
from dashboard.page.parts.twin import twin
from dashboard.page.tabs.closers import closers_view, gaps_told
from dashboard.page.tabs.season_tables import weeks_view, windows_view
from dashboard.ripening import day_label, half_span
from dashboard.visit.state import State
from dashboard.wording.boxes import choice_group
from dashboard.wording.cautions import MOVES
from dashboard.wording.figures import DATED_WITH_COVER, counted
from dashboard.wording.legend import AROUND, BAR

OWN = -1  # the page of the shortlist


def season(state: State) -> Column:
    catalogue = state.question.catalogue
    span, south = calendar.extent(catalogue.windows), catalogue.south
    held = Held(_drawing(span, south))
    here: dict[str, Any] = {"page": 0, "names": []}
    heading, cover_told = Prose(), Prose()
    overview, cover, rows = held.figures
    kind, at_once, certainty = (
        ChoiceBoxes(partial(tick, state), groups=[choice_group(catalogue, name)], margin=(5, 10))
        for name in ("season_kind", "least", "certainty")
    )
    closers = RowTable(partial(press, state))
    where = pmui.Select(label="Rows", options=_pages(state.question.windows, south, 0), value=0, width=280)

    def turn(to: int) -> None:
        here["page"] = to
        show()

    back = live.button("Earlier", lambda: turn(here["page"] - 1), variant="outlined")
    on = live.button("Later", lambda: turn(here["page"] + 1), variant="outlined")
    jump = live.at_once(turn)
    where.param.watch(lambda event: jump(event.new) if event.new != here["page"] else None, "value")

    def fresh(*_parts) -> None:
        here["page"] = 0
        calendar.fill_season(held, _by_day(state, span))
        heading.say(_words(state))
        show()

    def show(*_parts) -> None:
        windows = state.question.windows
        asked = state.question
        listed = windows.index.isin(asked.shortlist)
        pages = _pages(windows, south, int(listed.sum()))
        if here["page"] not in pages.values():
            here["page"] = 0
        page = here["page"]
        where.options = pages
        if page == OWN:
            windows = windows[listed]
        columns = {
            **calendar.page_rows(
                windows, asked.fit["taken"], max(page, 0), asked.shortlist, catalogue.checks, span
            ),
            **calendar.told(windows, max(page, 0), south),
        }
        calendar.fill_page(held, columns)
        wanted = [half_span(half, south) for half in asked.ripening]
        held.bound(  # what lies outside the wanted weeks is shaded
            "calendar",
            left=min((a for a, _ in wanted), default=None),
            right=max((b for _, b in wanted), default=None),
        )
        held.choose("rows", [])
        here["names"] = columns["cultivar"]
        where.value, back.disabled = page, page <= 0
        on.disabled = page == OWN or (page + 1) * calendar.PAGE >= len(windows)

    held.on_choose("rows", live.at_once(lambda rows: state.open(here["names"][rows[0]]) if rows else None))

    def covered(*_parts) -> None:
        calendar.fill_cover(held, state.question.cover)
        asked = state.question
        weeks = ALL_WEEKS if asked.cover is not None and not asked.ripening else Markup("")
        others = OTHERS if asked.cover is not None and asked.shortlist else Markup("")
        cover_told.say(gaps_told(asked) + others + weeks)

    def closing(*_parts) -> None:
        closers.tell(closers_view(state.question))

    def ticked(*_parts) -> None:
        for boxes in (kind, at_once, certainty):
            (group,) = boxes.groups
            value = str(getattr(state.question, group["field"]))
            place = [option["value"] for option in group["options"]].index(value)
            boxes.tell([{"left": [], "chosen": [place]}])

    live.follow(state, fresh, "windows", "fit", tab="season")
    live.follow(state, show, "shortlist", tab="season")
    live.follow(state, covered, "cover", tab="season")
    live.follow(state, closing, "closers", "shortlist", tab="season")
    live.follow(state, ticked, "season_kind", "least", "certainty", tab="season")
    return Column(
        kind,
        heading,
        overview,
        at_once,
        certainty,
        cover_told,
        cover,
        twin(state, "Both pictures, week by week", weeks_view, "windows", "fit", "cover", tab="season"),
        closers,
        Wrapped(back, where, on),
        Prose(BELOW),
        rows,
        twin(
            state,
            "Time of picking of each cultivar",
            windows_view,
            "windows",
            "fit",
            "shortlist",
            tab="season",
        ),
        sizing_mode="stretch_width",
    )


@lru_cache(maxsize=8)
def _drawing(span: tuple[float, float], south: bool) -> Drawing:
    return calendar.drawing(span, south)


def _by_day(state: State, span: tuple) -> dict:
    windows = state.question.windows
    return calendar.picked_by_day(
        windows, state.question.fit["taken"].reindex(windows.index).to_numpy(dtype=bool), span
    )


def _pages(windows: pd.DataFrame, south: bool, listed: int) -> dict[str, int]:
    """Each page by the days it covers, so that one can jump to a part of the season; the shortlist is a page of its own."""
    pages = {f"your shortlist ({min(listed, calendar.PAGE)})": OWN} if listed else {}
    for page in range(max(1, math.ceil(len(windows) / calendar.PAGE))):
        part = windows.iloc[page * calendar.PAGE : (page + 1) * calendar.PAGE]
        if not len(part):
            return {"no rows": 0}
        first, last = (day_label(part["middle"].iloc[end], south) for end in (0, -1))
        pages[f"{page + 1}: ripe {first} to {last} ({len(part)})"] = page
    return pages


def _words(state: State) -> Markup:
    asked = state.question
    windows = asked.windows
    if not len(windows):
        return Markup("<h2>Season</h2><p>{}</p>").format(
            asked.emptied.sentence if asked.emptied else "No picks are recorded for these cultivars."
        )
    said = Markup("<h2>Season</h2><p>{}</p>").format(picked_told(asked))
    unknown = int(asked.passes.sum()) - len(windows)
    if unknown:
        said += Markup('<p class="quiet small">{} without a recorded pick: unknown, not absent.</p>').format(
            counted(unknown, "cultivar")
        )
    return said


def picked_told(asked: Question) -> str:
    """What the first picture shows, of whom, and for which buyer."""
    windows, dark = asked.windows, ""
    if asked.profile:
        taken = int(asked.fit["taken"].reindex(windows.index).sum())
        dark = f"; dark: the {taken} that qualify, or may, for {asked.profile.name}"
    return (
        f"How many of {counted(len(windows), 'cultivar')} with recorded picks are being picked on each day of {DATED_WITH_COVER[asked.season_kind]}"
        f"{dark}."
    )


ALL_WEEKS = Markup(
    '<p class="quiet small">All weeks of the season are judged; tick those you sell in under “Picked in”, and only they are.</p>'
)
OTHERS = Markup(
    '<p class="quiet small">What all that pass give, week by week, whatever is on your shortlist: By class.</p>'
)
ROWS_READ = f"{BAR} (dark: qualifies for the market, or may); {AROUND}"
BELOW = Markup('<p class="quiet small">{}</p>').format(
    f"{ROWS_READ} Press a bar to open the cultivar. ★ is on your shortlist. {MOVES}"
)
