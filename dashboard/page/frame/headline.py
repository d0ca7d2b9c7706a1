"""The line over every tab: how many are left, what the visitor must be told, and the way out of an empty answer."""

from __future__ import annotations

from markupsafe import Markup

from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.buttons import Button
from dashboard.page.parts.elements import Prose
from dashboard.visit.state import State
from dashboard.wording.figures import qualify_told, sampled


def headline(state: State) -> Column:
    """Over the candidates only a screen reader is given it, unless nothing is left: their own first line tells the same."""
    line = Prose(margin=(6, 10, 0, 10))
    whole = Column(line, sizing_mode="stretch_width")
    ways_out: list[Button] = []  # the way out of an empty answer, made when one is empty

    def show(_passes, _fit, emptied, *_others) -> None:
        line.say(_line(state))
        offer = emptied.offer if emptied is not None else ""
        if offer and not ways_out:
            ways_out.append(live.button(offer, lambda: _relax(state), variant="contained"))
            whole.append(ways_out[0])
        for out in ways_out:
            out.param.update(visible=bool(offer), label=offer or out.label)

    live.follow(state, show, "passes", "fit", "emptied", "profile", "shortlist")
    # Not now: it has just been said.
    state.param.watch(lambda _event: line.say(_line(state)), "tab", precedence=3)
    return whole


def notices(state: State) -> Prose:
    """What the visitor must be told of a choice or a link that could not be followed."""
    told = Prose()

    def tell(*_events) -> None:
        told.say(
            Markup("").join(
                Markup('<p class="notice" role="alert">{}</p>').format(note) for note in state.notices
            )
        )

    state.param.watch(tell, "notices")
    tell()
    return told


def _relax(state: State) -> None:
    emptied = state.question.emptied
    if emptied is not None and emptied.field:
        state.choose(**{emptied.field: emptied.relaxed})
    else:
        state.start_over()


def _line(state: State) -> Markup:
    asked = state.question
    if asked.emptied is not None:
        return Markup('<p class="count" role="status">{}</p>').format(asked.emptied.sentence)
    line = Markup('<p class="count{}" role="status"><b>{}</b> of {} pass your filters').format(
        " unseen" * (state.tab == "fruit"), f"{int(asked.passes.sum()):,}", sampled(asked.catalogue)
    )
    if asked.profile:
        line += Markup("; <b>{}</b>").format(qualify_told(asked))
    return line + Markup(".</p>")
