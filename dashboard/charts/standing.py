"""One cultivar among all: where it stands in each trait, and when it was picked in each season."""

from __future__ import annotations

from typing import Any

import holoviews as hv
import numpy as np
import pandas as pd

from dashboard.charts import style
from dashboard.charts.calendar import LABEL
from dashboard.charts.drawing import known_as
from dashboard.ripening import axis_days
from dashboard.terms.traits import TRAITS


def standings(values: dict[str, pd.DataFrame], cultivar: str, system: str) -> pd.DataFrame:
    """One row a trait with a value: share of cultivars below it (0–100), the same for its low and high, and words."""
    rows = []
    for key, trait in TRAITS.items():
        frame = values[key]
        if cultivar not in frame.index:
            continue
        own: Any = frame.loc[cultivar]
        if not np.isfinite(own["estimate"]):
            continue
        others = frame["estimate"].dropna().to_numpy()
        rows.append(
            {
                "trait": trait.label,
                "told": f"{trait.written(own['estimate'], system)} {trait.unit(system).symbol}".strip(),
                "at": _below(others, own["estimate"]),
                "low": _below(others, own["low"]) if np.isfinite(own["low"]) else np.nan,
                "high": _below(others, own["high"]) if np.isfinite(own["high"]) else np.nan,
            }
        )
    return pd.DataFrame(rows, columns=["trait", "told", "at", "low", "high"])


def _below(others: np.ndarray, value: float) -> float:
    """Per cent of the others under a value; ties count half."""
    return 100 * float((others < value).mean() + 0.5 * (others == value).mean())


def standing(rows: pd.DataFrame) -> hv.Overlay:
    """``rows`` from ``standings``; lowest of all cultivars on the left, highest on the right."""
    rows = rows.assign(row=np.arange(len(rows), dtype=float) + 0.5)
    rows = rows.assign(row_=rows["row"], start=0.0, end=100.0, name_at=-2.0, told_at=102.0)
    ground = hv.Segments(rows, kdims=["start", "row", "end", "row_"]).opts(color="#d5dbd7", line_width=8)
    bars = hv.Segments(rows, kdims=["low", "row", "high", "row_"]).opts(color="#8fae9d", line_width=8)
    marks = hv.Points(rows, kdims=["at", "row"], vdims=["trait", "told"]).opts(
        color=style.LEAF, size=11, line_color="white", tools=["hover"],
        hover_tooltips=[("", "@trait"), ("", "@told"), ("Higher than", "@at{0} % of the cultivars")],
    )  # fmt: skip
    names = hv.Labels(rows, kdims=["name_at", "row"], vdims=["trait"]).opts(**LABEL, text_align="right")
    labels = hv.Labels(rows, kdims=["told_at", "row"], vdims=["told"]).opts(**LABEL, text_align="left")
    return (ground * bars * marks * names * labels).opts(
        hv.opts.Overlay(
            responsive=True, height=70 + 26 * max(len(rows), 1), xlim=(-62, 140), ylim=(max(len(rows), 1), 0), yaxis=None,
            xticks=[(0, "lowest"), (50, "middle"), (100, "highest")], xlabel="", toolbar=None, default_tools=[], show_legend=False,
            fontsize={"xticks": 11}, hooks=[known_as("standing")],
        )
    )  # fmt: skip


def seasons(picks: pd.DataFrame, span: tuple[float, float], south: bool) -> hv.Overlay:
    """``picks`` of one cultivar (season, site, first, last): a bar a site and season, newest at the bottom."""
    rows = picks.sort_values(["season", "site"], kind="stable").reset_index(drop=True)
    words = [f"{int(s)} {site}" for s, site in zip(rows["season"], rows["site"].astype(str), strict=True)]
    early = rows["first"].mean() < span[0] + 0.45 * (span[1] - span[0])  # the words stand where there is room
    rows = rows.assign(
        row=np.arange(len(rows), dtype=float) + 0.5, start=rows["first"] - 0.5, end=rows["last"] + 0.5
    )
    rows = rows.assign(row_=rows["row"], at=rows["end"] + 1 if early else rows["start"] - 1, words=words)
    bars = hv.Segments(rows, kdims=["start", "row", "end", "row_"]).opts(color=style.LEAF, line_width=9)
    names = hv.Labels(rows, kdims=["at", "row"], vdims=["words"]).opts(
        **LABEL, text_align="left" if early else "right"
    )
    return (bars * names).opts(
        hv.opts.Overlay(
            responsive=True, height=70 + 20 * max(len(rows), 1), xlim=span, ylim=(max(len(rows), 1), 0), yaxis=None, xlabel="",
            xticks=axis_days(*span, south), xaxis="top", toolbar=None, default_tools=[], show_legend=False, show_grid=True,
            gridstyle={"ygrid_line_color": None}, fontsize={"xticks": 11}, hooks=[known_as("seasons")],
        )
    )  # fmt: skip
