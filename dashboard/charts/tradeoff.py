"""Two traits against each other: one mark a cultivar, with its interval, the market's limits, and a ring on those not beaten."""

from __future__ import annotations

import holoviews as hv
import numpy as np
import pandas as pd

from dashboard import style
from dashboard.charts.held import Held
from dashboard.traits import TRAITS

PAIRS = (("size", "sugar"), ("firmness", "sugar"), ("size", "firmness"))
SHOWN = ("size", "firmness", "sugar")
WORDS = ["cultivar", "kind", *(f"{key}_told" for key in SHOWN), "evidence", "fill", "mark"]
HEIGHT = 330


def points(cultivars: pd.DataFrame, values: dict[str, pd.DataFrame], system: str) -> pd.DataFrame:
    """One row a cultivar, in catalogue order: each trait in the reader's unit with low and high, mark, fill and words."""
    rows = pd.DataFrame({"cultivar": cultivars.index.astype(str)})
    rows["fill"] = [style.fill(flesh) for flesh in cultivars["flesh_colour"]]
    rows["mark"] = [
        style.mark(flesh, shape)
        for flesh, shape in zip(cultivars["flesh_colour"], cultivars["shape_type"], strict=True)
    ]
    rows["kind"] = [
        f"{flesh}-fleshed {shape} {kind}, {acid} acidity"
        for flesh, shape, kind, acid in zip(
            cultivars["flesh_colour"],
            cultivars["shape_type"],
            cultivars["fruit_type"],
            cultivars["acidity_class"],
            strict=True,
        )
    ]
    for key in SHOWN:
        trait, frame = TRAITS[key], values[key].reindex(cultivars.index)
        for column, name in (("estimate", key), ("low", f"{key}_low"), ("high", f"{key}_high")):
            rows[name] = trait.unit(system).from_si(frame[column].to_numpy(dtype=float))
        symbol = trait.unit(system).symbol
        rows[f"{key}_told"] = [
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
        f"{_count(n, 'season')}, {_count(s, 'sample')}" if s == s else "not sampled"
        for n, s in zip(evidence["seasons"], evidence["samples"], strict=True)
    ]
    return rows


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
    """``rows`` from ``points``; ``touch`` leaves dragging to the page, so that a thumb can scroll past the picture."""
    name = f"{x}-{y}"
    rows = _with_ends(rows, x, y)
    bars = [
        hv.Segments(rows, kdims=ends).opts(
            color=style.QUIET, alpha=0.55, line_width=1, default_tools=[],
            hooks=[held.rows(held.barred), held.source(f"{name}.{part}")],
        )
        for part, ends in (("across", [f"{x}_low", "level", f"{x}_high", "level_"]), ("upright", ["plumb", f"{y}_low", "plumb_", f"{y}_high"]))
    ]  # fmt: skip
    marks = hv.Points(rows, kdims=[x, y], vdims=WORDS).opts(
        color="fill", marker="mark", size=9, line_color=style.INK, line_width=1.2,
        nonselection_alpha=0.3, selection_line_color=style.CHOSEN, selection_line_width=3.5,
        tools=["hover", "tap", "box_select"], default_tools=["reset"], active_tools=["tap"] if touch else ["tap", "box_select"],
        hover_tooltips=[
            ("", "@cultivar"), ("", "@kind"),
            *((TRAITS[key].label, f"@{key}_told") for key in SHOWN),
            ("Rests on", "@evidence"),
        ],
        hooks=[held.rows(held.shown), held.choosable(name), held.source(f"{name}.marks"), plain_toolbar],
    )  # fmt: skip
    rings = hv.Points(rows, kdims=[x, y], vdims=["cultivar"]).opts(
        color=None, fill_alpha=0, line_color=style.LEAF, line_width=2.4, size=17, nonselection_line_alpha=1, default_tools=[],
        hooks=[held.rows(held.ringed), held.source(f"{name}.rings"), held.limits(name), held.figure(name)],
    )  # fmt: skip
    frame = _frame(rows, x, y, system)
    return hv.Overlay([*bars, rings, marks]).opts(
        hv.opts.Overlay(
            responsive=True, height=HEIGHT, xlim=frame["x"], ylim=frame["y"], xlabel=frame["xlabel"], ylabel=frame["ylabel"],
            show_legend=False, toolbar="above", fontsize={"labels": 13, "ticks": 11}, show_grid=True,
        )
    )  # fmt: skip


def fill(held: Held, rows: pd.DataFrame, x: str, y: str, system: str) -> None:
    """Other units into a drawn picture: figures, words, ranges and axis titles."""
    ended = _with_ends(rows, x, y)
    columns = {str(column): ended[column].to_numpy() for column in ended if column not in ("fill", "mark")}
    for part in ("across", "upright", "marks", "rings"):
        held.fill(f"{x}-{y}.{part}", columns)
    held.frame(f"{x}-{y}", **_frame(rows, x, y, system))


def _with_ends(rows: pd.DataFrame, x: str, y: str) -> pd.DataFrame:
    """With the ends of both interval bars: one lies level with the mark, one plumb over it."""
    return rows.assign(level=rows[y], level_=rows[y], plumb=rows[x], plumb_=rows[x])


def _frame(rows: pd.DataFrame, x: str, y: str, system: str) -> dict:
    return {
        "x": spread(rows[x]), "y": spread(rows[y]),
        "xlabel": TRAITS[x].heading(system), "ylabel": TRAITS[y].heading(system),
    }  # fmt: skip


def plain_toolbar(plot, _element) -> None:
    plot.state.toolbar.logo = None


def _count(number: float, word: str) -> str:
    return f"{int(number)} {word}{'' if int(number) == 1 else 's'}"
