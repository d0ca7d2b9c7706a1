"""When each cultivar is picked, a page of rows at a time, and over it how many are being picked on each day."""

from __future__ import annotations

from typing import Any

import holoviews as hv
import numpy as np
import pandas as pd
from bokeh.models import ColumnDataSource

from dashboard.charts import style
from dashboard.charts.drawing import Drawing, shared, unchosen
from dashboard.charts.held import Held
from dashboard.ripening import axis_days, day_label
from dashboard.ripening.cover import Cover
from dashboard.terms.units import figure

PAGE = 30  # rows that stay legible in one picture
FEWEST = 12  # a short list keeps this many row heights, so that bars do not grow into beams
ROW_PX = 19
LABEL: dict[str, Any] = {"text_font_size": "12px", "text_color": style.INK, "text_baseline": "middle"}


def extent(windows: pd.DataFrame) -> tuple[float, float]:
    """First and last day drawn, the same for every answer."""
    known = windows[["first_low", "last_high"]].to_numpy(dtype=float)
    known = known[np.isfinite(known)]
    return (float(known.min()) - 9, float(known.max()) + 9) if known.size else (140.0, 270.0)


def page_rows(
    windows: pd.DataFrame,
    taken: pd.Series,
    page: int,
    shortlist: tuple,
    checks: tuple,
    span: tuple[float, float],
) -> dict[str, Any]:
    """The columns behind one page: ``windows`` sorted by ripening, ``page`` from 0; bars, names beside them, tips."""
    part = _page(windows, page)
    row = np.arange(len(part), dtype=float) + 0.5
    early = part["first"].to_numpy() < span[0] + 0.45 * (span[1] - span[0])
    names = np.array(
        [
            ("★ " if n in shortlist else "") + str(n)[:28] + (" (check)" if n in checks else "")
            for n in part.index
        ],
        dtype=object,
    )
    inside = taken.reindex(part.index).fillna(False).to_numpy(dtype=bool)
    colours = [style.LEAF if ok else style.OUT for ok in inside]
    return {
        "cultivar": list(part.index.astype(str)),
        "row": row,
        "first": part["first"].to_numpy(dtype=float) - 0.5, "last": part["last"].to_numpy(dtype=float) + 0.5,
        "first_low": part["first_low"].to_numpy(dtype=float), "last_high": part["last_high"].to_numpy(dtype=float),
        "middle": part["middle"].to_numpy(dtype=float),
        "color": colours,
        "before": part["first_low"].to_numpy(dtype=float) - 1, "after": part["last_high"].to_numpy(dtype=float) + 1,
        "name_before": ["" if e else n for n, e in zip(names, early, strict=True)],
        "name_after": [n if e else "" for n, e in zip(names, early, strict=True)],
    }  # fmt: skip


def _page(windows: pd.DataFrame, page: int) -> pd.DataFrame:
    """The rows of a page; a blank one where there are none, for a picture without any row is an error in the browser."""
    part = windows.iloc[page * PAGE : (page + 1) * PAGE]
    return part if len(part) else windows.reindex([""])


def told(windows: pd.DataFrame, page: int, south: bool) -> dict[str, list[str]]:
    """What a tip says of each row on the page, in dates."""
    part = _page(windows, page)
    return {
        "usual": [
            f"{day_label(a, south)} to {day_label(b, south)}"
            for a, b in zip(part["first"], part["last"], strict=True)
        ],
        "ends": [
            f"{day_label(a, south)} and {day_label(b, south)}"
            for a, b in zip(part["first_low"], part["last_high"], strict=True)
        ],
        "coming": [
            f"{day_label(a, south)} and {day_label(b, south)}"
            for a, b in zip(part["not_before"], part["not_after"], strict=True)
        ],
        "beside": [
            "–" if days != days else f"{figure(days, 0, signed=True)} days" for days in part["from_check"]
        ],
        "seasons": [
            f"{n:.0f}" + (", never at this site" if new else "")
            for n, new in zip(part["seasons"], part["unseen"].eq(True), strict=True)
        ],
    }


def drawing(span: tuple[float, float], south: bool, rows: bool = True) -> Drawing:
    """Three pictures: "season", how many are picked on each day, "cover", the chance that enough are, and, where ``rows`` are wanted,
    "calendar", a page of them; nothing in them yet."""
    page, days, cover, gaps, wanted = (
        ColumnDataSource(name=name, data={}) for name in ("rows", "days", "cover", "gaps", "wanted")
    )
    below = {"calendar": _calendar(page, span, south)} if rows else {}
    return Drawing(
        season=_season(days, span, south), cover=_cover(cover, gaps, wanted, span, south), **below
    )  # fmt: skip


def _calendar(rows: ColumnDataSource, span: tuple[float, float], south: bool) -> hv.Overlay:
    nowhere = ([0.0], [0.0], [0.0], [0.0])
    seen = hv.Segments(nowhere).opts(
        color=style.QUIET,
        line_width=1.5,
        alpha=0.8,
        hooks=[shared(rows, x0="first_low", x1="last_high", y0="row", y1="row"), unchosen],
    )
    usual = hv.Segments(nowhere).opts(
        line_width=11, tools=["hover", "tap"],
        hover_tooltips=[
            ("", "@cultivar"), ("Picked", "@usual"), ("Likely (90 %) between", "@ends"),
            ("In any year", "@coming"), ("From the check", "@beside"), ("Seasons", "@seasons"),
        ],
        hooks=[shared(rows, x0="first", x1="last", y0="row", y1="row", line_color="color"), unchosen],
    )  # fmt: skip
    before, after = (
        hv.Labels(([0.0], [0.0], [""])).opts(
            **LABEL, text_align=align, hooks=[shared(rows, x=side, y="row", text=f"name_{side}"), unchosen],
        )
        for side, align in (("before", "right"), ("after", "left"))
    )  # fmt: skip
    return (seen * usual * before * after).opts(
        hv.opts.Overlay(
            responsive=True, height=PAGE * ROW_PX + 60, xlim=span, ylim=(PAGE, 0), yaxis=None, xlabel="",
            xticks=axis_days(*span, south), xaxis="top", gridstyle={"ygrid_line_color": None},
            show_grid=True, default_tools=[], tools=["hover"], toolbar=None, show_legend=False,
        )
    )  # fmt: skip


def fill_page(held: Held, columns: dict[str, Any]) -> None:
    """Another page, or another answer: ``columns`` from ``page_rows`` and ``told``."""
    held.fill("rows", columns)
    held.frame("calendar", y=(max(len(columns["row"]), FEWEST), 0))


def picked_by_day(windows: pd.DataFrame, chosen: np.ndarray, span: tuple) -> dict[str, np.ndarray]:
    """On each day of the span, how many of ``windows`` are usually being picked, and how many of the ``chosen`` ones."""
    days = np.arange(np.floor(span[0]), np.ceil(span[1]) + 1)
    first, last = windows["first"].to_numpy(dtype=float), windows["last"].to_numpy(dtype=float)
    picking = (first[:, None] <= days + 0.5) & (last[:, None] >= days - 0.5)
    return {
        "day": days,
        "all": picking.sum(axis=0).astype(float),
        "chosen": picking[chosen].sum(axis=0).astype(float),
    }


def _season(days: ColumnDataSource, span: tuple[float, float], south: bool) -> hv.Overlay:
    nothing = ([0.0, 1.0], [0.0, 0.0])
    every, chosen = (
        hv.Area(nothing).opts(color=fill, line_color=line, hooks=[shared(days, x="x", y=part), unchosen])
        for part, fill, line in (("all", "#c8d3cc", style.QUIET), ("chosen", style.LEAF, style.LEAF))
    )
    return (every * chosen).opts(
        hv.opts.Overlay(
            responsive=True, height=170, xlim=span, ylim=(0, 1), xlabel="", ylabel="cultivars", xticks=axis_days(*span, south),
            default_tools=[], toolbar=None, show_legend=False, show_grid=True, fontsize={"labels": 12, "ticks": 11}, padding=0,
        )
    )  # fmt: skip


def fill_season(held: Held, by_day: dict[str, np.ndarray]) -> None:
    """Another answer, from ``picked_by_day``; an area is its upper line and the ground, there and back."""
    there_and_back = {"x": np.concatenate([by_day["day"], by_day["day"][::-1]])}
    ground = np.zeros_like(by_day["day"])
    for part in ("all", "chosen"):
        there_and_back[part] = np.concatenate([by_day[part], ground])
    held.fill(
        "days", {name: values.astype("float32") for name, values in there_and_back.items()}
    )  # half the bytes
    held.frame("season", y=(0.0, max(1.0, float(by_day["all"].max(initial=0)) * 1.08)))


def _cover(
    chances: ColumnDataSource,
    gaps: ColumnDataSource,
    wanted_at: ColumnDataSource,
    span: tuple[float, float],
    south: bool,
) -> hv.Overlay:
    bare = hv.Rectangles(([0.0], [0.0], [1.0], [1.0])).opts(
        color=style.LIMIT, alpha=0.16, line_width=0,
        hooks=[shared(gaps, left="left", right="right", top="top", bottom="bottom"), unchosen],
    )  # fmt: skip
    chance = hv.Area(([0.0, 1.0], [0.0, 0.0])).opts(
        color="#9db8aa", line_color=style.LEAF, line_width=2, hooks=[shared(chances, x="x", y="y"), unchosen]
    )
    wanted = hv.Segments(([0.0], [0.0], [1.0], [0.0])).opts(
        color=style.INK,
        line_dash="dotted",
        line_width=1,
        hooks=[shared(wanted_at, x0="start", x1="end", y0="y", y1="y"), unchosen],
    )
    return (chance * bare * wanted).opts(
        hv.opts.Overlay(
            responsive=True, height=170, xlim=span, ylim=(0, 104), xlabel="", ylabel="chance, %", xticks=axis_days(*span, south),
            yticks=[0, 20, 40, 60, 80, 100], default_tools=[], toolbar=None, show_legend=False, show_grid=True, fontsize={"labels": 12, "ticks": 11}, padding=0,
        )
    )  # fmt: skip


def fill_cover(held: Held, cover: Cover | None) -> None:
    """The chance of each day, what is asked of it, and the gaps; nothing where there is no model."""
    days = cover.days if cover else np.zeros(2)
    chance = 100 * cover.chance if cover else np.zeros(2)
    x = np.concatenate([days, days[::-1]]).astype("float32")
    held.fill("cover", {"x": x, "y": np.concatenate([chance, np.zeros(len(chance))]).astype("float32")})
    held.fill("wanted", {"start": [days[0]], "end": [days[-1]], "y": [100 * cover.wanted if cover else 0.0]})
    gaps = cover.gaps if cover else ()
    held.fill(
        "gaps",
        {
            "left": [gap.first - 0.5 for gap in gaps] or [float("nan")],
            "right": [gap.last + 0.5 for gap in gaps] or [float("nan")],
            "bottom": [0.0] * max(len(gaps), 1),
            "top": [104.0] * max(len(gaps), 1),
        },
    )
