"""The same pictures as one plain Bokeh file, filtered in the browser: no server, nothing sent, the floor for ours."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
from bokeh.embed import file_html
from bokeh.layouts import column, row
from bokeh.models import (
    BooleanFilter,
    CDSView,
    CheckboxGroup,
    ColumnDataSource,
    CustomJS,
    DataTable,
    Div,
    HoverTool,
    IndexFilter,
    Range1d,
    Segment,
    TableColumn,
)  # fmt: skip
from bokeh.plotting import figure
from bokeh.resources import INLINE

from dashboard.charts import style
from dashboard.terms.traits import TRAITS

CHOICES = {
    "fruit_type": ("peach", "nectarine"),
    "flesh_colour": ("yellow", "white", "red"),
    "acidity_class": ("normal", "low"),
    "shape_type": ("round", "flat"),
    "stone": ("cling", "semi-free", "free"),
    "status": ("released", "numbered selection"),
}
WIDTH, FEW = 325, 40
PAIRS = (("size", "sugar"), ("firmness", "sugar"), ("size", "firmness"))
HEIGHT = 330
ROOM = 405  # pixels: a heading and 15 rows
TABLE = ("cultivar", "kind", "size_told", "firmness_told", "sugar_told", "evidence")
FILTER = """
const data = source.data, n = data.cultivar.length;
const wanted = groups.map((g, i) => [fields[i], g.active.map((a) => options[i][a])]).filter(([, w]) => w.length);
const shown = Array.from({length: n}, (_, r) => wanted.every(([field, w]) => w.includes(data[field][r])));
const left = [...shown.keys()].filter((r) => shown[r]);
const [a, b, c] = [data.size, data.sugar, data.firmness];
const known = left.filter((r) => !isNaN(a[r]) && !isNaN(b[r]) && !isNaN(c[r]));
const ringed = known.filter((r) => !known.some((o) =>
  a[o] >= a[r] && b[o] >= b[r] && c[o] >= c[r] && (a[o] > a[r] || b[o] > b[r] || c[o] > c[r])));
show.booleans = shown;
rings.indices = ringed;
bars.indices = left.length <= few ? left : ringed;
line.text = `<b>${left.length}</b> of ${n} cultivars pass your filters`;
"""


def page(rows: pd.DataFrame) -> str:
    """The whole file as HTML, its libraries inside."""
    source = ColumnDataSource(rows)
    show = BooleanFilter(booleans=[True] * len(rows))
    ringed = _not_beaten(rows)
    rings, bars = IndexFilter(indices=ringed), IndexFilter(indices=ringed)
    pictures = [_picture(source, rows, x, y, show, rings, bars) for x, y in PAIRS]
    table = DataTable(
        source=source, view=CDSView(filter=show), columns=[TableColumn(field=key, title=key) for key in TABLE], width=3 * WIDTH, height=ROOM,
        index_position=None, sortable=False,
    )  # fmt: skip
    line = Div(text=f"<b>{len(rows)}</b> of {len(rows)} cultivars pass your filters")
    groups = [
        CheckboxGroup(labels=[f"{field}: {value}" for value in values]) for field, values in CHOICES.items()
    ]
    told = CustomJS(
        args={
            "source": source, "show": show, "rings": rings, "bars": bars, "groups": groups, "line": line,
            "fields": list(CHOICES), "options": [list(values) for values in CHOICES.values()], "few": FEW,
        },
        code=FILTER,
    )  # fmt: skip
    for group in groups:
        group.js_on_change("active", told)
    return file_html(row(column(*groups, width=310), column(line, row(*pictures), table)), INLINE, "Bare")


def write_page(rows: pd.DataFrame, folder: Path) -> None:
    (folder / "index.html").write_text(page(rows), encoding="utf-8")


def _picture(source, rows, x, y, show, rings, bars):
    spans = [(float(rows[key].min()), float(rows[key].max())) for key in (x, y)]
    plot = figure(
        width=WIDTH, height=HEIGHT, x_range=Range1d(*spans[0]), y_range=Range1d(*spans[1]), tools="tap,box_select,reset",
        x_axis_label=TRAITS[x].heading("us"), y_axis_label=TRAITS[y].heading("us"),
    )  # fmt: skip
    barred, ringed = CDSView(filter=show & bars), CDSView(filter=show & rings)
    for glyph in (
        Segment(x0=f"{x}_low", x1=f"{x}_high", y0=y, y1=y, line_color=style.QUIET, line_alpha=0.55),
        Segment(x0=x, x1=x, y0=f"{y}_low", y1=f"{y}_high", line_color=style.QUIET, line_alpha=0.55),
    ):
        plot.add_glyph(source, glyph, view=barred)
    plot.scatter(
        x, y, source=source, view=ringed, fill_alpha=0, line_color=style.LEAF, line_width=2.4, size=17
    )
    marks = plot.scatter(
        x, y, source=source, view=CDSView(filter=show), fill_color="fill", marker="mark", size=9, line_color=style.INK,
        line_width=1.2,
    )  # fmt: skip
    plot.add_tools(HoverTool(renderers=[marks], tooltips=[("", f"@{key}") for key in TABLE]))
    return plot


def _not_beaten(rows: pd.DataFrame) -> list[int]:
    points = rows[["size", "sugar", "firmness"]].to_numpy(dtype=float)
    as_good = (points[None] >= points[:, None]).all(axis=2)
    ahead = (points[None] > points[:, None]).any(axis=2)
    beaten = (as_good & ahead).any(axis=1) | np.isnan(points).any(axis=1)
    return np.flatnonzero(~beaten).tolist()
