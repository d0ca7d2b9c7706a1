"""The same page for a projector: one picture, one cultivar, large letters, and keys. It covers the page while it is open."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import param
from panel.custom import Child

from dashboard.answers.question import QUESTION
from dashboard.charts import spotlit, style, tradeoff
from dashboard.page.frame.kept_views import KeptViews
from dashboard.page.hall import forms, limits
from dashboard.page.hall import told as hall_words
from dashboard.page.hall.days import my_days
from dashboard.page.hall.dress import HALL_CSS
from dashboard.page.hall.keys import EVERYWHERE, OVER, answered
from dashboard.page.hall.names import names_told
from dashboard.page.hall.picture import Picture
from dashboard.page.hall.two import Two
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.finding import Finder
from dashboard.page.patches.scripted import Element
from dashboard.visit.state import PAIRS, State
from dashboard.wording.presenting import FOUND, UNSEEN

FIND = "Find a cultivar by part of its name"
AGAINST = "Against whom? Type part of the name"


class Hall(Element):
    """Everything in it but the picture is one text, ``told``; ``act(message)`` is called for a key or a press."""

    told = param.String(default='{"open": false}', doc="JSON of what is shown")
    finder = Child()
    picture = Child()
    days = Child()

    script = Path(__file__).with_name("hall.js")
    parts = tuple(
        Path(__file__).with_name(f"{name}.js")
        for name in ("made", "spoken_of", "names", "paged", "over", "looks", "keys")
    )
    dress = (style.MARK_CSS, HALL_CSS)

    def __init__(self, act: Callable[[dict], None], **params):
        super().__init__(**{"margin": 0, **params})
        self._act = act

    @live.at_once
    def heard(self, msg) -> None:
        self._act(msg)


def hall(state: State, page: Column | None = None) -> Column:
    """``page``, with the hall put at its end when it is first asked for; until then it costs the page nothing but the prepared views that
    the browser kept."""
    whole = Column() if page is None else page
    whole.append(KeptViews(state))
    made: list[Hall] = []

    def open_hall() -> None:
        if state.look == "hall" and not made:
            made.append(_Speaking(state).element)
            whole.append(made[0])

    open_hall()
    state.param.watch(lambda _event: open_hall(), "look")
    return whole


class _Speaking:
    """One visitor's hall: what stands on its screen, what is told there, and which keys it answers."""

    def __init__(self, state: State) -> None:
        self.state = state
        self.over = ""  # what is laid over the picture, of ``OVER``
        self.opened_at = ""  # as the browser says, for the code
        self.two = Two()  # set against each other
        self.held: limits.Held | None = None  # the limit that the keys move
        self.spoken = False  # one cultivar stands in the place of a view that shows none
        self.back: str | None = None  # who was spoken of before another was found; None where nobody was
        self.answered: list[str] = []
        finder = Finder(state.question.catalogue, self._found, label=FIND, large=True, margin=0)
        self.element = Hall(self._heard, finder=finder, picture=Picture(state).pane, days=my_days(state))
        state.param.watch(self._went, [*QUESTION, "tab", "prepared_at"], precedence=0)  # before it is told
        live.heed(state, self._tell, "pair", "question", "look", "tab", "prepared", "prepared_at", "notices")

    def _heard(self, msg: dict) -> None:
        """A key or a press. What does not show on the screen is not done."""
        state, act, by = self.state, msg.get("act"), msg.get("by")
        spot = state.question.spotlight
        if act == "speak" and self.over == "names" and str(msg.get("name")) in state.question.ranking.index:
            return self._found(str(msg["name"]))
        if (msg.get("what") if act == "over" else act) not in self.answered:
            return
        if act == "step" and by in (1, -1):
            state.step(by)
        elif act == "view" and by in (1, -1):
            state.walk_prepared(by)
        elif act == "keep" and spot is not None:
            state.keep(spot.name)
        elif act == "traits":
            self._turn()
        elif act == "first":
            state.open_prepared(0)
        elif act == "over" and msg["what"] in OVER:
            self._lay(msg["what"], str(msg.get("at", "")))
        elif act in ("close", "back"):
            self._close(whole=act == "back")
        elif act in limits.KEYS:
            self._hold(act)
        elif act == "clear":
            state.start_over(*self._kept())
        elif act == "move" and "to" in msg:
            self._type(str(msg["to"])[:12])
        elif act == "move" and by in (1, -1):
            self._move(by)
        elif act in UNSEEN:
            self._walk(str(act))
        elif act == "leave":
            state.choose(look="page")

    def _found(self, name: str) -> None:
        """Wherever one is asked for it is seen, in the place of a view that shows none; over two that are set against each other it is one
        of them."""
        if self.over == "against":
            self.two.name(name, found=self.back is not None)
            return self._tell()
        self.back = self.state.cultivar if self.back is None else self.back
        self.over, self.spoken = "", True
        self.state.choose(cultivar=name)
        self._tell()

    def _went(self, *events: param.parameterized.Event) -> None:
        """Other choices are seen: who is spoken of comes to the screen, another view takes the place of what lay there."""
        if self.state.look != "hall":
            return
        names = {event.name for event in events}
        if names == {"cultivar"}:
            self.spoken = True
        elif names & {"tab", "prepared_at"}:
            self.spoken, self.back = False, None
        if names != {"cultivar"} or self.over != "against":
            self.over = ""

    def _lay(self, what: str, at: str) -> None:
        self.over = "" if self.over == what else what
        if what == "against":  # what the room is looking at, else the market's first wish
            self.two.begin(self._trait())
        self.opened_at = at[:2000]
        self._tell()

    def _close(self, whole: bool = False) -> None:
        """What lies on top goes: what is laid over the picture, else the limit, else the cultivar that was found; ``whole``: all of it."""
        if self.over and not whole:
            self.over = ""
        elif self.held is not None and not whole:
            self.held = None
        else:
            self.state.choose(cultivar=self.state.cultivar if self.back is None else self.back)
            self.over, self.held, self.spoken, self.back = "", None, False, None
        self._tell()

    def _turn(self) -> None:
        """To the next traits: those of the picture or, of two set against each other, the one told largest."""
        state = self.state
        if self.over != "against":
            return state.choose(pair=self._after())
        self.two.turn(state.question)
        self._tell()

    def _after(self) -> str:
        """The pair of traits of the next picture."""
        return PAIRS[(PAIRS.index(self.state.pair) + 1) % len(PAIRS)]

    def _walk(self, way: str) -> None:
        """A choice taken back or made again; one that changes nothing here is said to have been."""
        state, before = self.state, self._seen()
        state.undo() if way == "undo" else state.redo()
        if self._seen() == before:
            left = state.steps.behind if way == "undo" else state.steps.ahead
            state.notices = (*state.notices, UNSEEN[way].format(left=left))

    def _seen(self) -> dict[str, Any]:
        unseen = ("keys", "everywhere", "notices")
        return {part: said for part, said in json.loads(self.element.told).items() if part not in unseen}

    def _hold(self, key: str) -> None:
        """The next limit of that key is moved by the keys, after the last one none; its trait is brought into the picture."""
        state = self.state
        self.held = limits.after(state.question, self.held, key)
        fitting = [pair for pair in PAIRS if self._trait() in pair.split("_")]
        if fitting and state.pair not in fitting:
            state.choose(pair=fitting[0])
        self._tell()

    def _trait(self) -> str:
        """Of the limit that is held; "" for none."""
        return limits.trait_of(self.state.question, self.held) if self.held is not None else ""

    def _kept(self) -> tuple[str, ...]:
        """The filter that stays when all are taken off: the limit that is held."""
        return ("chill",) if isinstance(self.held, str) else ()

    def _move(self, by: int) -> None:
        assert self.held is not None
        self.state.choose(**limits.moved(self.state.question, self.held, by))

    def _type(self, text: str) -> None:
        """What cannot be is said, and changes nothing."""
        assert self.held is not None
        try:
            self.state.choose(**limits.typed(self.state.question, self.held, text))
        except ValueError as fault:
            self.state.choose(notices=(str(fault),))

    def _form(self) -> tuple[str, dict[str, Any] | None]:
        """What stands in the place of the hall's own picture, by its key in ``keys.ANSWERED``, and how it is told; "" for the picture itself."""
        asked, tab = self.state.question, self.state.tab
        made = None if self.held is not None else forms.form(asked, tab)
        if made and self.spoken and not made["speaks"]:
            tab, made = "cultivar", forms.form(asked, "cultivar")
        return (tab, made) if made else ("", None)

    def _tell(self) -> None:
        state, asked = self.state, self.state.question
        if state.look != "hall":
            self.over, self.answered = "", []
            self.held, self.spoken, self.back = None, False, None
            self.element.told = json.dumps({"open": False})
            return
        if not limits.stands(asked, self.held):
            self.held = None
        shown, form = self._form()
        speaks = asked.spotlight if form is None or form["speaks"] else None
        elsewhere = shown == "cultivar" != state.tab  # one cultivar in the place of a view
        found, on_top = elsewhere or self.back is not None, bool(self.over or self.held is not None)
        said, bounds = hall_words.headline(asked, shown, speaks)
        at = state.prepared_at
        named = state.prepared[at] if 0 <= at < len(state.prepared) else None
        possible = {
            "step": self.two.walks(asked) if self.over else speaks is not None,
            "keep": speaks is not None,
            "undo": state.steps.behind > 0,
            "redo": state.steps.ahead > 0,
            **{key: bool(every) for key, every in limits.limits_of(asked).items()},
            "clear": hall_words.filtered(asked, shown) and limits.others(asked, *self._kept()),
            "move": self.held is not None,
            "notes": bool(named and named.note),
            "view": bool(state.prepared),
            "first": bool(state.prepared),
            "close": on_top or found,
            "back": found,
        }
        self.answered = answered(self.over or shown, possible)
        view = (
            state.view_of(speaks.name) if speaks is not None else state.view
        )  # a phone shows what is on the screen
        self.element.finder.label = AGAINST if self.over == "against" else FIND
        self.element.told = json.dumps(
            {
                "open": True,
                "found": FOUND * (found and not on_top),
                "on_top": on_top,
                "keys": self.answered,
                "everywhere": [key for key in EVERYWHERE if key in self.answered],
                "asked": said,
                "limits": bounds,
                "axes": spotlit.titles(asked.units, tradeoff.pair(state.pair)),
                "marks": hall_words.marks(asked),
                "legend": hall_words.legend(asked, self._after()),
                "notices": list(state.notices),
                "spot": hall_words.spoken_of(asked, speaks, figures=not shown)
                if speaks is not None
                else None,
                "empty": asked.emptied.sentence if asked.emptied and said else "",
                "views": len(state.prepared),
                "at": at if named else -1,
                "strayed": state.strayed or elsewhere or (self.held is not None and state.tab in forms.FORMS),
                "listed": len(state.shortlist),
                "view": named.name if named else "",
                "note": named.note if named else "",
                "form": form,
                "limiting": limits.told(asked, self.held) if self.held is not None else "",
                "slate": "" if shown == "season" else hall_words.slate(asked),
                "against": self.two.told(asked, self.back is not None) if self.over == "against" else None,
                "names": names_told(asked) if self.over == "names" else None,
                "code": hall_words.code_told(self.opened_at, view) if self.over == "code" else None,
                "evidence": hall_words.evidence_told(asked) if self.over == "evidence" else None,
            },
            ensure_ascii=False,
        )
