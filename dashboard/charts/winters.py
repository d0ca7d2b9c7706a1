"""What each winter brought, a dot a winter, with what cultivars need as lines: an SVG picture that fits any width."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from markupsafe import Markup

from dashboard.charts import style

HEIGHT, TOP, BOTTOM = 300, 14, 26
LEFT, RIGHT = 7.0, 76.0  # per cent of the width: where the winters stand; names stand right of it
MOST_NAMED = 8  # lines with a name of their own; more are drawn as a band
_APART = 13  # pixels between two names


def drawing(
    years: Sequence[int],
    brought: np.ndarray,
    needs: Mapping[str, float],
    unit: str,
    least: float | None = None,
) -> Markup:
    """A picture of the winters.

    Parameters
    ----------
    years : sequence of int
        (winters,) in their order.
    brought : ndarray
        (winters,) chill of each.
    needs : Mapping of str to float
        What cultivars need, by name, in the same unit; of many only the range is drawn.
    unit : str
        Its word.
    least : float or None
        What nine winters in ten brought at least.

    Returns
    -------
    Markup
        An SVG picture with its words for a screen reader.
    """
    wanted = np.array([*needs.values()], dtype=float)
    low, high = _span(np.r_[brought, wanted])

    def down(value: float) -> float:
        return TOP + (HEIGHT - TOP - BOTTOM) * (high - value) / (high - low)

    def across(place: float) -> str:
        return f"{LEFT + (RIGHT - LEFT) * (place + 0.5) / max(len(years), 1):.2f}%"

    parts = [_grid(value, down(value)) for value in _ticks(low, high)]
    if len(needs) > MOST_NAMED:
        parts.append(
            _band(
                down(wanted.max()),
                down(wanted.min()),
                f"{len(needs)} cultivars need from {wanted.min():g} to {wanted.max():g}",
            )
        )
    else:
        parts += _needs(needs, down)
    if least is not None:
        parts.append(_line(down(least), style.LEAF, "2 5", 1.5))
    short = wanted.max() if len(wanted) else -np.inf
    for place, (year, value) in enumerate(zip(years, brought, strict=True)):
        missed = bool((wanted > value).any())
        look = (style.BARE_EDGE, style.PAPER) if missed else (style.LEAF, style.LEAF)
        parts.append(Markup('<circle cx="{}" cy="{:.1f}" r="5" fill="{}" stroke="{}" stroke-width="2.5"/>').format(across(place), down(value), look[1], look[0]))  # fmt: skip
        if _dated(place, len(years)):
            parts.append(_text(across(place), HEIGHT - 8, str(year), "middle"))
    missing = int((brought < short).sum())
    told = f"Chill of {len(years)} winters, {years[0]} to {years[-1]}: {brought.min():.0f} to {brought.max():.0f} {unit}."
    told += f" {missing} were too warm for at least one of the cultivars." if len(needs) else ""
    return Markup('<svg class="winters" role="img" aria-label="{}" width="100%" height="{}">{}</svg>').format(told, HEIGHT, Markup("").join(parts))  # fmt: skip


def _span(values: np.ndarray) -> tuple[float, float]:
    low, high = float(values.min()), float(values.max())
    air = 0.08 * (high - low) or 1.0
    return max(low - air, 0.0), high + air


def _ticks(low: float, high: float) -> list[float]:
    step = 10 ** np.floor(np.log10(high - low))
    step *= next(part for part in (0.2, 0.5, 1.0, 2.0) if (high - low) / (step * part) <= 6 or part == 2.0)
    return [float(one) for one in np.arange(np.ceil(low / step), np.floor(high / step) + 1) * step]


def _dated(place: int, count: int) -> bool:
    return place % max(1, -(-count // 7)) == 0


def _grid(value: float, y: float) -> Markup:
    return Markup('<line x1="{}%" x2="{}%" y1="{:.1f}" y2="{:.1f}" stroke="{}"/>').format(LEFT, RIGHT, y, y, style.RULE) + _text("0", y + 4, f"{value:g}", "start")  # fmt: skip


def _line(y: float, ink: str, dashes: str, width: float) -> Markup:
    return Markup('<line x1="{}%" x2="{}%" y1="{:.1f}" y2="{:.1f}" stroke="{}" stroke-width="{}" stroke-dasharray="{}"/>').format(LEFT, RIGHT, y, y, ink, width, dashes)  # fmt: skip


def _band(top: float, bottom: float, words: str) -> Markup:
    box = Markup('<rect x="{}%" width="{}%" y="{:.1f}" height="{:.1f}" fill="{}" opacity=".55"/>').format(LEFT, RIGHT - LEFT, top, max(bottom - top, 2), style.GAP)  # fmt: skip
    return box + _text(f"{LEFT + 1}%", bottom - 5, words, "start", style.LIMIT)


def _needs(needs: Mapping[str, float], down) -> list[Markup]:
    """A line a cultivar; names that would lie on each other are moved apart."""
    parts, last = [], -np.inf
    for name, need in sorted(needs.items(), key=lambda one: -one[1]):
        y = down(need)
        last = max(y, last + _APART)
        parts += [
            _line(y, style.LIMIT, "7 4", 1.5),
            _text("100%", last + 4, f"{name[:20]} {need:g}", "end", style.LIMIT),
        ]
    return parts


def _text(x: str, y: float, words: str, anchor: str, ink: str = style.QUIET) -> Markup:
    return Markup('<text x="{}" y="{:.1f}" font-size="11.5" text-anchor="{}" fill="{}" aria-hidden="true">{}</text>').format(x, y, anchor, ink, words)  # fmt: skip
