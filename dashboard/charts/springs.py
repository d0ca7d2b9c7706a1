"""What frost would have taken of the bloom: a row a cultivar, a box a spring, darker where more was lost. An SVG picture."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from markupsafe import Markup

from dashboard.charts import style

BOX, TOP, NAMES = 22, 18, 22.0  # pixels a row and over them, per cent of the width for the names
MOST = 20  # rows
ROOMY = 12  # springs that a phone has room to write figures for; the dress hides those of more there
# From a trace on; below the first nothing is drawn. The last is more than thinning would have taken.
STEPS = ((0.02, style.GAP), (0.1, style.BARE), (0.5, "#d98672"), (0.9, "#8f2b1a"))


def height(rows: int) -> int:
    return TOP + BOX * rows + 4


def drawing(names: Sequence[str], years: Sequence[int], lost: np.ndarray) -> Markup:
    """A picture of past springs.

    Parameters
    ----------
    names : sequence of str
        (cultivars,) at most ``MOST`` are drawn.
    years : sequence of int
        (springs,) in their order.
    lost : ndarray
        (springs, cultivars) share of the bloom, 0 to 1.

    Returns
    -------
    Markup
        An SVG picture with its words for a screen reader.
    """
    names = list(names)[:MOST]
    wide = (100 - NAMES) / max(len(years), 1)
    parts = []
    for place, year in enumerate(years):
        if place % max(1, -(-len(years) // 8)) == 0:
            last = place == len(years) - 1
            at = 100.0 if last else NAMES + wide * (place + 0.5)
            parts.append(_text(f"{at:.2f}%", 12, str(year), "end" if last else "middle", style.QUIET))
    for row, name in enumerate(names):
        y = TOP + BOX * row
        parts.append(_text("0", y + 15, name if len(name) <= 22 else name[:21] + "…", "start", style.INK))
        for place in range(len(years)):
            share = float(lost[place, row])
            parts.append(_box(NAMES + wide * place, wide, y, share))
    hard = [
        str(year) for year, one in zip(years, lost, strict=True) if (one[: len(names)] >= STEPS[-1][0]).any()
    ]
    told = f"Bloom lost to frost in {len(years)} springs. Over 90 % of at least one: {', '.join(hard) or 'none'}."
    return Markup('<svg class="springs{}" role="img" aria-label="{}" width="100%" height="{}">{}</svg>').format(" many" if len(years) > ROOMY else "", told, height(len(names)), Markup("").join(parts))  # fmt: skip


def _box(left: float, wide: float, y: float, share: float) -> Markup:
    fill = next((colour for least, colour in reversed(STEPS) if share >= least), style.WASH)
    return Markup('<rect x="{:.2f}%" width="{:.2f}%" y="{}" height="{}" fill="{}"/>').format(left, max(wide - 0.15, 0.2), y, BOX - 3, fill) + (
        Markup('<g class="share">{}</g>').format(_text(f"{left + wide / 2:.2f}%", y + 14, f"{100 * share:.0f}", "middle", style.PAPER if share >= 0.9 else style.INK)) if share >= STEPS[1][0] else Markup("")
    )  # fmt: skip


def _text(x: str, y: float, words: str, anchor: str, ink: str) -> Markup:
    return Markup('<text x="{}" y="{:.1f}" font-size="11" text-anchor="{}" fill="{}" aria-hidden="true">{}</text>').format(x, y, anchor, ink, words)  # fmt: skip
