"""An order of trees drawn: what each week brings in seasons to come beside what is wanted, and how that grows with the trees. SVG pictures of any width."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from markupsafe import Markup

from dashboard.charts import style

HEIGHT, TOP, BOTTOM, LEFT = 210, 16, 24, 9.0  # pixels, and per cent of the width for the figures at the left
LOW, ROOM = 92, 16  # pixels: height of the picture of the years, and over its bars
MOST_DATED = 6
OVER = 4.0  # times what is wanted: more fruit is cut off, so that the weeks that lack it stay readable


def weeks(
    labels: Sequence[str], wanted: np.ndarray, fan: np.ndarray, short: Sequence[bool], unit: str
) -> Markup:
    """A column a week.

    Parameters
    ----------
    labels : sequence of str
        (weeks,) the day each begins.
    wanted : ndarray
        (weeks,) fruit wanted, in ``unit``.
    fan : ndarray
        (5, weeks) fruit that 10, 25, 50, 75 and 90 seasons in a hundred bring at most.
    short : sequence of bool
        (weeks,) whether it is told that the week may be short.
    unit : str
        Its word.

    Returns
    -------
    Markup
        An SVG picture with its words for a screen reader.
    """
    top = max(float(np.max(wanted)) * OVER, 1e-9)
    high = min(float(max(np.max(wanted), np.max(fan))) * 1.06, top)
    wide = (100 - LEFT) / max(len(labels), 1)

    def down(value: float) -> float:
        return TOP + (HEIGHT - TOP - BOTTOM) * (1 - min(value, high) / high)

    parts = [_grid(value, down(value)) for value in _ticks(high)]
    for place, label in enumerate(labels):
        left = LEFT + wide * place
        lowest, lower, middle, upper, highest = (down(value) for value in fan[:, place])
        inner, outer = (style.BARE_EDGE, style.BARE) if short[place] else (style.SHADES[3], style.SHADES[1])
        parts += [
            _box(left + 0.12 * wide, 0.76 * wide, highest, lowest, outer),
            _box(left + 0.12 * wide, 0.76 * wide, upper, lower, inner),
            *(
                []
                if fan[2, place] > high
                else [_line(left + 0.12 * wide, left + 0.88 * wide, middle, style.INK, 2)]
            ),
            _line(left, left + wide, down(float(wanted[place])), style.CHOSEN, 2.5),
        ]
        if place % max(1, -(-len(labels) // MOST_DATED)) == 0:
            parts.append(_text(f"{left + wide / 2:.2f}%", HEIGHT - 7, label, "middle"))
    parts.append(_text("0", 11, unit, "start"))
    lacking = [label for label, one in zip(labels, short, strict=True) if one]
    told = f"Fruit by week beside what is wanted, {len(labels)} weeks. May be short: {', '.join(lacking) or 'none'}."
    return Markup('<svg class="supply" role="img" aria-label="{}" width="100%" height="{}">{}</svg>').format(told, HEIGHT, Markup("").join(parts))  # fmt: skip


def years(met: np.ndarray) -> Markup:
    """Of the season's fruit, the share there in each year from planting: ``met`` (years,), 0 to 1."""
    wide, parts = 100 / max(len(met), 1), []
    for place, share in enumerate(met):
        y = ROOM + (LOW - ROOM - BOTTOM) * (1 - float(share))
        parts.append(_box(wide * (place + 0.1), 0.8 * wide, y, LOW - BOTTOM, style.SHADES[3]))
        middle = f"{wide * (place + 0.5):.2f}%"
        parts.append(_text(middle, y - 4, f"{100 * share:.0f}", "middle"))
        parts.append(_text(middle, LOW - 7, str(place + 1), "middle"))
    told = f"Share of the fruit by year from planting, from {100 * met[0]:.0f} % in year 1 to {100 * met[-1]:.0f} % in year {len(met)}."
    return Markup('<svg class="supply" role="img" aria-label="{}" width="100%" height="{}">{}</svg>').format(told, LOW, Markup("").join(parts))  # fmt: skip


def _ticks(high: float) -> list[float]:
    step = 10 ** np.floor(np.log10(high))
    step *= next(part for part in (0.2, 0.5, 1.0) if high / (step * part) <= 5 or part == 1.0)
    return [float(one) for one in np.arange(0, high + 1e-9, step)]


def _grid(value: float, y: float) -> Markup:
    return _line(LEFT, 100, y, style.RULE, 1) + _text("0", y + 4, f"{value:,.0f}", "start")


def _box(left: float, wide: float, top: float, bottom: float, fill: str) -> Markup:
    return Markup('<rect x="{:.2f}%" width="{:.2f}%" y="{:.1f}" height="{:.1f}" fill="{}"/>').format(left, wide, top, max(bottom - top, 0.5), fill)  # fmt: skip


def _line(left: float, right: float, y: float, ink: str, width: float) -> Markup:
    return Markup('<line x1="{:.2f}%" x2="{:.2f}%" y1="{:.1f}" y2="{:.1f}" stroke="{}" stroke-width="{}"/>').format(left, right, y, y, ink, width)  # fmt: skip


def _text(x: str, y: float, words: str, anchor: str) -> Markup:
    return Markup('<text x="{}" y="{:.1f}" font-size="11" text-anchor="{}" fill="{}" aria-hidden="true">{}</text>').format(x, y, anchor, style.QUIET, words)  # fmt: skip
