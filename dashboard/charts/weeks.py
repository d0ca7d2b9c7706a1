"""Classes of fruit against weeks, a box each: how many are being picked, and how surely enough are."""

from __future__ import annotations

import holoviews as hv
from bokeh.models import ColumnDataSource

from dashboard.answers.class_weeks import ClassWeeks
from dashboard.charts import style
from dashboard.charts.drawing import Drawing, shared, unchosen
from dashboard.charts.held import Held
from dashboard.ripening import day_label
from dashboard.wording.figures import of_hundred

ROW_PX = 26
TIP = '<div style="font-size: 12.5px; max-width: 260px">@told</div>'


def drawing() -> Drawing:
    """One picture, "weeks", over a source of that name; a row a class, from the top, a column a week. ``fill`` says which."""
    source = ColumnDataSource(name="weeks", data={})
    boxes = hv.Rectangles(([0.0], [0.0], [1.0], [1.0])).opts(
        line_color="white", line_width=2, tools=["hover", "tap"], selection_line_color=style.CHOSEN, selection_line_width=3,
        nonselection_alpha=1.0, hover_tooltips=TIP,
        hooks=[shared(source, left="left", right="right", top="top", bottom="bottom", fill_color="colour"), _over],
    )  # fmt: skip
    counts = hv.Labels(([0.0], [0.0], [""])).opts(
        text_font_size="12px", text_align="center", text_baseline="middle", hooks=[shared(source, x="x", y="y", text="count", text_color="ink"), unchosen]
    )  # fmt: skip
    return Drawing(
        weeks=(boxes * counts).opts(
            hv.opts.Overlay(
                responsive=True, height=90 + ROW_PX, xlim=(0, 1), ylim=(1, 0), xticks=[(0.5, "")], yticks=[(0.5, "")],
                xlabel="", ylabel="", xaxis="top", xrotation=60, toolbar=None, default_tools=[], show_legend=False,
            )
        )
    )  # fmt: skip


def _over(plot, _element) -> None:
    plot.handles["hover"].attachment = "above"  # a row is read on while one of its boxes is told


def fill(held: Held, found: ClassWeeks, south: bool) -> None:
    """The boxes of an answer, a class after the other, each by week; its classes and weeks along the edges."""
    at = [(row, column) for row in range(len(found.classes)) for column in range(len(found.starts))]
    chance = [float(found.chance[cell]) for cell in at]
    count = [float(found.count[cell]) for cell in at]
    grown = [bool(found.grown[cell]) for cell in at]
    wanted = [found.covers[found.classes[row]].wanted for row, _ in at]
    held.fill(
        "weeks",
        {
            "left": [float(column) for _, column in at], "right": [column + 1.0 for _, column in at],
            "top": [float(row) for row, _ in at], "bottom": [row + 1.0 for row, _ in at],
            "x": [column + 0.5 for _, column in at], "y": [row + 0.5 for row, _ in at],
            "colour": [colour(share, least, ripe) for share, least, ripe in zip(chance, wanted, grown, strict=True)],
            "ink": [style.PAPER if share > 0.96 else style.INK for share in chance],
            "count": [counted(number) if ripe else "" for number, ripe in zip(count, grown, strict=True)],
            "told": [
                f"{found.classes[row]}, week of {day_label(found.starts[column], south)}: "
                + (f"{number:.1f} being picked; on its worst day enough in {of_hundred(share)} of 100 years" if ripe else NOT_GROWN)
                for (row, column), share, number, ripe in zip(at, chance, count, grown, strict=True)
            ],
        },
    )  # fmt: skip
    _edges(held, found, south)


NOT_GROWN = "hardly any fruit of this class is ripe then"


def _edges(held: Held, found: ClassWeeks, south: bool) -> None:
    (figure,) = held.figures
    rows, columns = max(len(found.classes), 1), max(len(found.starts), 1)
    held.frame("weeks", x=(0, columns), y=(rows, 0))
    figure.height = 90 + ROW_PX * rows
    for axis, labels in (
        (figure.yaxis[0], found.classes),
        (figure.xaxis[0], [day_label(start, south) for start in found.starts]),
    ):
        axis.ticker.update(ticks=[place + 0.5 for place in range(len(labels))])  # type: ignore[union-attr]
        axis.major_label_overrides = {place + 0.5: label for place, label in enumerate(labels)}


def counted(number: float) -> str:
    """What stands in a box; nothing where hardly anything is ripe."""
    return ("" if number < 0.05 else f"{number:.1f}") if number < 9.95 else f"{number:.0f}"


def colour(chance: float, wanted: float, grown: bool) -> str:
    """Red for a gap, the deeper the barer; green for a covered week; neutral where nobody's fruit is ripe."""
    return style.NAMED[looks(chance, wanted, grown)]


def looks(chance: float, wanted: float, grown: bool) -> str:
    """The same colour by its name."""
    if not grown:
        return "wash"
    if chance < wanted:
        return f"gap_{min(int(chance / wanted * len(style.GAPS)), len(style.GAPS) - 1)}"
    return f"shade_{round((chance - wanted) / (1 - wanted) * (len(style.SHADES) - 1))}"
