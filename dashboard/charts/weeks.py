"""Classes of fruit against weeks, a box each: how many are being picked, and how surely enough are."""

from __future__ import annotations

import holoviews as hv
from bokeh.models import ColumnDataSource

from dashboard.answers.class_weeks import ClassWeeks
from dashboard.charts import style
from dashboard.charts.drawing import Drawing, shared, unchosen
from dashboard.charts.held import Held
from dashboard.ripening import day_label
from dashboard.ripening.cover import Cover
from dashboard.wording.figures import of_hundred

ROW_PX = 26
SHADES = ("#e6efe9", "#c6d9cd", "#9dbfab", "#6f9f84", "#4a7d63")  # from just covered to certain
GAPS = ("#e8a391", "#f3c6bb", "#fae3dc")  # from never any fruit to nearly covered
TIP = '<div style="font-size: 12.5px; max-width: 260px">@told</div>'


def drawing(kinds: tuple[str, ...], starts: tuple[float, ...], south: bool) -> Drawing:
    """One picture, "weeks", over a source of that name; a row a class, from the top, a column a week."""
    source = ColumnDataSource(name="weeks", data={})
    boxes = hv.Rectangles(([0.0], [0.0], [1.0], [1.0])).opts(
        line_color="white", line_width=2, tools=["hover", "tap"], selection_line_color=style.CHOSEN, selection_line_width=3,
        nonselection_alpha=1.0, hover_tooltips=TIP,
        hooks=[shared(source, left="left", right="right", top="top", bottom="bottom", fill_color="colour"), _over],
    )  # fmt: skip
    counts = hv.Labels(([0.0], [0.0], [""])).opts(
        text_font_size="12px", text_align="center", text_baseline="middle", hooks=[shared(source, x="x", y="y", text="count", text_color="ink"), unchosen]
    )  # fmt: skip
    weeks = [(place + 0.5, day_label(start, south)) for place, start in enumerate(starts)]
    rows = [(place + 0.5, kind) for place, kind in enumerate(kinds)]
    return Drawing(
        weeks=(boxes * counts).opts(
            hv.opts.Overlay(
                responsive=True, height=90 + ROW_PX * len(kinds), xlim=(0, len(starts)), ylim=(len(kinds), 0), xticks=weeks, yticks=rows,
                xlabel="", ylabel="", xaxis="top", xrotation=60, toolbar=None, default_tools=[], show_legend=False,
            )
        )
    )  # fmt: skip


def _over(plot, _element) -> None:
    plot.handles["hover"].attachment = "above"  # a row is read on while one of its boxes is told


def fill(held: Held, found: ClassWeeks, south: bool) -> None:
    """The boxes of an answer, a class after the other, each by week."""
    at = [(row, column) for row in range(len(found.classes)) for column in range(len(found.starts))]
    chance = [float(found.chance[cell]) for cell in at]
    count = [float(found.count[cell]) for cell in at]
    held.fill(
        "weeks",
        {
            "left": [float(column) for _, column in at], "right": [column + 1.0 for _, column in at],
            "top": [float(row) for row, _ in at], "bottom": [row + 1.0 for row, _ in at],
            "x": [column + 0.5 for _, column in at], "y": [row + 0.5 for row, _ in at],
            "colour": [_colour(share, found.covers[found.classes[row]]) for (row, _), share in zip(at, chance, strict=True)],
            "ink": [style.PAPER if share > 0.96 else style.INK for share in chance],
            "count": [("" if number < 0.05 else f"{number:.1f}") if number < 9.95 else f"{number:.0f}" for number in count],
            "told": [
                f"{found.classes[row]}, week of {day_label(found.starts[column], south)}: {number:.1f} being picked; on its worst day enough in {of_hundred(share)} of 100 years"
                for (row, column), share, number in zip(at, chance, count, strict=True)
            ],
        },
    )  # fmt: skip


def _colour(chance: float, cover: Cover) -> str:
    if not cover.names:
        return style.WASH
    if chance < cover.wanted:
        return GAPS[min(int(chance / cover.wanted * len(GAPS)), len(GAPS) - 1)]
    return SHADES[round((chance - cover.wanted) / (1 - cover.wanted) * (len(SHADES) - 1))]
