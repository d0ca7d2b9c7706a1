"""The line over every tab: how many are left, what the visitor must be told, and the way out of an empty answer."""

from __future__ import annotations

from collections.abc import Callable

from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.charts import style
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.elements import Prose
from dashboard.visit.state import State
from dashboard.wording.figures import counted, qualify_told

# On a phone the count and the way to the filters stay in sight, whatever is scrolled past.
STAYS: dict[str, str | None] = {
    "position": "sticky", "top": "0", "z-index": "6", "background": style.PAPER,
    "box-shadow": f"-16px 0 {style.PAPER}, 16px 0 {style.PAPER}",  # over the page's edges, too
}  # fmt: skip


def headline(state: State, open_filters: Callable[[], None] | None = None) -> Column:
    """``open_filters`` is given where they start closed, and puts a button for them here."""
    line = Prose()
    relax = live.button("", lambda: _relax(state), variant="contained", visible=False)

    def show(_passes, _fit, emptied, *_others) -> None:
        line.say(_line(state, short=open_filters is not None))
        relax.visible = emptied is not None and bool(emptied.offer)
        if relax.visible:
            relax.label = emptied.offer

    live.follow(state, show, "passes", "fit", "emptied", "profile", "shortlist")
    if open_filters is None:
        return Column(line, relax, sizing_mode="stretch_width")
    filters = live.button("Market and filters", open_filters, variant="contained")
    return Column(line, filters, relax, sizing_mode="stretch_width", styles=STAYS)


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
        state.choose(**{emptied.field: state.defaults[emptied.field]})
    else:
        state.start_over()


def _line(state: State, short: bool = False) -> Markup:
    """``short`` on a phone, where it stays in sight."""
    asked = state.question
    catalogue = asked.catalogue
    left = int(asked.passes.sum())
    if asked.emptied is not None:
        return Markup('<p class="count" role="status">{}</p>').format(asked.emptied.sentence)
    if short:
        return _short(asked, left)
    sampled = counted(int((catalogue.windows["seasons"] > 0).sum()), "sampled cultivar")
    line = Markup('<p class="count" role="status"><b>{}</b> of {} pass your filters').format(
        f"{left:,}", sampled
    )
    if asked.profile:
        line += Markup("; <b>{}</b>").format(qualify_told(asked))
    if asked.shortlist:
        line += Markup("; <b>{}</b> on your shortlist").format(len(asked.shortlist))
    return line + Markup("</p>")


def _short(asked: Question, left: int) -> Markup:
    line = Markup('<p class="count" role="status"><b>{}</b> pass').format(f"{left:,}")
    if asked.profile:
        line += Markup("; <b>{}</b>").format(qualify_told(asked, short=True))
    if asked.shortlist:
        line += Markup(", <b>{}</b> listed").format(len(asked.shortlist))
    return line + Markup("</p>")
