"""How all cultivars spread in a trait, as a small histogram, with one of them as a dot on its axis; and all of it as one picture."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from dashboard.answers.among import Standing
from dashboard.charts import style
from dashboard.charts.small import dot, part
from dashboard.terms.traits import trait_called
from dashboard.wording import among as words

TALL = 18  # pixels of the highest column
LINE, LEFT, AXIS, RIGHT = 40, 200, 320, 150  # pixels of the picture that is saved


def spread(one: Standing) -> Markup:
    """The histogram with the dot and its interval under it; figures and words stand beside it."""
    low, high = one.span
    marks = dot(part(one.value, low, high), part(one.low, low, high), part(one.high, low, high))
    return Markup(
        '<span class="spread" aria-hidden="true"><svg viewBox="0 0 {} {}" preserveAspectRatio="none"><path d="{}" fill="{}"/></svg>{}</span>'
    ).format(len(one.counts), TALL, columns(one.counts), style.EDGE, marks)


def columns(counts: Sequence[int]) -> str:
    """A way round each column of the histogram, one wide; the highest is ``TALL``."""
    most = max(counts, default=0)
    return "".join(
        f"M{place} {TALL}v-{TALL * count / most:.4g}h.9V{TALL}z"
        for place, count in enumerate(counts)
        if count
    )


def drawing(rows: Sequence[Standing], system: str) -> tuple[Markup, int, int]:
    """Markup, width and height of the whole, a line a trait."""
    width, height = LEFT + AXIS + RIGHT, LINE * len(rows) + 8
    lines = [_line(one, system, LINE * place) for place, one in enumerate(rows)]
    whole = Markup('<svg width="{}" height="{}">{}</svg>').format(width, height, Markup("").join(lines))
    return whole, width, height


def _line(one: Standing, system: str, top: int) -> Markup:
    low, high = one.span
    value, around = words.figures(one, system)
    down = top + 30

    def at(value: float) -> str:
        share = part(value, low, high)
        return f"{LEFT + AXIS * (share if share == share else 0.5):.1f}"

    interval = Markup("")
    if one.low == one.low and one.high == one.high:
        interval = Markup('<line x1="{}" x2="{}" y1="{}" y2="{}" stroke="{}" stroke-width="2"/>').format(
            at(one.low), at(one.high), down, down, style.INK
        )
    return (
        _text(0, down, trait_called(one.trait).heading(system), "bold")
        + _text(0, down + 13, f"{value}  {around}")
        + Markup(
            '<svg x="{}" y="{}" width="{}" height="{}" viewBox="0 0 {} {}" preserveAspectRatio="none"><path d="{}" fill="{}"/></svg>'
        ).format(LEFT, down - TALL, AXIS, TALL, len(one.counts), TALL, columns(one.counts), style.EDGE)
        + interval
        + Markup('<circle cx="{}" cy="{}" r="4" fill="{}"/>').format(at(one.value), down, style.INK)
        + _text(LEFT + AXIS + 10, down, words.stands(one))
    )


def _text(x: int, y: int, said: str, weight: str = "normal") -> Markup:
    return Markup('<text x="{}" y="{}" font-size="12" font-weight="{}" fill="{}">{}</text>').format(
        x, y, weight, style.INK, said
    )
