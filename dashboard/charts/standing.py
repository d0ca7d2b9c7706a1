"""When one cultivar was picked, in each season and at each site."""

from __future__ import annotations

import holoviews as hv
import numpy as np
import pandas as pd

from dashboard.charts import style
from dashboard.charts.calendar import LABEL
from dashboard.charts.drawing import known_as
from dashboard.ripening import axis_days


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
