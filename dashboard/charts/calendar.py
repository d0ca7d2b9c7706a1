"""When each cultivar is picked, a page of rows at a time, and over it how many are being picked on each day."""

from __future__ import annotations

from typing import Any

import holoviews as hv
import numpy as np
import pandas as pd

from dashboard import style
from dashboard.charts.held import Held
from dashboard.ripening import day_label

PAGE = 30  # rows that stay legible in one picture
FEWEST = 12  # a short list keeps this many row heights, so that bars do not grow into beams
ROW_PX = 19
PARTS = {
    "seen": ("earliest", "row", "latest", "row_"),
    "usual": ("first", "row", "last", "row_", "color", "cultivar", "usual", "seen", "seasons"),
    "before": ("before", "row", "name_before"),
    "after": ("after", "row", "name_after"),
}
LABEL: dict[str, Any] = {"text_font_size": "12px", "text_color": style.INK, "text_baseline": "middle"}


def extent(windows: pd.DataFrame) -> tuple[float, float]:
    """First and last day drawn, the same for every answer."""
    known = windows[["earliest", "latest"]].to_numpy(dtype=float)
    known = known[np.isfinite(known)]
    return (float(known.min()) - 4, float(known.max()) + 4) if known.size else (140.0, 270.0)


def ticks(span: tuple[float, float], south: bool) -> list[tuple[float, str]]:
    """The first of each month by name, the fifteenth by its number: labels that fit a phone."""
    named = []
    for day in range(int(span[0]), int(span[1]) + 1):
        label = day_label(day, south)
        if label.split()[0] in ("1", "15"):
            named.append((float(day), label.removesuffix(label[2:]) if label.startswith("15") else label))
    return named


def page_rows(
    windows: pd.DataFrame,
    meets: pd.Series,
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
    inside = meets.reindex(part.index).fillna(False).to_numpy(dtype=bool)
    colours = [style.LEAF if ok else style.OUT for ok in inside]
    return {
        "cultivar": list(part.index.astype(str)),
        "row": row, "row_": row,
        "first": part["first"].to_numpy(dtype=float) - 0.5, "last": part["last"].to_numpy(dtype=float) + 0.5,
        "earliest": part["earliest"].to_numpy(dtype=float), "latest": part["latest"].to_numpy(dtype=float),
        "middle": part["middle"].to_numpy(dtype=float),
        "color": colours,
        "before": part["earliest"].to_numpy(dtype=float) - 1, "after": part["latest"].to_numpy(dtype=float) + 1,
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
        "seen": [
            f"{day_label(a, south)} to {day_label(b, south)}"
            for a, b in zip(part["earliest"], part["latest"], strict=True)
        ],
        "seasons": [f"{n:.0f}" for n in part["seasons"]],
    }


def calendar(columns: dict[str, Any], span: tuple[float, float], south: bool, held: Held) -> hv.Overlay:
    """The page of rows; ``columns`` from ``page_rows`` and ``told``; later pages come through ``held``."""
    frame = pd.DataFrame(columns)
    tips = ["cultivar", "usual", "seen", "seasons", "color"]
    seen = hv.Segments(frame, kdims=["earliest", "row", "latest", "row_"]).opts(
        color=style.QUIET, line_width=1.5, alpha=0.8, hooks=[held.source("calendar.seen")]
    )
    usual = hv.Segments(frame, kdims=["first", "row", "last", "row_"], vdims=tips).opts(
        line_width=11, tools=["hover"],
        hover_tooltips=[
            ("", "@cultivar"), ("Usually picked", "@usual"), ("Earliest to latest pick seen", "@seen"), ("Seasons", "@seasons")
        ],
        hooks=[held.source("calendar.usual"), held.figure("calendar"), _coloured],
    )  # fmt: skip
    before = hv.Labels(frame, kdims=["before", "row"], vdims=["name_before"]).opts(
        **LABEL, text_align="right", hooks=[held.source("calendar.before")]
    )
    after = hv.Labels(frame, kdims=["after", "row"], vdims=["name_after"]).opts(
        **LABEL, text_align="left", hooks=[held.source("calendar.after")]
    )
    return (seen * usual * before * after).opts(
        hv.opts.Overlay(
            responsive=True, height=PAGE * ROW_PX + 60, xlim=span, ylim=(PAGE, 0), yaxis=None, xlabel="",
            xticks=ticks(span, south), xaxis="top", gridstyle={"xgrid_line_color": "#c9d0cc", "ygrid_line_color": None},
            show_grid=True, default_tools=[], tools=["hover"], toolbar=None, show_legend=False, fontsize={"xticks": 11},
        )
    )  # fmt: skip


def _coloured(plot, _element) -> None:
    """Each bar by its own colour; HoloViews would settle on one for good where the first page has only one."""
    drawn = plot.handles["glyph_renderer"]
    for glyph in (drawn.glyph, drawn.selection_glyph, drawn.nonselection_glyph, drawn.muted_glyph):
        if hasattr(glyph, "line_color"):
            glyph.line_color = {"field": "color"}


def fill_page(held: Held, columns: dict[str, Any]) -> None:
    """Another page, or another answer, into the drawn calendar."""
    for part, names in PARTS.items():
        held.fill(f"calendar.{part}", {name: columns[name] for name in names})
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


def season(by_day: dict[str, np.ndarray], span: tuple[float, float], south: bool, held: Held) -> hv.Overlay:
    """How many cultivars are being picked on each day; ``by_day`` from ``picked_by_day``."""
    frame = pd.DataFrame(by_day)
    every = hv.Area(frame, kdims=["day"], vdims=["all"]).opts(
        color="#c8d3cc", line_color=style.QUIET, hooks=[held.source("season.all"), held.figure("season")]
    )
    chosen = hv.Area(frame, kdims=["day"], vdims=["chosen"]).opts(
        color=style.LEAF, line_color=style.LEAF, hooks=[held.source("season.chosen")]
    )
    return (every * chosen).opts(
        hv.opts.Overlay(
            responsive=True, height=170, xlim=span, ylim=(0, max(1.0, frame["all"].max() * 1.08)), xlabel="",
            ylabel="cultivars", xticks=ticks(span, south), default_tools=[], toolbar=None, show_legend=False,
            show_grid=True, fontsize={"labels": 12, "ticks": 11}, padding=0,
        )
    )  # fmt: skip


def fill_season(held: Held, by_day: dict[str, np.ndarray]) -> None:
    """Another answer into the drawn season; an area is its upper line and the ground, there and back."""
    for part in ("all", "chosen"):
        x = np.concatenate([by_day["day"], by_day["day"][::-1]]).astype("float32")  # half the bytes
        y = np.concatenate([by_day[part], np.zeros_like(by_day[part])]).astype("float32")
        held.fill(f"season.{part}", {"x": x, "y": y})
    held.frame("season", y=(0.0, max(1.0, float(by_day["all"].max(initial=0)) * 1.08)))
