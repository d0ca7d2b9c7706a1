"""The two sheets under the top line: what leaves the page (Share), and what is shown in a hall (Present). Each is made when it is first
opened, so that what few ask for costs an opening nothing."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import panel_material_ui as pmui
from markupsafe import Markup

from dashboard.charts import style
from dashboard.page.frame.running import running_order
from dashboard.page.hall.told import code_told, picture_told
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.copying import Copying
from dashboard.page.parts.downloads import Downloads
from dashboard.page.parts.elements import Prose, paragraphs
from dashboard.page.patches.named import Named
from dashboard.page.tabs.pictures import picture_saver
from dashboard.visit.network_address import own_only, reach
from dashboard.visit.state import PAIRS, State
from dashboard.wording.presenting import HERE_ONLY, OPEN_AT, PHONES, PICTURE, SEND_FILE

LISTS = {
    "Handout as .pdf": "orchard-slate-handout.pdf",
    "Handout as .xlsx": "orchard-slate-handout.xlsx",
    "List as .csv": "orchard-slate-shortlist.csv",
    "List as .xlsx": "orchard-slate-shortlist.xlsx",
}
ALL_THAT_PASS = {
    "All that pass, as .csv": "orchard-slate-ranking.csv",
    "All that pass, as .xlsx": "orchard-slate-ranking.xlsx",
    "Page for mail, as .html": "orchard-slate-page.html",
}
SHEET_CSS = f"""
:host {{ position: fixed; z-index: 1300; top: 44px; right: 8px; width: min(460px, 100vw - 16px); max-height: calc(100vh - 60px); overflow-y: auto;
  background: {style.PAPER}; border: 1px solid {style.LEAF}; border-radius: 0 0 8px 8px; box-shadow: 0 8px 24px rgba(0, 0, 0, .25); padding: 8px; box-sizing: border-box; }}
"""
# A phone has opened it, and needs no code to do so.
NO_PHONE = (
    f"@media (max-width: {style.PHONE}px) and (pointer: coarse) {{ :host {{ display: none !important; }} }}"
)
FOR_MAIL = "The page for mail holds every cultivar, for your buyer, and needs no server."
HALL = "Show it in the hall"
LANDS = "Your choices and your slate go with every link. This view and the code open on {}."


class Sheet(Named, Column):
    """What lies under the top line while it is open."""


def sheets(state: State, names: Mapping[str, str]) -> list[Sheet]:
    """``names`` of the tabs, by key."""
    return [
        _sheet(state, "share", "Share", lambda: _share(state, names)),
        _sheet(state, "present", "Present", lambda: _present(state)),
    ]


def _sheet(state: State, name: str, told: str, make: Callable[[], list[Any]]) -> Sheet:
    sheet = Sheet(
        role="dialog", told=told, visible=False, css_classes=["sheet"], stylesheets=[SHEET_CSS], margin=0
    )  # fmt: skip

    def show() -> None:
        if state.sheet == name and not len(sheet):
            sheet.extend(make())
        sheet.visible = state.sheet == name

    live.heed(state, show, "sheet")
    return sheet


def _share(state: State, names: Mapping[str, str]) -> list[Any]:
    code, lands = Prose(), Prose()
    slate, view = (
        Copying(label="Copy the link to my slate", margin=(0, 10, 8, 10)),
        Copying(margin=(0, 10, 8, 10)),
    )

    def draw() -> None:
        if state.sheet == "share":
            slate.visible = bool(state.shortlist) and "shortlist" in names and state.tab != "shortlist"
            slate.query = state.view_on("shortlist") if slate.visible else ""
            view.label = f"Copy the link to this view, {names[state.tab]}"
            lines = [*here_only(state.opened_at), LANDS.format(names[state.tab])]
            lands.say(paragraphs(lines, "quiet small"))
            code.say(_code(code_told(state.opened_at, state.view)))

    live.heed(state, draw, "question", "tab", "sheet", "opened_at")
    return [
        _heading("A link"),
        slate,
        view,
        lands,
        _elsewhere(code),
        _heading("My slate, to take home"),
        Downloads(state, LISTS),
        _heading("More files", FOR_MAIL),
        Downloads(state, ALL_THAT_PASS),
        _heading("Pictures of this tab"),
        picture_saver(state),
    ]


def _present(state: State) -> list[Any]:
    phones = Prose()

    def say() -> None:
        """Before the evening, while what is missing can still be mended."""
        if state.sheet == "present":
            phones.say(Markup("<p>{}</p>").format(reach(state.opened_at).why or PHONES))

    live.heed(state, say, "sheet", "opened_at")
    return [
        live.button(HALL, lambda: state.choose(look="hall", sheet=""), variant="contained"),
        _elsewhere(phones),
        _hall_picture(state),
        running_order(state),
    ]


def _hall_picture(state: State) -> pmui.Select:
    """Which two traits the hall's own picture shows; a prepared view keeps it."""
    menu = pmui.Select(label=PICTURE, options={picture_told(pair): pair for pair in PAIRS}, width=280)
    menu.param.watch(live.at_once(lambda event: state.choose(pair=event.new)), "value")

    def stand() -> None:
        menu.value = state.pair

    live.heed(state, stand, "pair")
    return menu


def _elsewhere(words: Prose) -> Column:
    return Column(words, sizing_mode="stretch_width", stylesheets=[NO_PHONE])


def here_only(opened_at: str) -> list[str]:
    """That a link of this page opens nowhere else, and what to do instead; [] where it does."""
    if not own_only(opened_at):
        return []
    found = reach(opened_at)
    return [HERE_ONLY.format(instead=OPEN_AT.format(found.base) if found.base else SEND_FILE)]


def _heading(title: str, more: str = "") -> Prose:
    said = Markup("<h3>{}</h3>").format(title)
    return Prose(said + Markup('<p class="quiet small">{}</p>').format(more) if more else said)


def _code(told: dict[str, str]) -> Markup:
    """The code a phone's camera reads, or why there is none."""
    if "why" in told:
        return Markup('<p class="quiet small">{}</p>').format(told["why"])
    return Markup('<figure>{}<figcaption class="quiet">For a phone in the same network: point its camera here.</figcaption></figure>').format(
        Markup(told["picture"])
    )  # fmt: skip
