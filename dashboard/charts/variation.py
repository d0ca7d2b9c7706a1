"""Where the variation in each trait comes from: one bar a trait, cut into its sources."""

from __future__ import annotations

import holoviews as hv
import pandas as pd

from dashboard.charts import style
from dashboard.charts.calendar import LABEL
from dashboard.charts.drawing import known_as

# From lasting differences of cultivars, dark, to the noise among the fruit of a sample, pale; each part is also labelled.
SHADES = ("#1d4436", "#3d7560", "#6ea38c", "#a5c9b7", "#8a6d1f", "#c9b26b", "#e5ded0")
NARROW = 0.045  # a part with a smaller share has no room for its figure


def variation(rows: pd.DataFrame) -> hv.Overlay:
    """``rows``: trait, source, place (which source, from 0), start, end (shares, 0 to 1); a bar a trait, top to bottom."""
    order = {trait: number + 0.5 for number, trait in enumerate(dict.fromkeys(rows["trait"]))}
    rows = rows.assign(row=rows["trait"].map(order).astype(float), share=100 * (rows["end"] - rows["start"]))
    rows = rows.assign(row_=rows["row"], colour=[SHADES[place % len(SHADES)] for place in rows["place"]])
    rows = rows.assign(middle=(rows["start"] + rows["end"]) / 2)
    rows["words"] = [f"{share:.0f}" if share > 100 * NARROW else "" for share in rows["share"]]
    rows["ink"] = [style.PAPER if place in (0, 1, 4) else style.INK for place in rows["place"]]
    bars = hv.Segments(rows, kdims=["start", "row", "end", "row_"], vdims=["trait", "source", "share", "colour"]).opts(
        color="colour", line_width=20, tools=["hover"], default_tools=[],
        hover_tooltips='<div style="font-size: 12.5px; max-width: 260px"><b>@trait</b><br>@source<br>@share{0} % of the variation</div>',
    )  # fmt: skip
    figures = hv.Labels(rows, kdims=["middle", "row"], vdims=["words", "ink"]).opts(
        **{**LABEL, "text_color": "ink"}
    )
    names = pd.DataFrame({"x": -0.01, "row": list(order.values()), "name": list(order)})
    traits = hv.Labels(names, kdims=["x", "row"], vdims=["name"]).opts(**LABEL, text_align="right")
    return (bars * figures * traits).opts(
        hv.opts.Overlay(
            responsive=True, height=40 + 28 * max(len(order), 1), xlim=(-0.3, 1.0), ylim=(max(len(order), 1), 0), yaxis=None,
            xaxis=None, toolbar=None, default_tools=[], show_legend=False, hooks=[known_as("variation")],
        )
    )  # fmt: skip
