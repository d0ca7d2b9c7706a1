"""Two traits against each other: one mark a cultivar, with its interval, the market's limits, and a ring on those not beaten."""

from __future__ import annotations

import holoviews as hv
import numpy as np
import pandas as pd

from dashboard import style
from dashboard.charts.held import Held
from dashboard.traits import TRAITS, UNKNOWN

PAIRS = (("size", "sugar"), ("firmness", "sugar"), ("size", "firmness"))
SHOWN = ("size", "firmness", "sugar")
WORDS = ["cultivar", "kind", *(f"told_{key}" for key in SHOWN), "evidence", "fill", "mark", "full"]
# Plain @ fields: Bokeh puts what they hold in as text. A small box, or it would hide the picture.
TIP = (
    '<div style="font-size: 12.5px; max-width: 260px; line-height: 1.35"><b>@cultivar</b><br>@kind<br>'
    + "".join(f"{TRAITS[key].label}: @told_{key}<br>" for key in SHOWN)
    + "Rests on @evidence</div>"
)
PALE = 0.25  # how full a mark is drawn that misses a limit of the market
BARS = ("x0", "y0", "x1", "y1")
HEIGHT = 330


def points(cultivars: pd.DataFrame, values: dict[str, pd.DataFrame], system: str) -> pd.DataFrame:
    """One row a cultivar, in catalogue order: each trait in the reader's unit with low and high, mark, fill and words."""
    rows = pd.DataFrame({"cultivar": cultivars.index.astype(str)})
    rows["fill"] = [style.fill(flesh) for flesh in cultivars["flesh_colour"]]
    rows["mark"] = [
        style.mark(flesh, shape)
        for flesh, shape in zip(cultivars["flesh_colour"], cultivars["shape_type"], strict=True)
    ]
    rows["full"] = 1.0
    classes = cultivars[["flesh_colour", "shape_type", "fruit_type", "acidity_class"]].astype(str)
    rows["kind"] = [_kind(*words) for words in classes.itertuples(index=False, name=None)]
    for key in SHOWN:
        trait, frame = TRAITS[key], values[key].reindex(cultivars.index)
        for column, name in (("estimate", key), ("low", f"{key}_low"), ("high", f"{key}_high")):
            rows[name] = trait.unit(system).from_si(frame[column].to_numpy(dtype=float))
        symbol = trait.unit(system).symbol
        rows[f"told_{key}"] = [
            f"{trait.written(e, system)} {symbol}"
            + (
                f" ({trait.written(lo, system)} to {trait.written(hi, system)})"
                if lo == lo
                else " (interval unknown)"
            )
            for e, lo, hi in zip(frame["estimate"], frame["low"], frame["high"], strict=True)
        ]
    evidence = values["size"].reindex(cultivars.index)
    rows["evidence"] = [
        f"{_count(n, 'season')}, {_count(s, 'sample')}" if s > 0 else "not sampled"
        for n, s in zip(evidence["seasons"], evidence["samples"], strict=True)
    ]
    # A picture without any row is an error in the browser: one blank row, which is never shown.
    return (
        rows
        if len(rows)
        else rows.reindex([0]).assign(fill=style.fill(""), mark=style.mark("", ""), full=1.0)
    )


def spread(values: pd.Series) -> tuple[float, float]:
    """An axis range that holds every value with a little air, fixed for the whole catalogue so that nothing jumps."""
    known = values.to_numpy(dtype=float)
    known = known[np.isfinite(known)]
    if not known.size:
        return 0.0, 1.0
    low, high = float(known.min()), float(known.max())
    air = 0.06 * (high - low) or 0.5
    return low - air, high + air


def tradeoff(rows: pd.DataFrame, x: str, y: str, system: str, held: Held, touch: bool = False) -> hv.Overlay:
    """``rows`` from ``points``; ``touch`` leaves dragging to the page, so that a thumb can scroll past the picture.

    The elements get bare numbers; words and looks are poured into their sources once drawn, which is much quicker.
    """
    name = f"{x}-{y}"
    fill(held, rows, x, y, system)
    at = (rows[x].to_numpy(), rows[y].to_numpy())
    bars = hv.Segments(tuple(_bars(rows, x, y).values()), kdims=list(BARS)).opts(
        color=style.QUIET, alpha=0.55, line_width=1, default_tools=[], hooks=[held.rows(held.barred), held.source(f"{name}.bars")]
    )  # fmt: skip
    rings = hv.Points(at, kdims=[x, y]).opts(
        color=None, fill_alpha=0, line_color=style.LEAF, line_width=2.4, size=17, nonselection_line_alpha=1, default_tools=[],
        hooks=[held.rows(held.ringed), held.source(f"{name}.rings"), held.limits(name), held.figure(name)],
    )  # fmt: skip
    marks = hv.Points(at, kdims=[x, y]).opts(
        size=9, line_color=style.INK, line_width=1.2,
        nonselection_alpha=0.3, selection_line_color=style.CHOSEN, selection_line_width=3.5,
        tools=["hover", "tap", "box_select"], default_tools=["reset"], active_tools=["tap"] if touch else ["tap", "box_select"],
        hover_tooltips=TIP,
        hooks=[held.rows(held.shown), held.source(f"{name}.marks"), held.choosable(name), _dressed, *([_undragged] if touch else [])],
    )  # fmt: skip
    frame = _frame(rows, x, y, system)
    return hv.Overlay([bars, rings, marks]).opts(
        hv.opts.Overlay(
            responsive=True, height=HEIGHT, xlim=frame["x"], ylim=frame["y"], xlabel=frame["xlabel"], ylabel=frame["ylabel"],
            show_legend=False, toolbar="above", fontsize={"labels": 13, "ticks": 11}, show_grid=True,
        )
    )  # fmt: skip


def fill(held: Held, rows: pd.DataFrame, x: str, y: str, system: str) -> None:
    """Figures in the reader's units, words, ranges and axis titles into a picture, drawn or yet to be drawn."""
    at = {x: rows[x].to_numpy(), y: rows[y].to_numpy()}
    held.fill(f"{x}-{y}.bars", _bars(rows, x, y))
    held.fill(f"{x}-{y}.rings", at)
    held.fill(f"{x}-{y}.marks", {**at, **{word: rows[word].tolist() for word in WORDS}})
    held.frame(f"{x}-{y}", **_frame(rows, x, y, system))


def _bars(rows: pd.DataFrame, x: str, y: str) -> dict[str, np.ndarray]:
    """The interval bars: first one across each mark, then one upright through each."""
    at_x, at_y = rows[x], rows[y]
    ends = (
        (rows[f"{x}_low"], at_x),
        (at_y, rows[f"{y}_low"]),
        (rows[f"{x}_high"], at_x),
        (at_y, rows[f"{y}_high"]),
    )
    return {column: np.concatenate(both) for column, both in zip(BARS, ends, strict=True)}


def _dressed(plot, _element) -> None:
    """Fill and mark by cultivar, chosen or not."""
    drawn = plot.handles["glyph_renderer"]
    for glyph in (drawn.glyph, drawn.selection_glyph, drawn.nonselection_glyph):
        glyph.update(fill_color={"field": "fill"}, marker={"field": "mark"})
    drawn.glyph.update(fill_alpha={"field": "full"}, line_alpha={"field": "full"})
    plot.handles["hover"].limit = 1
    plot.state.toolbar.logo = None


def _frame(rows: pd.DataFrame, x: str, y: str, system: str) -> dict:
    return {
        "x": spread(rows[x]), "y": spread(rows[y]),
        "xlabel": TRAITS[x].heading(system), "ylabel": TRAITS[y].heading(system),
    }  # fmt: skip


def _undragged(plot, _element) -> None:
    """A drag scrolls the page; without this the box would take it. The box stays one press away."""
    plot.state.toolbar.update(active_drag=None, active_multi=None)


def _kind(flesh: str, shape: str, fruit: str, acidity: str) -> str:
    """``yellow round peach, normal acidity``; what is not recorded is left out."""
    known = [word for word in (flesh, shape) if word != UNKNOWN]
    known.append(fruit if fruit != UNKNOWN else "fruit")
    return " ".join(known) + (f", {acidity} acidity" if acidity != UNKNOWN else "")


def _count(number: float, word: str) -> str:
    return f"{int(number)} {word}{'' if int(number) == 1 else 's'}"
