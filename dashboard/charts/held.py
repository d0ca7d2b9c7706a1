"""One visitor's copies of pictures, and their few moving parts, so that a new answer sends what changed.

Setting a part sends a few kilobytes and keeps zoom, focus and page position; rebuilding the elements sent about 20
times as much.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Literal

import numpy as np
from bokeh.models.annotations import BoxAnnotation, Span

from dashboard.charts import style
from dashboard.charts.drawing import Drawing, filters, sources

# What lies outside a limit on one side is a box that ends at the limit with its opposite edge.
OPPOSITE = {"left": "right", "right": "left", "bottom": "top", "top": "bottom"}


class Held:
    """Copies of a drawing's pictures (``figures``), their parts by name."""

    def __init__(self, drawing: Drawing, line: float = 2):
        """``line``: how wide a limit is drawn."""
        self._line = line
        self.figures = drawing.copy()
        self._figure = {str(figure.name): figure for figure in self.figures}
        self._sources = sources(self.figures)
        self._filters = filters(self.figures)
        self._chosen: dict[str, list[int]] = {}
        self._walls: dict[str, dict[str, tuple[BoxAnnotation, Span]]] = {}

    def show(self, **masks: np.ndarray) -> None:
        """By filter, a mask over the rows of its source: which are drawn."""
        for name, mask in masks.items():
            _set(self._filters[name], "indices", np.flatnonzero(mask).tolist())

    def fill(self, source: str, columns: dict[str, Any]) -> None:
        """New columns, all of one length; they replace whatever the source had."""
        self._sources[source].data = columns

    def columns(self, source: str, **columns: list) -> None:
        """Some columns, the others as they are; those that changed are sent together."""
        old: Any = self._sources[source].data
        changed = {name: values for name, values in columns.items() if list(old.get(name, ())) != values}
        if changed:
            old.update(changed)

    def on_choose(self, source: str, told: Callable[[list[int]], None]) -> None:
        """``told(row numbers)`` when a person chooses rows of ``source`` in one of its pictures: rows there are, each once."""

        def chosen(_attr: str, _old: list[int], new: list[int]) -> None:
            data: Any = self._sources[source].data
            rows = sorted(set(new).intersection(range(max(map(len, data.values()), default=0))))
            if rows != self._chosen.get(source, []):  # else it is what was set from here
                self._chosen[source] = rows
                told(rows)

        self._sources[source].selected.on_change("indices", chosen)

    def choose(self, source: str, rows: Sequence[int]) -> None:
        self._chosen[source] = sorted(rows)
        _set(self._sources[source].selected, "indices", sorted(rows))

    def frame(self, figure: str, **parts: Any) -> None:
        """``x`` and ``y``: ranges as (start, end); ``xlabel`` and ``ylabel``: axis titles."""
        drawn = self._figure[figure]
        for axis, ranged in (("x", drawn.x_range), ("y", drawn.y_range)):
            if axis in parts:
                start, end = parts[axis]
                for name, value in (
                    ("start", start),
                    ("end", end),
                    ("reset_start", start),
                    ("reset_end", end),
                ):
                    _set(ranged, name, value)
        for part, titled in (("xlabel", drawn.xaxis), ("ylabel", drawn.yaxis)):
            if part in parts:
                for one in titled:
                    _set(one, "axis_label", parts[part])

    def bound(self, figure: str, **sides: float | None) -> None:
        """Where a picture's limits stand: x at least (``left``), x at most (``right``), y likewise; None for no limit."""
        walls = self._walls.setdefault(figure, {})
        # Built when first needed: a box is a dozen models, and most visits begin without a market. Built whole: what changes
        # on a new part in the same message may find that the browser has not drawn it yet.
        new = {
            side: _wall(side, at, self._line)
            for side, at in sides.items()
            if at is not None and side not in walls
        }
        if new:
            drawn = self._figure[figure]
            drawn.center = [*drawn.center, *(part for wall in new.values() for part in wall)]
        for side, (outside, edge) in walls.items():
            at = sides.get(side)
            if at is not None:
                _set(outside, OPPOSITE[side], float(at))
                _set(edge, "location", float(at))
            _set(outside, "visible", at is not None)
            _set(edge, "visible", at is not None)
        walls |= new


def _wall(side: str, at: float, line: float) -> tuple[BoxAnnotation, Span]:
    across: Literal["height", "width"] = "height" if side in ("left", "right") else "width"
    ends: dict[str, Any] = {OPPOSITE[side]: float(at)}
    return (
        BoxAnnotation(level="underlay", fill_color=style.LIMIT, fill_alpha=0.07, line_alpha=0, **ends),
        Span(
            location=float(at), dimension=across, line_color=style.LIMIT, line_dash="dashed", line_width=line
        ),
    )


def _set(model, name: str, value) -> None:
    if getattr(model, name) != value:
        setattr(model, name, value)
