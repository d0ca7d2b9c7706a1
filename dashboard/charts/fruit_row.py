"""Drawn fruit in one row and to one scale, each with its name and its words under it, as one picture."""

from __future__ import annotations

from collections.abc import Collection

from markupsafe import Markup

from dashboard.answers.side_by_side import Fruit
from dashboard.charts import fruit as drawn
from dashboard.charts import style

SIDE, GAP, LINE = 176, 14, 15  # pixels: of a drawing, between two, of a line of words
LONGEST = 24  # letters of a name


def drawing(fruit: Collection[Fruit], units: str) -> tuple[Markup, int, int]:
    """Markup, width and height; the circle to compare with stands last."""
    side = drawn.span(fruit, units)
    figures = [
        (
            drawn.drawing(one, units, side),
            [_cut(one.name), drawn.diameters_told(one, units), *drawn.words(one)],
        )
        for one in fruit
    ]
    figures.append((drawn.reference(units, side), []))
    width = len(figures) * (SIDE + GAP) - GAP
    height = SIDE + LINE * max(len(words) for _, words in figures) + 6
    parts = [_figure(place * (SIDE + GAP), *figure) for place, figure in enumerate(figures)]
    whole = Markup('<svg width="{}" height="{}">{}</svg>').format(width, height, Markup("").join(parts))
    return whole, width, height


def _figure(left: int, picture: Markup, words: list[str]) -> Markup:
    lines = [
        Markup('<text x="{}" y="{}" font-size="12" font-weight="{}" fill="{}">{}</text>').format(
            left, SIDE + LINE * (place + 1), "normal" if place else "bold", style.INK, line
        )
        for place, line in enumerate(words)
    ]
    held = Markup('<svg x="{}" width="{}" height="{}">{}</svg>').format(left, SIDE, SIDE, picture)
    return held + Markup("").join(lines)


def _cut(name: str) -> str:
    return name if len(name) <= LONGEST else name[: LONGEST - 1] + "…"
