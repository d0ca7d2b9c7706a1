"""Two traits for a room: one picture with thick marks, read from the back row, and the cultivar that is spoken of in it."""

from __future__ import annotations

from functools import cache
from typing import Any

import holoviews as hv
import numpy as np
import pandas as pd
from bokeh.models import ColumnDataSource, IndexFilter

from dashboard.charts import style
from dashboard.charts.drawing import Drawing, shared, unchosen
from dashboard.charts.held import Held
from dashboard.charts.tradeoff import spread
from dashboard.terms.traits import TRAITS

X, Y = "x", "y"  # whichever traits these are just now
NAME = "spotlit"
ENDS = ("", "_low", "_high")
COLUMNS = ("cultivar", "fill", "mark", *(f"{axis}{end}" for axis in (X, Y) for end in ENDS))
TIP = f'<div style="font-size: 26px; line-height: 1.2; color: {style.INK}"><b>@cultivar</b></div>'
ENDING = 40
AIR = 0.03  # of an axis, beyond the last end of an interval
ROWS = ("shown", "ringed", "starred", "spot")


def held() -> Held:
    """A copy for one visitor. How large its letters are is the page's to say: they grow with the screen."""
    return Held(_drawing(), line=4)


def fill(
    picture: Held, rows: pd.DataFrame, full: list[float], sure: list[float], pair: tuple[str, str]
) -> None:
    """``rows`` from ``tradeoff.points``; how ``full`` each mark and how ``sure`` each ring is drawn; which traits lie across and up."""
    columns: dict[str, Any] = {name: rows[name].tolist() for name in ("cultivar", "fill", "mark")}
    for axis, trait in zip((X, Y), pair, strict=True):
        columns |= {f"{axis}{end}": rows[f"{trait}{end}"].tolist() for end in ENDS}
    picture.fill("cultivars", {**columns, "full": full, "sure": sure})
    picture.frame(NAME, x=room(rows, pair[0]), y=room(rows, pair[1]))


def room(rows: pd.DataFrame, trait: str) -> tuple[float, float]:
    """An axis that holds the whole interval of whichever is spoken of, so that no mark is cut at its edge and nothing jumps from one to the
    next. An interval more than twice as wide as all that is known runs off it."""
    low, high = spread(rows[trait])
    wide = high - low
    ends = rows[[f"{trait}{end}" for end in ENDS]].to_numpy(dtype=float)
    known = ends[np.isfinite(ends)]
    least, most = (known.min(), known.max()) if known.size else (low, high)
    return (
        float(min(low, max(least - AIR * wide, low - wide / 2))),
        float(max(high, min(most + AIR * wide, high + wide / 2))),
    )


def titles(system: str, pair: tuple[str, str]) -> list[str]:
    """Of the axes, across and up: they are written beside the picture, upright, for the back row."""
    return [TRAITS[trait].heading(system) for trait in pair]


@cache
def _drawing() -> Drawing:
    source = ColumnDataSource(name="cultivars", data={key: [] for key in COLUMNS})
    rows = {name: IndexFilter(name=name, indices=[]) for name in ROWS}
    nowhere = ([0.0], [0.0])
    across, upright = (
        hv.Segments((*nowhere, *nowhere), kdims=["x0", "y0", "x1", "y1"]).opts(
            color=style.SPOT, line_width=5, default_tools=[], hooks=[shared(source, rows["spot"], **ends), unchosen, _whole]
        )
        for ends in (
            {"x0": f"{X}_low", "x1": f"{X}_high", "y0": Y, "y1": Y},
            {"x0": X, "x1": X, "y0": f"{Y}_low", "y1": f"{Y}_high"},
        )
    )  # fmt: skip

    def end(flat: bool, **at: str) -> hv.Points:
        """The end of an interval, as a stroke across it: on the page's largest window more than a thirtieth of its height. The hall's script
        makes every mark as much larger or smaller as the window is (``hall/looks.js``)."""
        return hv.Points(nowhere, kdims=[X, Y]).opts(
            marker="dash", size=ENDING, angle=0 if flat else 90, line_color=style.SPOT, line_width=5, default_tools=[],
            hooks=[shared(source, rows["spot"], **at), unchosen, _whole],
        )  # fmt: skip

    ends = [
        *(end(False, x=f"{X}{side}", y=Y) for side in ENDS[1:]),
        *(end(True, x=X, y=f"{Y}{side}") for side in ENDS[1:]),
    ]

    def ring(which: str, colour: str, size: int, width: float, **looks: str) -> hv.Points:
        return hv.Points(nowhere, kdims=[X, Y]).opts(
            color=None, fill_alpha=0, line_color=colour, line_width=width, size=size, default_tools=[],
            hooks=[shared(source, rows[which], **looks), unchosen, *([_whole] if which == "spot" else [])],
        )  # fmt: skip

    looks = {"fill_color": "fill", "marker": "mark", "fill_alpha": "full", "line_alpha": "full"}
    marks = hv.Points(nowhere, kdims=[X, Y]).opts(
        size=19, line_color=style.INK, line_width=2.4, tools=["hover", "tap"], default_tools=[], active_tools=["tap"],
        hover_tooltips=TIP, hooks=[shared(source, rows["shown"], **looks), _one_tip],
    )  # fmt: skip
    star = hv.Points(nowhere, kdims=[X, Y]).opts(
        marker="star", size=30, color=style.CHOSEN, line_color=style.PAPER, line_width=1.5, default_tools=[],
        hooks=[shared(source, rows["starred"]), unchosen],
    )  # fmt: skip
    whole = [
        ring("ringed", style.LEAF, 33, 4.5, line_alpha="sure"),
        marks,
        star,
        across,
        upright,
        *ends,
        ring("spot", style.SPOT, 58, 8),
    ]
    picture = hv.Overlay(whole).opts(
        hv.opts.Overlay(
            responsive=True,
            xlim=(0, 1),
            ylim=(0, 1),
            show_legend=False,
            toolbar=None,
            show_grid=True,
            xlabel="",
            ylabel="",
        )
    )
    return Drawing(**{NAME: picture.opts(hooks=[_roomy])})


def _roomy(plot, _element) -> None:
    """What touches the edge of the canvas is not wholly wiped off when it is painted anew; so its paper is that of the hall."""
    plot.state.update(min_border_left=64, min_border_bottom=44, border_fill_alpha=0, background_fill_alpha=0)


def _whole(plot, _element) -> None:
    """What is spoken of is drawn over the frame, too, where it stands close to it."""
    plot.handles["glyph_renderer"].level = "annotation"


def _one_tip(plot, _element) -> None:
    plot.handles["hover"].limit = 1
