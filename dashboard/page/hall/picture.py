"""The hall's own picture: two traits of all that pass, the limits, and who is spoken of. It follows the answer while the hall is open."""

from __future__ import annotations

import numpy as np
import panel as pn

from dashboard.charts import spotlit, tradeoff
from dashboard.page.parts import live
from dashboard.visit.state import State


class Picture:
    """One visitor's; ``pane`` is what is shown. A mark that is pressed is spoken of."""

    def __init__(self, state: State) -> None:
        self.state = state
        self.row = {str(name): row for row, name in enumerate(state.question.catalogue.cultivars.index)}
        self.held = spotlit.held()
        self.held.on_choose("cultivars", self._tapped)
        (figure,) = self.held.figures
        self.pane = pn.pane.Bokeh(figure, sizing_mode="stretch_both")
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
