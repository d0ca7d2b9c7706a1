"""The shortlist: what was put aside, what it covers, and how to take it home."""

from __future__ import annotations

import io
from functools import partial

import numpy as np
import pandas as pd
import panel_material_ui as pmui
from markupsafe import Markup

from dashboard.beside import FEWEST, MOST
from dashboard.handout import booklet, tables, workbook
from dashboard.ripening import day_label, days_without, season_of
from dashboard.season import SURE, WANTED, Cover
from dashboard.state import State
from dashboard.views import listing, live
from dashboard.views.boxes import Column, Wrapped
from dashboard.views.copying import Copying
from dashboard.views.elements import Prose, RowTable
from dashboard.views.running import running_order
from dashboard.words import counted, listed, missing, stretches


def shortlist(state: State) -> Column:
    words = Prose()

    def in_order() -> pd.DataFrame:
        return state.comparison.shortlisted.sort_values("middle", na_position="last")

    table = RowTable(partial(listing.press, state))
    downloads = [
        pmui.FileDownload(
            callback=lambda write=write, part=part: io.BytesIO(write(state.comparison, part)), filename=f"orchard-slate-{part}.{ending}",
            label=label, variant="outlined",
        )
        for part, ending, write, label in (
            ("shortlist", "csv", tables.csv, "Shortlist as .csv"), ("shortlist", "xlsx", tables.xlsx, "Shortlist as .xlsx"),
            ("ranking", "csv", tables.csv, "All that pass, as .csv"), ("ranking", "xlsx", tables.xlsx, "All that pass, as .xlsx"),
            ("handout", "pdf", booklet.made, "Handout as .pdf"), ("handout", "xlsx", workbook.made, "Handout as .xlsx"),
        )
    ]  # fmt: skip
    abreast = live.button(
        "Set them side by side", lambda: state.choose(beside=tuple(in_order().index[:MOST]), tab="beside"), variant="outlined"
    )  # fmt: skip
    clear = live.button("Empty the shortlist", lambda: state.choose(shortlist=()), variant="text")

    def show(rows, *_parts) -> None:
        asked = state.comparison
        clear.visible = bool(len(rows))
        abreast.visible = len(rows) >= FEWEST
        abreast.label = f"Set the first {MOST} side by side" if len(rows) > MOST else "Set them side by side"
        words.say(told(state))
        table.tell(
            {
                "title": "Your shortlist, in the order of picking",
                "columns": listing.columns(asked, leads=False),
                "rows": [
                    listing.row(asked, name, values, mark_chosen=False, leads=False)
                    for name, values in listing.written_rows(in_order())
                ],
                "empty": "Nothing yet. Press the star beside a cultivar in the first tab.",
            }
        )

    live.follow(state, show, "shortlisted", "profile", "units", "cover", tab="shortlist")
    return Column(
        words,
        table,
        Wrapped(Copying(margin=(5, 10)), abreast, *downloads, clear),
        running_order(state),
        sizing_mode="stretch_width",
    )


def told(state: State) -> Markup:
    rows = state.comparison.shortlisted
    said = Markup("<h2>Shortlist</h2>")
    if not len(rows):
        return said + Markup("<p>{}</p>").format(
            "What you put aside with ☆ gathers here. It is part of the page's address: reload, bookmark or send the link, and it comes along."
        )
    south = state.comparison.catalogue.south
    known = rows.dropna(subset=["first"])
    cover = (
        f", usually picked from {day_label(known['first'].min(), south)} to {day_label(known['last'].max(), south)}"
        if len(known)
        else ""
    )
    season = season_of(state.comparison.catalogue.windows)
    protected = state.comparison.catalogue.cultivars.loc[list(rows.index), "protected"].eq(True)
    said += Markup("<p><b>{}</b>{}. {}</p>").format(
        counted(len(rows), "cultivar"),
        cover,
        "The link to this page carries it: reload, bookmark or send it, and the list comes along.",
    )
    cover_of_it = state.comparison.cover
    if len(known) and cover_of_it is not None:
        gaps = stretches([(gap.first, gap.last) for gap in cover_of_it.gaps], south) or "none"
        said += Markup("<p><b>Gaps, days that lie bare in more seasons than not:</b> {}.{}</p>").format(
            gaps, _thinnest(cover_of_it, south)
        )
    elif len(known):
        gaps = stretches(days_without(known, season), south) or "none"
        said += Markup("<p><b>Days of the season usually without fruit from it:</b> {}.</p>").format(gaps)
    missed, market = missing(state.comparison, rows.index), state.comparison.profile
    if market is not None and missed:
        said += Markup("<p>{}</p>").format(
            f"Of these {listed(missed)} {'misses' if len(missed) == 1 else 'miss'} a limit of {market.name}; "
            "the gaps are told as if all were welcome."
        )
    if protected.any():
        names = listed([str(name) for name in rows.index[protected.to_numpy()]])
        said += Markup("<p>{}</p>").format(f"Protected, no propagation without a licence: {names}.")
    return said + Markup('<p class="quiet small">{}</p>').format(CAUTION)


def _thinnest(cover: Cover, south: bool) -> str:
    """The day with the least sure fruit that is no gap, where it is not as good as sure."""
    chance = np.where(cover.chance >= WANTED, cover.chance, np.inf)
    least = float(chance.min())
    if least >= SURE:
        return ""
    return (
        f" Outside them it is thinnest on {day_label(cover.days[chance.argmin()], south)}: "
        f"fruit in {100 * least:.0f} of 100 seasons."
    )


CAUTION = (
    "Trial results hold for the sites and seasons they come from. Before ordering, ask your local extension service, plant-health "
    "authority and licensed advisers."
)
