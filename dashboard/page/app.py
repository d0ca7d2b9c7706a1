"""The page: which views stand on it, for one visitor."""

from __future__ import annotations

import logging
import os
import re
import weakref
from collections.abc import Callable, Iterator
from functools import lru_cache, partial
from pathlib import Path
from typing import Any

import panel as pn
import panel_material_ui as pmui
from markupsafe import Markup

from dashboard import places
from dashboard.answers import catalogue
from dashboard.charts import drawing, style
from dashboard.charts.in_a_cell import shown_by_bokeh
from dashboard.page.crowd.furnishing import in_turn
from dashboard.page.frame.body import body
from dashboard.page.frame.filling import filling
from dashboard.page.frame.filters import filters
from dashboard.page.frame.header import TITLE, header
from dashboard.page.frame.headline import headline, notices
from dashboard.page.frame.quick import quick
from dashboard.page.frame.strip import slate_strip
from dashboard.page.frame.tab_bar import tabs
from dashboard.page.hall.view import hall
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.elements import Prose
from dashboard.page.parts.files import Files
from dashboard.page.patches import untied
from dashboard.page.patches.joined import joining
from dashboard.page.patches.thumb import Thumb
from dashboard.page.patches.walking import Walking
from dashboard.page.sheets import sheets
from dashboard.page.tabs.by_class import classes
from dashboard.page.tabs.candidates import candidates
from dashboard.page.tabs.my_site import my_site
from dashboard.page.tabs.my_slate import my_slate
from dashboard.page.tabs.one_cultivar import cultivar
from dashboard.page.tabs.order import order
from dashboard.page.tabs.own import OwnTabs
from dashboard.page.tabs.records import records
from dashboard.page.tabs.season import season
from dashboard.page.tabs.side_by_side import beside
from dashboard.records import RecordError
from dashboard.visit.state import State

FOLDER = places.FOLDER
NOT_MADE = Markup(
    "<h2>This page could not be put together</h2><p>What went wrong stands in the server’s log. Reload to try again; if it stays so, "
    "tell whoever runs this page.</p>"
)
# Its colors by their names.
TEMPLATE = re.sub(
    r"var\(--(\w+)\)",
    lambda named: style.NAMED[named[1]],
    Path(__file__).with_name("page.html").read_text("utf-8"),
)
TAB_NAMES = {
    "fruit": "Candidates",
    "season": "Season",
    "classes": "By class",
    "cultivar": "One cultivar",
    "beside": "Side by side",
    "shortlist": "My slate",
    "order": "How many trees",
    "site": "My site",
    "records": "Records",
}
AT_HAND = ("fruit", "season", "beside", "shortlist")  # on a phone, along its lower edge
THEME = {
    "palette": {
        "primary": {"main": style.LEAF},
        "text": {"primary": style.INK},
        "background": {"paper": style.PAPER},
    },
    "typography": {
        "fontFamily": style.FONT,
    },
    "components": {  # a line of 44 pixels, which is ours from end to end
        "MuiToolbar": {
            "styleOverrides": {
                "root": {
                    "&&": {"minHeight": 44, "paddingLeft": 12, "paddingRight": 8},
                    "& a": {"display": "none !important"},  # the title of the shell, a link to where one is
                }
            }
        },
        "MuiTypography": {"styleOverrides": {"h5": {"lineHeight": 1}}},
        "MuiAppBar": {"styleOverrides": {"root": {"boxShadow": "none"}}},
        "MuiLinearProgress": {"styleOverrides": {"root": {"display": "none"}}},
    },
}
log = logging.getLogger(__name__)


def prepare() -> None:
    """Load what every page needs; called before each page, and cheap after the first. In a notebook the scripts go into its
    outputs, so that it draws without internet."""
    drawing.ready()
    pn.extension(throttled=True, inline=True)
    shown_by_bokeh()


def rehearse() -> None:
    """Build one page for nobody, so that the first visitor finds every library and every answer warm."""
    prepare()
    page().get_root()


def page(folder: str | Path | None = None, tab: str = "fruit", market: str = "") -> pmui.Page:
    """The whole page for one visitor, on the records of ``folder`` (or the folder the server was started with).

    ``tab`` is the one it opens on where the address asks for nothing, and ``market`` the one it asks for: a key, a title, or a
    profile's file. MarketError or ValueError, one sentence, for a market that is not there.
    """
    source = places.place_of(folder or os.environ.get(FOLDER) or places.demo_data())
    bare = f"?v=1&year=any&tab={tab}"  # of any year: who orders trees does not know which kind comes
    try:
        known = catalogue.load(source)
    except RecordError as error:
        return shell_of(_within(_faults(source, error)))
    if market:
        known, key = _with_market(known, market)
        bare += f"&market={key}"
    try:
        return _page(known, bare)
    except Exception:
        log.exception("a page could not be made")
        return shell_of(_within(Prose(NOT_MADE)))


def _page(known: catalogue.Catalogue, bare: str, own: OwnTabs | None = None) -> pmui.Page:
    """``bare``: what is asked where the address asks for nothing; ``own``: the tabs that a notebook names."""
    location = pn.state.location
    asked = location.search if location is not None else ""
    state = State(known, asked, bare, own.names) if own else State(known, asked, bare)
    if own:
        own.told(state)
    report_faults(state)
    shell = shell_of([])

    here = pn.state.curdoc
    served: Any = here if here is not None and here.session_context is not None else None

    def furnish() -> Iterator[None]:
        """Piece by piece, so that others are answered in between."""
        line = header(state)
        top = (
            *sheets(state, own.names if own else TAB_NAMES),
            notices(state),
            slate_strip(state),
            quick(state),
            filling(state),
        )
        yield
        opened = tabs_of(state, own)
        yield
        choices = filters(state)
        yield
        main = _within(*top, body(choices, headline(state), opened), Walking(), Thumb(), Files())
        hall(state, *main)
        with joining(served):
            shell.header = [line]
        yield
        with joining(served):
            shell.main = main

    def refuse() -> None:
        with joining(served):
            shell.main = _within(Prose(NOT_MADE))

    if served is not None:  # while the browser reads its scripts; it asks for the document only after that
        served.add_next_tick_callback(partial(in_turn, served, furnish, refuse, (shell, state, location)))
    else:
        for _ in furnish():
            pass
    if location is not None:
        state.param.watch(
            lambda *_events: write_link(location, state), ["question", "tab", "look", "pair", "shown"]
        )
        location.param.watch(
            live.at_once(
                lambda event: state.follow(event.new or state.bare) if event.new != state.link else None
            ),
            "search",
        )
    return shell


_with_market = lru_cache(maxsize=8)(catalogue.with_market)  # one for all visitors of a notebook


def tabs_of(state: State, own: OwnTabs | None = None) -> Column:
    """The tabs, and how what stands under each is made."""
    make: dict[str, Callable[[], pn.viewable.Viewable]] = {
        "fruit": lambda: candidates(state),
        "season": lambda: season(state),
        "classes": lambda: classes(state),
        "cultivar": lambda: cultivar(state),
        "beside": lambda: beside(state),
        "shortlist": lambda: my_slate(state),
        "order": lambda: order(state),
        "site": lambda: my_site(state),
        "records": lambda: records(state),
    }
    if own:
        return tabs(state, own.names, make | own.make(state), AT_HAND)
    return tabs(state, TAB_NAMES, make, AT_HAND)


def shell_of(main: list) -> pmui.Page:
    shell = pmui.Page(
        title=TITLE,
        template=TEMPLATE,
        main=main,
        theme_toggle=False,
        busy_indicator=None,  # it would never stir: the tie is cut below
        theme_config=THEME,
    )
    untied.from_the_busy_flag(
        shell
    )  # tests/test_visitors.py goes red when this is no longer needed or no longer works
    return shell


def _within(*parts) -> list:
    # As high as what is in it: what stays in sight on a phone does so only within its column.
    return [Column(*parts, sizing_mode="stretch_width", styles={"min-height": "max-content"})]


def report_faults(state: State) -> None:
    """An unexpected fault is logged and told; the last answer stays on the screen.

    The handler must not hold the state: Panel keeps handlers by session in a table that would then never empty.
    """
    seen = weakref.ref(state)

    def handler(fault: Exception) -> None:
        log.error("a choice could not be followed", exc_info=fault)
        visitor = seen()
        if visitor is not None:
            visitor.notices = (
                "That could not be worked out; the last answer still stands. Reload the page if it stays so.",
            )

    pn.config.exception_handler = handler


def write_link(location, state: State) -> None:
    if (location.search or state.first_view) != state.link:  # the bare address asks for a first visit
        location.search = state.link


def _faults(source: str | Path, error: RecordError) -> Prose:
    lines = Markup("").join(Markup("<li>{}</li>").format(problem.sentence) for problem in error.problems)
    text = Markup("<h2>These records could not be read</h2><p>{}</p><ul>{}</ul>").format(
        source.name if isinstance(source, Path) else source, lines
    )
    return Prose(text)
