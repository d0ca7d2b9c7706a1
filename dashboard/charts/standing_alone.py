"""The page's pictures as elements that hold their figures and stand by themselves: for a notebook, and for other tools."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import holoviews as hv
import numpy as np
import pandas as pd

from dashboard.answers.question import Question
from dashboard.charts import style
from dashboard.charts import tradeoff as against
from dashboard.charts.calendar import LABEL, ROW_PX, extent, page_rows, told
from dashboard.charts.tradeoff import TIP, spread
from dashboard.ripening import axis_days
from dashboard.terms.traits import TRAITS

MOST = 60  # rows of a picture that stay legible
LOOK: dict[str, Any] = {
    "responsive": True,
    "show_legend": False,
    "toolbar": None,
    "default_tools": [],
    "show_grid": True,
}


def tradeoff(asked: Question, names: Sequence[str], across: str, up: str) -> hv.Overlay:
    """One mark a cultivar, pale where it misses a limit, ringed as surely as no other betters it; the limits on the mean as walls."""
    catalogue, units = asked.catalogue, asked.units
    every = against.points(catalogue.cultivars, asked.values, units)
    every["full"] = against.full(asked.fit["taken"])
    every["sure"] = against.rings(asked.sure_not_beaten, asked.not_beaten)
    rows = every[every["cultivar"].isin(list(names))]
    ends = [f"{across}_low", up, f"{across}_high"], [across, f"{up}_low", f"{up}_high"]
    few = rows[(rows["sure"] > 0)] if len(rows) > MOST else rows
    bars = [
        hv.Segments(few.assign(x0=few[x0], y0=few[y0], x1=few[x1], y1=few[y1]), kdims=["x0", "y0", "x1", "y1"], vdims=["cultivar"])
        for x0, y0, x1, y1 in ((ends[0][0], up, ends[0][2], up), (across, ends[1][1], across, ends[1][2]))
    ]  # fmt: skip
    marks = hv.Points(
        rows, kdims=[across, up], vdims=[name for name in rows.columns if name not in (across, up)]
    )
    rings = hv.Points(rows[rows["sure"] > 0], kdims=[across, up], vdims=["sure"])
    walls = [
        (hv.VLine if trait == across else hv.HLine)(at).opts(color=style.LIMIT, line_dash="dashed", line_width=2)
        for trait, pair in against.limits(asked.bounds, units).items() if trait in (across, up)
        for at in pair if at is not None
    ]  # fmt: skip
    drawn = [bar.opts(color=style.QUIET, alpha=0.55, line_width=1) for bar in bars]
    drawn.append(
        rings.opts(
            color=None, fill_alpha=0, line_color=style.LEAF, line_width=2.4, size=17, line_alpha="sure"
        )
    )
    drawn.append(
        marks.opts(size=9, color="fill", marker="mark", alpha="full", line_color=style.INK, line_width=1.2, tools=["hover"], hover_tooltips=TIP)
    )  # fmt: skip
    return hv.Overlay([*drawn, *walls]).opts(
        hv.opts.Overlay(
            **LOOK, height=against.HEIGHT + 70, xlim=spread(every[across]), ylim=spread(every[up]),
            xlabel=TRAITS[across].heading(units), ylabel=TRAITS[up].heading(units),
        )
    )  # fmt: skip


def calendar(asked: Question, windows: pd.DataFrame) -> hv.Overlay:
    """A bar a cultivar from first to last pick, a thin line where they surely lie; gray where its buyer does not take it."""
    south, span = asked.catalogue.south, extent(asked.catalogue.windows)
    rows = windows.dropna(subset="middle").sort_values("middle", kind="stable").iloc[:MOST]
    columns = {
        **page_rows(rows, asked.fit["taken"], 0, asked.shortlist, asked.catalogue.checks, span),
        **told(rows, 0, south),
    }
    frame = pd.DataFrame(columns).assign(row_=lambda one: one["row"])
    tips = ["cultivar", "usual", "ends", "coming", "beside", "seasons"]
    seen = hv.Segments(frame, kdims=["first_low", "row", "last_high", "row_"], vdims=["cultivar"])
    usual = hv.Segments(frame, kdims=["first", "row", "last", "row_"], vdims=[*tips, "color"])
    sides = (("before", "right"), ("after", "left"))
    names = [
        hv.Labels(frame, kdims=[side, "row"], vdims=[f"name_{side}"]).opts(**LABEL, text_align=align) for side, align in sides
    ]  # fmt: skip
    return hv.Overlay([
        seen.opts(color=style.QUIET, line_width=1.5, alpha=0.8),
        usual.opts(
            color="color", line_width=11, tools=["hover"],
            hover_tooltips=[
                ("", "@cultivar"), ("Picked", "@usual"), ("Likely (90 %) between", "@ends"), ("In any year", "@coming"),
                ("From the check", "@beside"), ("Seasons", "@seasons"),
            ],
        ),
        *names,
    ]).opts(
        hv.opts.Overlay(
            **LOOK, height=60 + ROW_PX * max(len(frame), 4), xlim=span, ylim=(max(len(frame), 4), 0), yaxis=None, xlabel="",
            xticks=axis_days(*span, south), xaxis="top", gridstyle={"ygrid_line_color": None},
        )
    )  # fmt: skip


def cover(asked: Question) -> hv.Overlay:
    """The chance of fruit on each day, the chance that is asked of it, and the gaps."""
    found, south = asked.cover, asked.catalogue.south
    assert found is not None
    days = pd.DataFrame({"day": found.days, "chance": 100 * found.chance})
    chance = hv.Area(days, "day", "chance").opts(color="#9db8aa", line_color=style.LEAF, line_width=2)
    gaps = hv.VSpans([(gap.first - 0.5, gap.last + 0.5) for gap in found.gaps]).opts(
        color=style.LIMIT, alpha=0.16, line_width=0
    )
    wanted = hv.HLine(100 * found.wanted).opts(color=style.INK, line_dash="dotted", line_width=1)
    parts = [chance, *([gaps] if found.gaps else []), wanted]
    return hv.Overlay(parts).opts(
        hv.opts.Overlay(
            **LOOK, height=220, xlim=found.span, ylim=(0, 104), xlabel="", ylabel="chance, %", xticks=axis_days(*found.span, south),
            yticks=[0, 20, 40, 60, 80, 100],
        )
    )  # fmt: skip


def intervals(values: pd.DataFrame, heading: str) -> hv.Overlay:
    """``values`` (estimate, low, high) by cultivar: a dot and its interval a row, the first ``MOST``."""
    rows = values.iloc[:MOST]
    frame = rows.assign(cultivar=rows.index.astype(str), row=np.arange(len(rows)) + 0.5).assign(
        row_=lambda one: one["row"]
    )
    frame["left"] = frame["low"].fillna(frame["estimate"])
    lines = hv.Segments(frame.dropna(subset="low"), kdims=["low", "row", "high", "row_"], vdims=["cultivar"])
    dots = hv.Points(frame, kdims=["estimate", "row"], vdims=["cultivar", "low", "high"])
    names = hv.Labels(frame, kdims=["left", "row"], vdims=["cultivar"])
    low, high = spread(pd.Series(rows[["estimate", "low", "high"]].to_numpy().ravel()))
    return hv.Overlay([
        lines.opts(color=style.INK, line_width=2),
        dots.opts(color=style.LEAF, size=8, tools=["hover"], hover_tooltips=[("", "@cultivar"), (heading, "@estimate{0.00}")]),
        names.opts(**LABEL, text_align="right", xoffset=-(high - low) / 100),
    ]).opts(
        hv.opts.Overlay(
            **LOOK, height=60 + ROW_PX * max(len(frame), 4), xlim=(low - (high - low) / 4, high), ylim=(max(len(frame), 4), 0), yaxis=None,
            xlabel=heading, gridstyle={"ygrid_line_color": None},
        )
    )  # fmt: skip
