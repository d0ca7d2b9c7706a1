"""The same page for a projector: one picture, one cultivar, large letters, and keys. It covers the page while it is open."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import numpy as np
import panel as pn
import param
from panel.custom import Child

from dashboard.charts import spotlit, style, tradeoff
from dashboard.market.nudging import Bound, bounds_of, moved
from dashboard.market.profile import Limit
from dashboard.market.statements import statements
from dashboard.page.frame.kept_views import KeptViews
from dashboard.page.hall import forms
from dashboard.page.hall import told as hall_words
from dashboard.page.hall.days import my_days
from dashboard.page.hall.dress import HALL_CSS
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.finding import Finder
from dashboard.page.patches.scripted import Element
from dashboard.visit.state import PAIRS, State

FIND = "Find a cultivar by part of its name"


class Hall(Element):
    """Everything in it but the picture is one text, ``told``; ``act(message)`` is called for a key or a press."""

    told = param.String(default='{"open": false}', doc="JSON of what is shown")
    finder = Child()
    picture = Child()
    days = Child()

    script = Path(__file__).with_name("hall.js")
    parts = tuple(
        Path(__file__).with_name(f"{name}.js") for name in ("made", "spoken_of", "over", "looks", "keys")
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
    """One visitor's hall: the picture, what is told beside it, and whether the code is shown."""

    def __init__(self, state: State) -> None:
        self.state = state
        self.opened_at = ""  # as the browser says, while the code is shown
        self.against = False  # two are set against each other
        self.bound: Bound | None = None  # the limit of the market that the keys move
        catalogue = state.question.catalogue
        self.row = {str(name): row for row, name in enumerate(catalogue.cultivars.index)}
        self.held = spotlit.held()
        self.held.on_choose("cultivars", self._tapped)
        (figure,) = self.held.figures
        picture = pn.pane.Bokeh(figure, sizing_mode="stretch_both")
        finder = Finder(catalogue, lambda name: state.choose(cultivar=name), label=FIND, large=True, margin=0)
        self.element = Hall(self._heard, finder=finder, picture=picture, days=my_days(state))
        live.follow(state, self._limits, "bounds", "units", look="hall")
        live.follow(state, self._draw, "values", "units", look="hall")
        live.follow(state, self._dress, "fit", "sure_not_beaten", "not_beaten", look="hall")
        live.follow(
            state,
            self._rows,
            "passes",
            "shortlist",
            "spotlight",
            "sure_not_beaten",
            "not_beaten",
            look="hall",
        )
        # Not now: what follows the answer has just drawn it.
        state.param.watch(lambda _event: self._turned(), "pair", precedence=3)
        live.heed(state, self._tell, "pair", "question", "look", "tab", "prepared", "prepared_at", "notices")

    def _heard(self, msg: dict) -> None:
        state, act, by = self.state, msg.get("act"), msg.get("by")
        spot = state.question.spotlight
        if act == "step" and by in (1, -1):
            state.step(by)
        elif act == "view" and by in (1, -1):
            state.walk_prepared(by)
        elif act == "keep" and spot is not None:
            state.keep(spot.name)
        elif act == "picture":
            state.choose(pair=PAIRS[(PAIRS.index(state.pair) + 1) % len(PAIRS)])
        elif act == "first":
            state.open_prepared(0)
        elif act == "against":
            self.against = not self.against
            self._tell()
        elif act == "limit":
            self._hold(bool(msg.get("off")))
        elif act == "move" and by in (1, -1) and self.bound is not None:
            self._move(by)
        elif act == "undo":
            state.undo()
        elif act == "redo":
            state.redo()
        elif act == "leave":
            state.choose(look="page")
        elif act == "code":
            self.opened_at = "" if self.opened_at else str(msg.get("at", ""))[:2000]
            self._tell()

    def _hold(self, off: bool) -> None:
        """The next bound of the market is moved by the keys, after the last one none; its trait is brought into the picture."""
        bounds = bounds_of(self.state.question.profile)
        after = bounds[bounds.index(self.bound) + 1 :] if self.bound in bounds else bounds
        self.bound = after[0] if after and not off else None
        trait = self._limit.key if self.bound else ""
        fitting = [pair for pair in PAIRS if trait in pair.split("_")]
        if fitting and self.state.pair not in fitting:
            self.state.choose(pair=fitting[0])
        self._tell()

    @property
    def _limit(self) -> Limit:
        market = self.state.question.profile
        assert market is not None
        assert self.bound is not None
        return market.limits[self.bound[0]]

    def _move(self, by: int) -> None:
        state, asked = self.state, self.state.question
        if asked.profile is None or self.bound not in bounds_of(asked.profile):
            self.bound = None
            return self._tell()
        lines = moved(asked.profile, self.bound, by, asked.units)
        state.choose(own=() if lines == statements(asked.catalogue.markets.get(asked.market)) else lines)

    @live.at_once
    def _tapped(self, rows: list[int]) -> None:
        names = list(self.row)
        self.held.choose("cultivars", [])  # the ring tells it; the others are not dimmed
        if len(rows) == 1:
            self.state.choose(cultivar=names[rows[0]])

    def _turned(self) -> None:
        asked = self.state.question
        self._draw(asked.values, asked.units)
        self._limits(asked.bounds, asked.units)

    def _draw(self, values: dict, units: str) -> None:
        rows = tradeoff.points(self.state.question.catalogue.cultivars, values, units)
        spotlit.fill(self.held, rows, self._full(), self._sure(), tradeoff.pair(self.state.pair))

    def _dress(self, *_parts) -> None:
        self.held.columns("cultivars", full=self._full(), sure=self._sure())

    def _full(self) -> list[float]:
        return tradeoff.full(self.state.question.fit["taken"])

    def _sure(self) -> list[float]:
        return tradeoff.rings(self.state.question.sure_not_beaten, self.state.question.not_beaten)

    def _rows(self, passes: np.ndarray, shortlist: tuple, spot, *_chances) -> None:
        here, starred = np.zeros(len(passes), dtype=bool), np.zeros(len(passes), dtype=bool)
        starred[[self.row[name] for name in shortlist]] = True
        if spot is not None:
            here[self.row[spot.name]] = True
        self.held.show(
            shown=passes | here, ringed=np.array(self._sure()) > 0, starred=starred & passes, spot=here
        )

    def _limits(self, bounds: dict, units: str) -> None:
        told = tradeoff.limits(bounds, units)
        (left, right), (bottom, top) = (
            told.get(trait, (None, None)) for trait in tradeoff.pair(self.state.pair)
        )
        self.held.bound(spotlit.NAME, left=left, right=right, bottom=bottom, top=top)

    def _tell(self) -> None:
        state, asked = self.state, self.state.question
        if state.look != "hall":
            self.opened_at, self.against, self.bound = "", False, None
            self.element.told = json.dumps({"open": False})
            return
        if self.bound not in bounds_of(asked.profile):  # another market was chosen meanwhile
            self.bound = None
        spot, at = asked.spotlight, state.prepared_at
        named = at if 0 <= at < len(state.prepared) else -1
        view = (
            state.view_of(spot.name) if spot is not None else state.view
        )  # a phone shows who is on the screen
        self.element.told = json.dumps(
            {
                "open": True,
                "asked": hall_words.question(asked),
                "limits": hall_words.limits(asked),
                "axes": spotlit.titles(asked.units, tradeoff.pair(state.pair)),
                "marks": hall_words.marks(asked),
                "legend": hall_words.legend(asked),
                "notices": list(state.notices),
                "spot": hall_words.spoken_of(asked, spot) if spot is not None else None,
                "empty": asked.emptied.sentence if asked.emptied else "",
                "undo": state.steps.behind > 0,
                "redo": state.steps.ahead > 0,
                "views": len(state.prepared),
                "at": named,
                "strayed": state.strayed,
                "listed": len(state.shortlist),
                "view": state.prepared[named].name if named >= 0 else "",
                "note": state.prepared[named].note if named >= 0 else "",
                "form": None if self.bound else forms.form(asked, state.tab),
                "against": hall_words.against(asked) if self.against else None,
                "limiting": hall_words.limiting(asked, self._limit) if self.bound else "",
                "bounded": bool(bounds_of(asked.profile)),
                "slate": "" if state.tab == "season" and not self.bound else hall_words.slate(asked),
                "code": hall_words.code_told(self.opened_at, view) if self.opened_at else None,
            },
            ensure_ascii=False,
        )
