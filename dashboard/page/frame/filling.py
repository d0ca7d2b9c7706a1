"""Under the strip: who closes the gap that was pressed; or what is to fill the slate, asked first, and a proposal, to be taken whole or one by one.

Nothing is put on the slate unasked. A proposal is worked out beside the loop that answers everybody.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from markupsafe import Markup

from dashboard.answers.planning import Plan, easings, plan, with_unoffered
from dashboard.answers.question import Question
from dashboard.answers.replacing import closers
from dashboard.answers.strip import Row
from dashboard.charts import listing, style
from dashboard.page.frame.asked import asked
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column, Wrapped
from dashboard.page.parts.elements import Prose, RowTable, paragraphs
from dashboard.page.parts.pressable import Pressable
from dashboard.page.parts.ticking import press
from dashboard.ripening.cover import Gap
from dashboard.ripening.days import day_of_key
from dashboard.visit.state import State
from dashboard.wording import filling as words
from dashboard.wording.planning import left_out_told
from dashboard.wording.strip import BUILD

CLOSE, STOP = "Close", "Stop"
CARD = {
    "background": style.PAPER,
    "border": f"1px solid {style.EDGE}",
    "border-radius": "8px",
    "padding": "4px 6px",
}
# Below the window's end they stick to it; on a phone over the bar that lies there, with a shadow over what goes on under them.
ALWAYS_SEEN = f""":host {{ position: sticky; bottom: 0; z-index: 2; background: {style.PAPER}; }}
@media (max-width: {style.PHONE}px) {{ :host {{ bottom: 53px; box-shadow: 0 -10px 8px -8px {style.OUT}; }} }}"""


def filling(state: State) -> Column:
    """The panel, away while nothing is asked of it, and made when something is for the first time: an opening does without."""
    panel = Column(visible=False, sizing_mode="stretch_width", styles=CARD, margin=(0, 10, 8, 10))

    def wake(*_gap: str) -> None:
        asked = bool(state.filling or state.gap)
        if asked and not len(panel):
            panel.extend(_parts(state))
        panel.visible = asked

    live.follow(state, wake, "gap")
    live.heed(state, wake, "filling")
    return panel


def _parts(state: State) -> list[Any]:
    heading = Pressable(partial(press, state))
    table = RowTable(lambda what, value: bar(str(value)) if what == "bar" else press(state, what, value))
    build = live.button("Build it", lambda: begin(), variant="contained")
    take = live.button("Put it on my slate", lambda: accept(), variant="contained")
    ease = live.button("What would help?", lambda: look_for_more(), variant="outlined")
    allow = live.button(words.ALLOW, lambda: state.choose(barred=()), variant="text")
    let_in = live.button("Let them in", lambda: state.choose(bought="any"), variant="outlined")
    change = live.button("Change what is asked", lambda: state.choose(filling="asked"), variant="outlined")
    away = live.button(CLOSE, lambda: close(), variant="outlined")
    left_out = Prose()  # under the buttons: it comes late, and none may move away under a finger
    hand, other = live.Hand(), live.Hand()
    here: dict[str, Plan | None] = {
        "plan": None,
        "other": None,
    }  # the proposal, and the same with what nobody offers
    helped: list[str] = []  # what was found to help the proposal
    questions = Column(visible=False, sizing_mode="stretch_width")
    written: list[Callable[[], None]] = []  # what writes into the questions what stands, once they were made
    buttons = Wrapped(build, take, ease, allow, change, away, let_in, stylesheets=[ALWAYS_SEEN])

    def begin() -> None:
        state.choose(filling="proposed")
        heading.bring()

    def bar(name: str) -> None:
        state.choose(barred=(*state.barred, name))

    def close() -> None:
        """Whoever stops what would help goes back to the proposal; else the panel goes."""
        made = here["plan"]
        if away.label == STOP and made is not None:
            away.label, ease.visible = CLOSE, True
            return tell(made)
        here["plan"] = here["other"] = None
        state.choose(gap="", filling="")

    def accept() -> None:
        made = here["plan"]
        if made is not None:
            state.choose(shortlist=made.names, gap="", filling="")

    def show(*_parts) -> None:
        asking, proposing = state.filling == "asked", state.filling == "proposed"
        questions.visible = build.visible = asking
        change.visible = proposing
        let_in.visible = left_out.visible = False
        if not proposing:
            take.visible = ease.visible = allow.visible = table.visible = False
            away.label = CLOSE
        if asking:
            ask()
        elif proposing:
            propose()
        elif found := looked_at(state.question):
            close_gap(*found)

    def ask() -> None:
        if not written:
            made, write = asked(state)
            questions.append(made)
            written.append(write)
        written[0]()
        say([BUILD, words.ASKED_FIRST, words.ASKED_PARTS])

    def close_gap(row: Row | None, gap: Gap | None) -> None:
        table.visible = row is not None
        if row is None or gap is None:
            return say(["No gap is left there: that day is covered now."])
        now = state.question
        found = closers(now.wanted, now.shortlist, (gap.first, gap.last), _place(now, row))
        say(words.gap_told(row, gap, now.catalogue.south, len(found), now.profile is not None))
        table.tell({
            "title": "", **listing.of_its_own(now, words.gap_columns(now), words.gap_rows(now, found.head(words.SHOWN))),
            "empty": "Nothing that passes your filters has fruit on these days.",
        })  # fmt: skip

    def propose() -> None:
        now = state.question
        take.visible = ease.visible = allow.visible = table.visible = False
        say([words.LOOKING])
        here["plan"], away.label = None, STOP
        hand.take(partial(plan, now.proposal_wanted), partial(proposed, now))

    def proposed(now: Question, done: Any) -> None:
        if state.filling != "proposed":
            return
        if state.question is not now:  # something else was asked meanwhile
            return propose()
        made: Plan = done
        here["plan"], here["other"] = made, None
        helped.clear()
        fresh, away.label = words.added(made), CLOSE
        tell(made)
        if made.asked.pool.offered:
            other.take(partial(with_unoffered, made.asked), partial(compared, made))
        take.label = f"Put all {len(fresh)} on my slate" if len(fresh) > 1 else "Put it on my slate"
        take.visible = table.visible = bool(fresh)
        ease.visible = not (made.refused or made.whole)
        allow.visible = bool(made.asked.pool.barred)
        table.tell({
            "title": "", **listing.of_its_own(now, words.proposal_columns(now), words.proposal_rows(now, made)), "empty": "",
        })  # fmt: skip

    def compared(made: Plan, done: Any) -> None:
        if here["plan"] is made and state.filling == "proposed" and done is not None:
            here["other"] = done
            tell(made, *[words.LOOKING_FOR_MORE] * (away.label == STOP))

    def tell(made: Plan, *more: str) -> None:
        aside = left_out_told(made, here["other"])
        let_in.visible = left_out.visible = bool(aside)
        left_out.say(paragraphs(aside))
        say([*words.proposal_told(made), *words.looked_at_told(state.question), *helped, *more])

    def look_for_more() -> None:
        made = here["plan"]
        if made is None:
            return
        if hand.busy:  # what was stopped is still being put away
            return tell(made, live.BUSY)
        ease.visible, away.label = False, STOP
        tell(made, words.LOOKING_FOR_MORE)
        hand.take(partial(easings, made.asked), eased)

    def eased(done: Any) -> None:
        made = here["plan"]
        if state.filling != "proposed" or (away.label == CLOSE and made is not None):  # stopped
            return
        if made is None or made.asked != state.question.proposal_wanted:
            return propose()  # asked meanwhile, when the hand was busy
        away.label = CLOSE
        helped[:] = words.easings_told(done)
        tell(made)

    def say(lines: list[str]) -> None:
        heading.say(Markup("").join(
            Markup("<h2>{}</h2>" if not place else "<p>{}</p>").format(line) for place, line in enumerate(lines)
        ))  # fmt: skip

    live.follow(
        state, show, "strip", "gap", "filters", "fit", "most", "share", "barred", "built_for", "bought"
    )
    live.heed(state, show, "filling")
    return [heading, questions, buttons, left_out, table]


def looked_at(asked: Question) -> tuple[Row | None, Gap | None] | None:
    """The gap that holds the day looked at, and whose; (None, None) where that day is covered; None where none is looked at."""
    if not asked.gap or asked.strip is None:
        return None
    day = day_of_key(asked.gap, asked.catalogue.south)
    for row in asked.strip.rows:
        for gap in row.gaps:
            if gap.first <= day <= gap.last:
                return row, gap
    return None, None


def _place(asked: Question, row: Row) -> int:
    assert asked.strip is not None
    return asked.strip.rows.index(row)
