"""My slate: what was put aside, what it covers, and the lists it is compared with."""

from __future__ import annotations

from functools import partial

import pandas as pd
from markupsafe import Markup

from dashboard.answers.side_by_side import FEWEST, MOST
from dashboard.charts import listing
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column, Wrapped
from dashboard.page.parts.elements import Prose, RowTable, paragraphs
from dashboard.page.parts.ticking import press
from dashboard.page.tabs.lists import bring, compare
from dashboard.ripening import day_label, days_without, season_of
from dashboard.ripening.cover import Cover
from dashboard.visit.state import State
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.covered import statement
from dashboard.wording.figures import counted, listed, of_hundred, stretches
from dashboard.wording.gaps import gaps_head, hardest_told, nearest_told, uncovering_told, usual_told
from dashboard.wording.lists import droppable_told, unoffered_told
from dashboard.wording.my_site import slate_told as chill_of_slate


def my_slate(state: State) -> Column:
    head, words = Prose(), Prose()

    def in_order() -> pd.DataFrame:
        return state.question.shortlisted.sort_values("middle", na_position="last")

    table = RowTable(partial(press, state))
    share = live.button(
        "Print it, save it, send it", lambda: state.choose(sheet="share"), variant="contained"
    )
    abreast = live.button(
        "Set them side by side", lambda: state.choose(beside=tuple(in_order().index[:MOST]), tab="beside"), variant="outlined"
    )  # fmt: skip
    gone: list[str] = []  # what was on it when it was emptied
    clear = live.button("Empty my slate", lambda: empty(), variant="text")
    back = live.button(
        "Put them back", lambda: state.choose(shortlist=tuple(gone)), variant="contained", visible=False
    )

    def empty() -> None:
        gone[:] = state.shortlist
        state.choose(shortlist=())

    def show(rows, *_parts) -> None:
        asked = state.question
        clear.visible = share.visible = bool(len(rows))
        back.visible = bool(gone) and not len(rows)
        back.label = f"Put the {len(gone)} back" if len(gone) > 1 else "Put it back"
        abreast.visible = len(rows) >= FEWEST
        abreast.label = f"Set the first {MOST} side by side" if len(rows) > MOST else "Set them side by side"
        head.say(first(state))
        words.say(told(state) if len(rows) else Markup(""))
        table.tell(
            {
                "title": "My slate, in the order of picking",
                **listing.table(asked, in_order(), listed=True),
                "empty": "Nothing yet. Press ☆ beside a cultivar, or Build a slate over the tabs.",
            }
        )

    live.follow(
        state,
        show,
        "shortlisted",
        "profile",
        "units",
        "cover",
        "fit",
        "columns",
        "droppable",
        "my_site",
        "chill",
        tab="shortlist",
    )
    return Column(
        head,
        table,
        Wrapped(share, abreast, clear, back),
        words,
        bring(state),
        compare(state),
        sizing_mode="stretch_width",
    )


def first(state: State) -> Markup:
    """How many, and when they are picked; on an empty one, how to begin."""
    rows = state.question.shortlisted
    said = Markup("<h2>My slate</h2>")
    if not len(rows):
        return said + Markup("<p>{}</p>").format(EMPTY)
    south, known = state.question.catalogue.south, rows.dropna(subset=["first"])
    cover = (
        f", usually picked from {day_label(known['first'].min(), south)} to {day_label(known['last'].max(), south)}"
        if len(known)
        else ""
    )
    usual = usual_told(state.question.catalogue.ripening) if cover else ""
    return said + Markup("<p><b>{}</b>{}. {} {}</p>").format(
        counted(len(rows), "cultivar"), cover, usual, CARRIED
    )


def told(state: State) -> Markup:
    """What it covers, what could go, what needs a license."""
    rows, said = state.question.shortlisted, Markup("")
    south = state.question.catalogue.south
    known = rows.dropna(subset=["first"])
    season = season_of(state.question.catalogue.windows)
    protected = state.question.catalogue.cultivars.loc[list(rows.index), "protected"].eq(True)
    cover_of_it = state.question.cover
    if len(known) and cover_of_it is not None:
        said += Markup("<p><b>{}</b> {}</p>").format(
            statement(cover_of_it, state.question.season_kind), _thinnest(cover_of_it, south)
        )
        if gaps := stretches([(gap.first, gap.last) for gap in cover_of_it.gaps], south):
            said += Markup("<p><b>{}:</b> {}. {}</p>").format(
                gaps_head(state.question), gaps, nearest_told(cover_of_it, south)
            )
    elif len(known):
        gaps = stretches(days_without(known, season), south) or "none"
        said += Markup("<p><b>Days of the season usually without fruit from it:</b> {}.</p>").format(gaps)
    said += paragraphs([
        *uncovering_told(state.question, [str(name) for name in rows.index]), *hardest_told(state.question), *droppable_told(state.question), *chill_of_slate(state.question),
        *unoffered_told(state.question.catalogue, list(rows.index)),
    ])  # fmt: skip
    if protected.any():
        names = listed([str(name) for name in rows.index[protected.to_numpy()]])
        said += Markup("<p>{}</p>").format(f"Protected, you need a license to propagate: {names}.")
    return said + Markup('<p class="quiet small">{}</p>').format(CAUTION)


def _thinnest(cover: Cover, south: bool) -> str:
    """The day with the least sure fruit; "" where there are gaps, which say more."""
    if cover.gaps:
        return ""
    least = of_hundred(float(cover.chance.min()))
    return f"It is thinnest on {day_label(cover.days[cover.chance.argmin()], south)}: fruit in {least} of 100 years."


CARRIED = "The link to this page carries it: reload, bookmark or send it."
EMPTY = f"What you put aside with ☆ gathers here. {CARRIED}"
CAUTION = f"{CAUTIONS[0]} Before you order, ask your local extension service. Ask the plant-health office and a licensed adviser, too."
