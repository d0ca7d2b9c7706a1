"""Two traits against each other: one mark a cultivar, with its interval, the market's limits, and a ring on those not beaten."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import holoviews as hv
import numpy as np
import pandas as pd
from bokeh.models import ColumnDataSource, IndexFilter, TapTool

from dashboard.charts import style
from dashboard.charts.drawing import Drawing, shared, unchosen
from dashboard.charts.held import Held
from dashboard.terms.traits import HEADLINE, TRAITS, UNKNOWN

PAIRS = (("size", "sugar"), ("firmness", "sugar"), ("size", "firmness"))
NUMBERS = tuple(f"{key}{end}" for key in HEADLINE for end in ("", "_low", "_high"))
WORDS = ("cultivar", "kind", *(f"told_{key}" for key in HEADLINE), "evidence", "fill", "mark")
# Plain @ fields: Bokeh puts what they hold in as text. A small box, or it would hide the picture.
TIP = (
    '<div style="font-size: 12.5px; max-width: 260px; line-height: 1.35"><b>@cultivar</b><br>@kind<br>'
    + "".join(f"{TRAITS[key].label}: @told_{key}<br>" for key in HEADLINE)
    + "Rests on @evidence</div>"
)
PALE = 0.25  # how full a mark is drawn that misses a limit of the market
HEIGHT = 330
RINGED = 0.10  # chance of not being beaten from which a ring is drawn


def points(cultivars: pd.DataFrame, values: dict[str, pd.DataFrame], system: str) -> pd.DataFrame:
    """One row a cultivar, in catalogue order: each trait in the reader's unit with low and high, mark, fill and words."""
    rows = pd.DataFrame({"cultivar": cultivars.index.astype(str)})
    rows["fill"] = [style.fill(flesh) for flesh in cultivars["flesh_colour"]]
    rows["mark"] = [
        style.mark(flesh, shape)
        for flesh, shape in zip(cultivars["flesh_colour"], cultivars["shape_type"], strict=True)
    ]
    classes = cultivars[["flesh_colour", "shape_type", "fruit_type", "acidity_class"]].astype(str)
    rows["kind"] = [_kind(*words) for words in classes.itertuples(index=False, name=None)]
    for key in HEADLINE:
        trait, frame = TRAITS[key], values[key].reindex(cultivars.index)
        for column, name in (("estimate", key), ("low", f"{key}_low"), ("high", f"{key}_high")):
            rows[name] = trait.unit(system).from_si(frame[column].to_numpy(dtype=float))
        symbol = trait.unit(system).symbol
        rows[f"told_{key}"] = [
            f"{trait.written(e, system)} {symbol}"
            + (
                f" ({trait.written(lo, system)} to {trait.written(hi, system)})"
                if lo == lo
                else " (range not known)"
            )
            for e, lo, hi in zip(frame["estimate"], frame["low"], frame["high"], strict=True)
        ]
    evidence = values["size"].reindex(cultivars.index)
    rows["evidence"] = [
        f"{_count(n, 'season')}, {_count(s, 'sample')}" if s > 0 else "not sampled"
        for n, s in zip(evidence["seasons"], evidence["samples"], strict=True)
    ]
    # A picture without any row is an error in the browser: one blank row, which is never shown.
    return rows if len(rows) else rows.reindex([0]).assign(fill=style.fill(""), mark=style.mark("", ""))


def spread(values: pd.Series) -> tuple[float, float]:
    """An axis range that holds every value with a little air, fixed for the whole catalogue so that nothing jumps."""
    known = values.to_numpy(dtype=float)
    known = known[np.isfinite(known)]
    if not known.size:
        return 0.0, 1.0
    low, high = float(known.min()), float(known.max())
    air = 0.06 * (high - low) or 0.5
    return low - air, high + air


Ends = tuple[float | None, float | None]  # at least, at most


def limits(bounds: Mapping[str, Ends], system: str) -> dict[str, Ends]:
    """Each trait's limits on the mean (SI) in the reader's unit."""
    found = {}
    for key, ends in bounds.items():
        unit = TRAITS[key].unit(system)
        low, high = (None if end is None else float(unit.from_si(end)) for end in ends)
        found[key] = (low, high)
    return found


def bound(held: Held, bounds: Mapping[str, Ends], system: str) -> None:
    """The limits on the mean (SI) into the pictures, in the reader's unit."""
    ends = limits(bounds, system)
    for x, y in PAIRS:
        (left, right), (bottom, top) = ends.get(x, (None, None)), ends.get(y, (None, None))
        held.bound(named(x, y), left=left, right=right, bottom=bottom, top=top)


def rings(chances: np.ndarray | None, stands: np.ndarray) -> list[float]:
    """How full the ring of each is drawn: its chance of not being beaten, in steps of 5 %; those less likely than RINGED have none.
    Where no chance is told (None), all that ``stands`` says are not beaten by their estimates."""
    if chances is None:
        return [float(one) for one in stands]
    steps = np.round(np.where(chances >= RINGED, chances, 0) * 20) / 20
    return [float(step) for step in steps]


def full(meets: pd.Series) -> list[float]:
    """How full each mark is drawn: pale where it misses a limit."""
    return [1.0 if ok else PALE for ok in meets]


def drawing() -> Drawing:
    """The three pictures over one source, "cultivars", and the filters "shown", "ringed" and "barred".

    No drag is theirs at first, so that a thumb can scroll past them.
    """
    source = ColumnDataSource(name="cultivars", data={key: [] for key in (*NUMBERS, *WORDS)})
    rows = {name: IndexFilter(name=name, indices=[]) for name in ("shown", "ringed", "barred")}
    return Drawing(**{named(*pair): _picture(*pair, source, rows) for pair in PAIRS})


def pair(name: str) -> tuple[str, str]:
    """The traits of the picture of that name, across and up."""
    return next(traits for traits in PAIRS if named(*traits) == name)


def named(x: str, y: str) -> str:
    return f"{x}_{y}"


def _picture(x: str, y: str, source: ColumnDataSource, rows: dict[str, IndexFilter]) -> hv.Overlay:
    nowhere = ([0.0], [0.0])  # figures are poured into each copy
    across, upright = (
        hv.Segments((*nowhere, *nowhere), kdims=["x0", "y0", "x1", "y1"]).opts(
            color=style.QUIET, alpha=0.55, line_width=1, default_tools=[], hooks=[shared(source, rows["barred"], **ends), unchosen]
        )
        for ends in (
            {"x0": f"{x}_low", "x1": f"{x}_high", "y0": y, "y1": y},
            {"x0": x, "x1": x, "y0": f"{y}_low", "y1": f"{y}_high"},
        )
    )  # fmt: skip
    rings = hv.Points(nowhere, kdims=[x, y]).opts(
        color=None, fill_alpha=0, line_color=style.LEAF, line_width=2.4, size=17, default_tools=[],
        hooks=[shared(source, rows["ringed"], line_alpha="sure"), unchosen],
    )  # fmt: skip
    looks = {"fill_color": "fill", "marker": "mark"}
    marks = hv.Points(nowhere, kdims=[x, y]).opts(
        size=9, line_color=style.INK, line_width=1.2,
        nonselection_alpha=0.3, selection_line_color=style.CHOSEN, selection_line_width=3.5,
        tools=["hover", "tap", "box_select"], default_tools=["reset"], active_tools=["tap"],
        hover_tooltips=TIP, hooks=[shared(source, rows["shown"], **looks), _dressed],
    )  # fmt: skip
    return hv.Overlay([across, upright, rings, marks]).opts(
        hv.opts.Overlay(
            responsive=True, height=HEIGHT, xlim=(0, 1), ylim=(0, 1), show_legend=False, toolbar=None,
            fontsize={"labels": 13, "ticks": 11}, show_grid=True,
        )
    )  # fmt: skip


def fill(held: Held, rows: pd.DataFrame, system: str, full: list[float], sure: list[float]) -> None:
    """``rows`` from ``points`` how ``full`` each mark and how ``sure`` each ring is drawn, into the pictures, with axis ranges and titles."""
    columns: dict[str, Any] = {name: rows[name].to_numpy() for name in NUMBERS}
    held.fill(
        "cultivars", {**columns, **{name: rows[name].tolist() for name in WORDS}, "full": full, "sure": sure}
    )
    for x, y in PAIRS:
        held.frame(
            named(x, y), x=spread(rows[x]), y=spread(rows[y]), xlabel=TRAITS[x].heading(system), ylabel=TRAITS[y].heading(system)
        )  # fmt: skip


def _dressed(plot, _element) -> None:
    """How full a mark is comes with its row, unless others are chosen; one tip at a time; how it is pressed."""
    plot.handles["glyph_renderer"].glyph.update(fill_alpha={"field": "full"}, line_alpha={"field": "full"})
    plot.handles["hover"].limit = 1
    # Marks are pressed one after another, and once more to let go of one; a drag scrolls the page.
    plot.state.toolbar.update(active_drag=None, active_multi=None)
    for tap in plot.state.select(TapTool):
        tap.mode = "xor"


def _kind(flesh: str, shape: str, fruit: str, acidity: str) -> str:
    """``yellow round peach, normal acidity``; what is not recorded is left out."""
    known = [word for word in (flesh, shape) if word != UNKNOWN]
    known.append(fruit if fruit != UNKNOWN else "fruit")
    return " ".join(known) + (f", {acidity} acidity" if acidity != UNKNOWN else "")


def _count(number: float, word: str) -> str:
    return f"{int(number)} {word}{'' if int(number) == 1 else 's'}"
