"""What each winter brought, a dot a winter, with what cultivars need as lines: an SVG picture that fits any width."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise

import numpy as np
from markupsafe import Markup

from dashboard.charts import style

HEIGHT, TOP, BOTTOM = 340, 34, 46
LEFT, RIGHT = 8.0, 70.0  # per cent of the width: where the winters stand; what is needed is told right of it
MOST_GROUPS = 6  # needs that lie close are told together, so that each label stands beside its own line
MOST_NAMED = 12  # of a group, where it is pointed at
_APART = 17  # pixels between two labels at least
_LONGEST = 13  # letters of a name beside its line: what has room on a phone


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
        What cultivars need, by name, in the same unit; needs that lie close are told together.
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
    parts += [_text("0", 14, f"Chill {unit} in the winter", "start"), _text(f"{RIGHT + 1.5}%", 14, "Needed", "start", style.LIMIT) if len(needs) else Markup("")]  # fmt: skip
    if least is not None:
        parts.append(_line(down(least), style.LEAF, "2 5", 1.5))
    short = wanted.max() if len(wanted) else -np.inf
    for place, (year, value) in enumerate(zip(years, brought, strict=True)):
        missed = bool((wanted > value).any())
        look = (style.BARE_EDGE, style.PAPER) if missed else (style.LEAF, style.LEAF)
        parts.append(Markup('<circle cx="{}" cy="{:.1f}" r="5" fill="{}" stroke="{}" stroke-width="2.5"/>').format(across(place), down(value), look[1], look[0]))  # fmt: skip
        if _dated(place, len(years)):
            parts.append(_text(across(place), HEIGHT - BOTTOM + 18, str(year), "middle"))
    parts.append(_text(f"{(LEFT + RIGHT) / 2}%", HEIGHT - 6, "Winter, by the year of its spring", "middle"))
    parts += [_need(group, down, unit) for group in grouped(needs, down)]
    missing = int((brought < short).sum())
    told = f"Chill of {len(years)} winters, {years[0]} to {years[-1]}: {brought.min():.0f} to {brought.max():.0f} {unit}."
    told += f" {missing} were too warm for at least one of the cultivars." if len(needs) else ""
    return Markup('<svg class="winters" role="group" aria-label="{}" width="100%" height="{}">{}</svg>').format(told, HEIGHT, Markup("").join(parts))  # fmt: skip


def grouped(needs: Mapping[str, float], down: Callable[[float], float]) -> list[list[tuple[str, float]]]:
    """The needs from the least on, told together until there are few groups whose middles stand apart: those first that span least."""
    ordered = sorted(needs.items(), key=lambda one: (one[1], one[0]))
    groups: list[list[tuple[str, float]]] = []
    for name, need in ordered:
        if groups and groups[-1][0][1] == need:
            groups[-1].append((name, need))
        else:
            groups.append([(name, need)])
    while len(groups) > 1:
        spans = [above[-1][1] - below[0][1] for below, above in pairwise(groups)]
        near = [down(_middle(below)) - down(_middle(above)) < _APART for below, above in pairwise(groups)]  # fmt: skip
        if len(groups) <= MOST_GROUPS and not any(near):
            break
        among = range(len(spans)) if len(groups) > MOST_GROUPS else [at for at, one in enumerate(near) if one]
        at = min(among, key=lambda one: spans[one])
        groups[at : at + 2] = [groups[at] + groups[at + 1]]
    return groups


def _middle(group: list[tuple[str, float]]) -> float:
    return (group[0][1] + group[-1][1]) / 2


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


def _need(group: list[tuple[str, float]], down: Callable[[float], float], unit: str) -> Markup:
    """A line for one need, a band for several, its label right of it; who they are, where it is pointed at or pressed."""
    low, high, y = group[0][1], group[-1][1], down(_middle(group))
    one = low == high
    figures = f"{low:g}" if one else f"{low:g}–{high:g}"
    name = group[0][0] if len(group[0][0]) <= _LONGEST else f"{group[0][0][: _LONGEST - 1].rstrip()}…"
    label = f"{name} {figures}" if len(group) == 1 else f"{len(group)} need {figures}"
    told = [who if one else f"{who} {need:g}" for who, need in group[:MOST_NAMED]]
    more = f" and {len(group) - MOST_NAMED} more, in the table below" if len(group) > MOST_NAMED else ""
    who = f"{figures} {unit}: {', '.join(told)}{more}"
    drawn = _line(down(low), style.LIMIT, "7 4", 1.5) if one else _band(down(high), down(low))
    hit = Markup('<rect x="{}%" width="{}%" y="{:.1f}" height="{}" fill="transparent"/>').format(RIGHT, 100 - RIGHT, y - _APART / 2, _APART)  # fmt: skip
    at = TOP - 10 if y > HEIGHT / 2 else y + 12  # over what is needed much, under what is needed little
    box = Markup('<foreignObject x="{}%" width="{}%" y="{:.0f}" height="{}"><div xmlns="http://www.w3.org/1999/xhtml" class="who">{}</div></foreignObject>').format(LEFT, 100 - LEFT, at, HEIGHT, who)  # fmt: skip
    words = _text(f"{RIGHT + 1.8}%", y + 4, label, "start", style.LIMIT)
    return Markup('<g class="need" tabindex="0" role="img" aria-label="{}">{}</g>').format(who, Markup("").join([drawn, hit, words, box]))  # fmt: skip


def _band(top: float, bottom: float) -> Markup:
    """From the least to the most of several needs, with a bracket at its right end."""
    shade = Markup('<rect x="{}%" width="{}%" y="{:.1f}" height="{:.1f}" fill="{}" opacity=".45"/>').format(LEFT, RIGHT - LEFT, top + 1, bottom - top - 2, style.GAP)  # fmt: skip
    return shade + Markup('<line x1="{0}%" x2="{0}%" y1="{1:.1f}" y2="{2:.1f}" stroke="{3}" stroke-width="3"/>').format(RIGHT + 0.6, top + 1, bottom - 1, style.LIMIT)  # fmt: skip


def _text(x: str, y: float, words: str, anchor: str, ink: str = style.QUIET) -> Markup:
    return Markup('<text x="{}" y="{:.1f}" font-size="11.5" text-anchor="{}" fill="{}" aria-hidden="true">{}</text>').format(x, y, anchor, ink, words)  # fmt: skip
