"""The few moving parts of drawn pictures, so that a new answer sends what changed and nothing is drawn anew.

HoloViews draws an element once; a hook hands its Bokeh source and filters to a ``Held``. Setting one of them sends a
few kilobytes and keeps zoom, focus and page position. (Rebuilding the elements sent about 20 times as much.)
"""

from __future__ import annotations

import weakref
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from bokeh.models import CDSView, ColumnDataSource, IndexFilter
from bokeh.models.annotations import BoxAnnotation, Span

from dashboard import style

# What lies outside a limit on one side is a box that ends at the limit with its opposite edge.
OPPOSITE = {"left": "right", "right": "left", "bottom": "top", "top": "bottom"}


class Held:
    """The moving parts of one visitor's pictures. ``on_choose(row numbers)`` is called when points are chosen."""

    def __init__(self, rows: int, on_choose: Callable[[list[int]], None] | None = None):
        self.shown = IndexFilter(indices=list(range(rows)))
        self.ringed = IndexFilter(indices=[])
        self.barred = IndexFilter(indices=[])
        self._on_choose = on_choose
        self._chosen: list[int] = []
        self._full: list[float] = []
        self._figures: dict[str, Any] = {}
        self._sources: dict[str, ColumnDataSource] = {}
        self._choosable: dict[str, ColumnDataSource] = {}
        self._columns: dict[str, dict[str, Any]] = {}
        self._walled: dict[str, Any] = {}
        self._walls: dict[str, dict[str, tuple[BoxAnnotation, Span]]] = {}
        self._bounds: dict[str, dict[str, float | None]] = {}
        self._frames: dict[str, dict[str, Any]] = {}

    # ---- hooks: given to an element's ``hooks`` option -------------------------------------------------------

    # HoloViews keeps an element's options, hooks among them, in a process-wide table until the element dies; a hook
    # that held us would hold the view, the view the element, and no visitor's page would ever go.

    def _hook(self, act: Callable[[Held, Any], None]) -> Callable:
        me = weakref.ref(self)

        def hook(plot, _element) -> None:
            held = me()
            if held is not None:
                act(held, plot)

        return hook

    def rows(self, drawn: IndexFilter) -> Callable:
        """Only these rows are drawn; the same filter serves every picture."""
        kept = weakref.ref(drawn)

        def act(_held: Held, plot) -> None:
            rows = kept()
            if rows is not None:
                plot.handles["glyph_renderer"].view = CDSView(filter=rows)

        return self._hook(act)

    def choosable(self, name: str) -> Callable:
        """Points chosen in this picture are chosen in all of them."""

        def act(held: Held, plot) -> None:
            source = plot.handles["source"]
            if held._choosable.get(name) is source:
                return
            held._choosable[name] = source
            held._fade(name)
            source.selected.indices = held._chosen
            source.selected.on_change("indices", lambda _a, _o, new: held._chose(sorted(new)))

        return self._hook(act)

    def source(self, name: str) -> Callable:
        """The element's columns can be set by name later."""

        def act(held: Held, plot) -> None:
            held._sources[name] = plot.handles["source"]
            if name in held._columns:
                held._pour(name)

        return self._hook(act)

    def limits(self, name: str) -> Callable:
        """Four walls for a market's limits: what lies behind one is outside."""

        def act(held: Held, plot) -> None:
            if held._walled.get(name) is plot.state:
                return
            held._walled[name] = plot.state
            held._walls[name] = {side: _wall(side) for side in OPPOSITE}
            for outside, edge in held._walls[name].values():
                plot.state.add_layout(outside)
                plot.state.add_layout(edge)
            held._stand(name)

        return self._hook(act)

    def figure(self, name: str) -> Callable:
        """The picture's ranges and axis titles can be set later."""

        def act(held: Held, plot) -> None:
            held._figures[name] = plot.state
            held._hang(name)

        return self._hook(act)

    # ---- what a new answer sets ------------------------------------------------------------------------------

    def show(self, shown: np.ndarray, ringed: np.ndarray, barred: np.ndarray) -> None:
        """Masks over all rows: which are drawn, which of them carry a ring, which of them show their interval."""
        bars = np.flatnonzero(barred & shown)
        _set(self.shown, "indices", np.flatnonzero(shown).tolist())
        _set(self.ringed, "indices", np.flatnonzero(ringed & shown).tolist())
        _set(self.barred, "indices", [*bars.tolist(), *(bars + len(shown)).tolist()])  # across, then upright

    def pale(self, inside: np.ndarray, pale: float) -> None:
        """Marks of rows that are not ``inside`` are drawn ``pale`` (0 to 1), in every picture that has marks."""
        self._full = [1.0 if ok else pale for ok in inside]
        for name in self._choosable:
            self._fade(name)

    def choose(self, rows: Sequence[int]) -> None:
        self._chosen = sorted(rows)
        for source in self._choosable.values():
            _set(source.selected, "indices", self._chosen)

    def fill(self, name: str, columns: dict[str, Any]) -> None:
        """New columns for a source; all of one length."""
        self._columns[name] = columns
        if name in self._sources:
            self._pour(name)

    def bound(self, name: str, **sides: float | None) -> None:
        """Where a picture's limits stand: x at least (``left``), x at most (``right``), y likewise; None for no limit."""
        self._bounds[name] = sides
        self._stand(name)

    def frame(self, name: str, **parts: Any) -> None:
        """``x`` and ``y``: ranges as (start, end); ``xlabel`` and ``ylabel``: axis titles."""
        self._frames[name] = {**self._frames.get(name, {}), **parts}
        if name in self._figures:
            self._hang(name)

    # ---- own ---------------------------------------------------------------------------------------------------

    def _fade(self, name: str) -> None:
        source = self._choosable[name]
        if self._full and "full" in source.data and list(source.data["full"]) != self._full:
            source.patch({"full": [(slice(0, len(self._full)), self._full)]})

    def _pour(self, name: str) -> None:
        """New columns over the old ones; an old one of another length has no rows to stand beside, and goes."""
        source, columns = self._sources[name], self._columns[name]
        if self._full and "full" in columns:
            columns = {**columns, "full": self._full}
        length = len(next(iter(columns.values())))
        old = {
            str(column): values
            for column, values in dict[Any, Any](source.data).items()
            if len(values) == length
        }
        source.data = {**old, **columns}

    def _hang(self, name: str) -> None:
        figure, parts = self._figures[name], self._frames.get(name, {})
        for axis, ranged in (("x", figure.x_range), ("y", figure.y_range)):
            if axis in parts:
                _set(ranged, "start", parts[axis][0])
                _set(ranged, "end", parts[axis][1])
                ranged.reset_start, ranged.reset_end = parts[axis]
        for part, drawn in (("xlabel", figure.xaxis), ("ylabel", figure.yaxis)):
            if part in parts:
                for axis in drawn:
                    _set(axis, "axis_label", parts[part])

    def _chose(self, rows: list[int]) -> None:
        if rows == self._chosen:  # an echo of what we set ourselves
            return
        self.choose(rows)
        if self._on_choose:
            self._on_choose(rows)

    def _stand(self, name: str) -> None:
        sides = self._bounds.get(name, {})
        for side, (outside, edge) in self._walls.get(name, {}).items():
            at = sides.get(side)
            if at is not None:
                _set(outside, OPPOSITE[side], float(at))
                _set(edge, "location", float(at))
            _set(outside, "visible", at is not None)
            _set(edge, "visible", at is not None)


def _wall(side: str) -> tuple[BoxAnnotation, Span]:
    shade = BoxAnnotation(
        visible=False, level="underlay", fill_color=style.LIMIT, fill_alpha=0.07, line_alpha=0
    )
    edge = Span(
        visible=False,
        dimension="height" if side in ("left", "right") else "width",
        line_color=style.LIMIT,
        line_dash="dashed",
        line_width=2,
    )
    return shade, edge


def _set(model, name: str, value) -> None:
    if getattr(model, name) != value:
        setattr(model, name, value)
