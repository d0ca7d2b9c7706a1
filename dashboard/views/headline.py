"""The line over every tab: how many are left, what the visitor must be told, and the way out of an empty answer."""

from __future__ import annotations

from collections.abc import Callable

import panel as pn
from markupsafe import Markup

from dashboard.state import State
from dashboard.views import live
from dashboard.views.elements import Prose
from dashboard.views.words import counted


def headline(state: State, open_filters: Callable[[], None] | None = None) -> pn.Column:
    """``open_filters`` is given where they start closed, and puts a button for them here."""
    line = Prose()
    relax = live.button("", lambda: _relax(state), variant="contained", visible=False)

    def show(_passes, _fit, emptied, *_others) -> None:
        line.say(_line(state))
        relax.visible = emptied is not None and bool(emptied.offer)
        if relax.visible:
            relax.label = emptied.offer

    live.follow(state, show, "passes", "fit", "emptied", "profile", "shortlist")
    state.param.watch(lambda _event: line.say(_line(state)), "notices")
    ways = [live.button("Market and filters", open_filters, variant="contained")] if open_filters else []
    return pn.Column(line, *ways, relax, sizing_mode="stretch_width")


def _relax(state: State) -> None:
    emptied = state.comparison.emptied
    if emptied is not None and emptied.field:
        state.choose(**{emptied.field: state.defaults[emptied.field]})
    else:
        state.start_over()


def _line(state: State) -> Markup:
    asked = state.comparison
    catalogue = asked.catalogue
    left = int(asked.passes.sum())
    said = Markup("").join(
        Markup('<p class="notice" role="alert">{}</p>').format(note) for note in state.notices
    )
    if asked.emptied is not None:
        return said + Markup('<p class="count" role="status">{}</p>').format(asked.emptied.sentence)
    sampled = counted(int((catalogue.windows["seasons"] > 0).sum()), "sampled cultivar")
    line = Markup('<p class="count" role="status"><b>{}</b> of {} pass your filters').format(
        f"{left:,}", sampled
    )
    if asked.profile:
        inside = int((asked.fit["meets"].to_numpy() & asked.passes).sum())
        line += Markup("; <b>{}</b> of them clear every limit of {}").format(
            f"{inside:,}", asked.profile.name
        )
    if asked.shortlist:
        line += Markup("; <b>{}</b> on your shortlist").format(len(asked.shortlist))
    return said + line + Markup("</p>")
