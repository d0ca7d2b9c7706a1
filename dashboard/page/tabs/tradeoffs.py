"""Size, firmness and sugar against each other: three linked pictures with one legend."""

from __future__ import annotations

from functools import cache, lru_cache

import numpy as np
import pandas as pd
from markupsafe import Markup

from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.question import Question
from dashboard.answers.side_by_side import FEWEST, MOST
from dashboard.charts import tradeoff
from dashboard.charts.drawing import Drawing
from dashboard.charts.held import Held
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column, Row, Wrapped
from dashboard.page.parts.elements import Prose
from dashboard.page.tabs.how_sure import about_not_beaten
from dashboard.visit.state import State
from dashboard.wording.figures import counted, listed
from dashboard.wording.legend import TO_CHOOSE, legend

THIRD: dict[str, str | None] = {
    "flex": "1 1 300px",
    "width": "auto",
    "min-width": "min(300px, 100%)",
}  # three abreast where there is room
FEW = 40  # up to this many points, every one shows its interval; above, only those picked out


def key(flesh_colours: set[str]) -> Markup:
    """What the marks mean."""
    item = Markup('<span class="item"><span class="{}"></span>{}</span>')
    return Markup('<div class="legend" role="note">{}</div>').format(
        Markup("").join(item.format(*line) for line in legend(flesh_colours))
    )


def tradeoffs(state: State) -> Column:
    catalogue = state.question.catalogue
    names = list(catalogue.cultivars.index)
    place = {name: row for row, name in enumerate(names)}

    @live.at_once
    def choose(rows: list[int]) -> None:
        state.choose(chosen=tuple(names[row] for row in rows))

    held = Held(_drawing())
    held.on_choose("cultivars", choose)
    for figure in held.figures:
        figure.styles = THIRD
    told, rings = Prose(styles={"flex": "1 1 260px", "width": "auto"}), Prose()
    keep = live.button(
        "Put the chosen on my slate",
        lambda: state.choose(shortlist=(*state.shortlist, *state.chosen)),
        variant="outlined",
    )
    abreast = live.button(
        "Set them side by side", lambda: state.choose(beside=state.chosen[:MOST], tab="beside"), variant="outlined"
    )  # fmt: skip
    clear = live.button("Clear selection", lambda: state.choose(chosen=()), variant="text")
    acts = Wrapped()  # they join the page when there is something to do: opening it waits for nothing unused

    def draw(_values: dict, units: str) -> None:
        asked = state.question
        tradeoff.fill(
            held,
            _points(catalogue, asked.basis, units),
            units,
            tradeoff.full(asked.fit["taken"]),
            _sure(asked),
        )

    def filled(
        passes: np.ndarray, not_beaten: np.ndarray, chosen: tuple, shortlist: tuple, *_chances
    ) -> None:
        picked = np.zeros(len(names), dtype=bool)
        picked[[place[name] for name in (*chosen, *shortlist)]] = True
        few = np.full(len(names), int(passes.sum()) <= FEW)
        ringed = np.array(_sure(state.question)) > 0
        held.show(shown=passes, ringed=ringed, barred=passes & (few | not_beaten | picked))

    def pick_out(chosen: tuple, passes: np.ndarray) -> None:
        drawn = [name for name in chosen if passes[place[name]]]
        held.choose("cultivars", [place[name] for name in drawn])
        wanted = [keep, *([abreast] if len(chosen) >= FEWEST else []), clear] if chosen else []
        if acts.objects != wanted:
            acts.objects = wanted
        told.say(_told(chosen, len(chosen) - len(drawn)))

    def limits(bounds: dict, units: str) -> None:
        tradeoff.bound(held, bounds, units)

    def dress(fit: pd.DataFrame, *_chances) -> None:
        held.columns("cultivars", full=tradeoff.full(fit["taken"]), sure=_sure(state.question))
        rings.say(about_not_beaten(state.question))

    live.follow(
        state,
        filled,
        "passes",
        "not_beaten",
        "chosen",
        "shortlist",
        "sure_not_beaten",
        tab="fruit",
        shown="pictures",
    )
    live.follow(state, limits, "bounds", "units", tab="fruit", shown="pictures")
    live.follow(state, draw, "values", "units", tab="fruit", shown="pictures")
    live.follow(state, dress, "fit", "sure_not_beaten", "not_beaten", tab="fruit", shown="pictures")
    live.follow(state, pick_out, "chosen", "passes", tab="fruit", shown="pictures")
    return Column(
        Prose(key(set(catalogue.cultivars["flesh_colour"]))),
        Row(*held.figures, sizing_mode="stretch_width", styles={"flex-wrap": "wrap"}),
        rings,
        Wrapped(told, acts),
        sizing_mode="stretch_width",
    )


@cache
def _drawing() -> Drawing:
    return tradeoff.drawing()


@lru_cache(maxsize=16)
def _points(catalogue: Catalogue, basis: Basis, units: str) -> pd.DataFrame:
    return tradeoff.points(catalogue.cultivars, catalogue.figures[basis], units)


def _sure(asked: Question) -> list[float]:
    return tradeoff.rings(asked.sure_not_beaten, asked.not_beaten)


def _told(chosen: tuple, hidden: int) -> Markup:
    if not chosen:
        return Markup('<p class="quiet small">{}</p>').format(TO_CHOOSE)
    away = f"; {hidden} of them do not pass your filters" if hidden else ""
    return Markup("<p><b>{}</b> chosen: {}{}</p>").format(
        counted(len(chosen), "cultivar"), listed([str(n) for n in chosen]), away
    )
