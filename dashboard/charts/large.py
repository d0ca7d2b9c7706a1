"""Pictures for a room, as SVG: bars, boxes, and dots with their intervals, every mark a thirtieth of the screen or more.

They are drawn 1600 wide, a row ``ROW`` high, and stretched to the screen's width; where they are higher than it, it scrolls. Their colours
are asked for by name, so that they follow the paper of the hall; what tells a fruit's flesh is the same on both.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from markupsafe import Markup

from dashboard.charts import style

WIDTH, NAMES, ROW, MARK, LETTERS = 1600, 450, 58, 46, 30
BOX = 41  # how high a box of a class and week is
NARROW = 960  # of a picture beside the cultivar spoken of
LONGEST = 36  # letters of a name
BROAD, SLIM, WIDE = (
    0.58,
    0.53,
    0.7,
)  # of a letter's size: how broad a bold one is, any other, and a bold figure
RIGHT = 40  # left free for the end of a date
INK, QUIET, PAPER, LEAF, EDGE, RULE, SPOT, BARE = (
    style.by_name(name) for name in ("ink", "quiet", "paper", "leaf", "edge", "rule", "spot", "bare")
)
SUREST = f"shade_{len(style.SHADES) - 1}"  # the one ground on which letters are of the color of the paper


def whole(parts: Iterable[Markup], height: float, told: str, width: int = WIDTH) -> str:
    """One picture, with what it shows in words."""
    return str(
        Markup('<svg role="img" aria-label="{}" viewBox="0 0 {} {:.0f}">{}</svg>').format(
            told, width, height, Markup("").join(parts)
        )
    )


def letters(x: float, y: float, text: str, size: int = LETTERS, anchor: str = "start", **looks: str) -> Markup:  # fmt: skip
    fill, weight = looks.get("fill", INK), looks.get("weight", "400")
    return Markup(
        '<text x="{:.1f}" y="{:.1f}" font-size="{}" text-anchor="{}" fill="{}" font-weight="{}">{}</text>'
    ).format(x, y, size, anchor, fill, weight, text)


def named(text: str, middle: float) -> Markup:
    """On the left, in letters that let it stand there whole."""
    cut = text if len(text) <= LONGEST else text[: LONGEST - 1] + "…"
    size = min(LETTERS, int((NAMES - 16) / (BROAD * max(len(cut), 1))))
    return letters(NAMES - 16, middle + 10, cut, size, "end", weight="700")


def box(
    x: float,
    y: float,
    wide: float,
    high: float,
    fill: str,
    edge: str = "none",
    dash: str = "none",
    kind: str = "",
) -> Markup:
    """``kind`` is for the script that makes it higher: "bar", or "ground", which is as high as a row."""
    return Markup(
        '<rect x="{:.1f}" y="{:.1f}" width="{:.1f}" height="{:.1f}" rx="{:.1f}" fill="{}" stroke="{}" stroke-width="3" stroke-dasharray="{}"{}/>'
    ).format(
        x, y, max(wide, 2), high, min(high / 2, 22) if edge != "none" else 3, fill, edge, dash,
        Markup(' data-{}="{}"').format(kind, high) if kind else "",
    )  # fmt: skip


def across(part: float) -> float:
    """Where a part of the axis, 0 to 1, stands."""
    return NAMES + (WIDTH - NAMES - RIGHT) * part


def boxes(
    kinds: Sequence[str], weeks: Sequence[str], cells: Sequence[Sequence[tuple[str, str]]], told: str
) -> str:
    """Classes by week: ``cells`` by class and week, text and the name of its color."""
    wide = (WIDTH - NAMES - RIGHT) / max(len(weeks), 1)
    every = 1 + int(110 // wide)  # as many dates as do not touch
    parts = [letters(NAMES + wide * at, 36, day) for at, day in enumerate(weeks) if at % every == 0]
    rows = []
    for kind, row in zip(kinds, cells, strict=True):
        drawn = [named(kind, 0)]
        for at, (text, looks) in enumerate(row):
            left = NAMES + wide * at
            drawn.append(box(left + 2, -BOX / 2, wide - 4, BOX, style.by_name(looks), kind="bar"))
            if text:
                fill = PAPER if looks == SUREST else INK
                drawn.append(letters(left + wide / 2, 10, text, 26, "middle", fill=fill))
        rows.append(drawn)
    return paged(parts, ROW - 10, rows, BOX + 5, [], 6, told)


def paged(
    over: Iterable[Markup],
    top: float,
    rows: Sequence[Iterable[Markup]],
    line: float,
    under: Iterable[Markup],
    foot: float,
    told: str,
) -> str:
    """A picture that a script turns page by page where not all rows fit (``page/hall/paged.js``). Each row is drawn about its own middle
    and stands a ``line`` under the one before; ``top`` and ``foot`` are how high is what stands ``over`` and ``under`` them."""
    lines = [placed("row", top + line * (place + 0.5), row) for place, row in enumerate(rows)]
    end = top + line * len(rows)
    picture = whole([*over, *lines, placed("foot", end, under)], end + foot, told)
    return picture.replace("<svg ", f'<svg class="paged" data-top="{top}" data-foot="{foot}" ', 1)


def placed(kind: str, down: float, parts: Iterable[Markup]) -> Markup:
    return Markup('<g class="{}" transform="translate(0 {:.1f})">{}</g>').format(
        kind, down, Markup("").join(parts)
    )


def grid(names: Sequence[str], rests: Sequence[int], rows: Sequence[dict[str, Any]], told: str) -> str:
    """Cultivars across, traits down: in each cell a dot with its interval on the trait's one axis, and its figure; over them the seasons
    that each rests on, a dot a season. ``rows``: label, cells (text, and dot, low and high as parts of the axis, or None)."""
    left = 250.0
    wide, parts = (WIDTH - left) / max(len(names), 1), []
    high, cut = 2.4 * ROW, max(8, int(wide // 20))
    for at, (name, seasons) in enumerate(zip(names, rests, strict=True)):
        middle = left + wide * at + wide / 2
        shown = name if len(name) <= cut else name[: cut - 1] + "…"
        parts.append(letters(middle, 44, shown, 38, "middle", weight="700"))
        parts += _seasons(middle, 44 + ROW / 2 + 10, seasons, wide)
    parts.append(letters(0, 94, "Seasons"))
    for place, row in enumerate(rows):
        top = 2.3 * ROW + high * place
        parts += [
            letters(0, top + high / 2, row["label"], 32, weight="700"),
            box(0, top, WIDTH, 2, RULE),
        ]
        for at, cell in enumerate(row["cells"]):
            start, middle = left + wide * at + 0.08 * wide, left + wide * at + wide / 2
            parts += _figure(cell["text"], middle, top, high, wide)
            parts += _interval(cell.get("at"), start, 0.84 * wide, top + 0.76 * high)
    return whole(parts, 2.3 * ROW + high * len(rows), told)


def _figure(text: str, middle: float, top: float, high: float, wide: float) -> list[Markup]:
    """A figure with its interval in brackets; where they do not stand side by side, under it."""
    if BROAD * 34 * len(text) < 0.95 * wide:
        return [letters(middle, top + 0.4 * high, text, 34, "middle", weight="700")]
    figure, _, between = text.partition(" ")
    return [
        letters(middle, top + 0.27 * high, figure, 34, "middle", weight="700"),
        letters(middle, top + 0.5 * high, between, 26, "middle"),
    ]


def among(rows: Sequence[dict[str, Any]], told: str) -> str:
    """One cultivar among all: a trait a row, all that there are as a histogram (``counts``, None where it was not measured), the cultivar as a
    dot with its interval."""
    high, parts, left = 3.4 * ROW, [], MARK / 2 + 4
    for place, row in enumerate(rows):
        top = high * place
        parts += [
            letters(left, top + 40, row["label"], 36, weight="700"),
            letters(NARROW - left, top + 40, row["text"], 36, "end", weight="700"),
        ]
        counts = row["counts"] or ()
        most, wide = max(counts, default=0) or 1, (NARROW - 2 * left) / max(len(counts), 1)
        for at, count in enumerate(counts):
            tall = 1.5 * ROW * count / most
            parts.append(box(left + wide * at + 1, top + 2.4 * ROW - tall, wide - 2, max(tall, 1), EDGE))
        parts += _interval(row["at"], left, NARROW - 2 * left, top + 2.85 * ROW)
    return whole(parts, high * len(rows), told, NARROW)


def _interval(at: tuple[float, float, float] | None, start: float, wide: float, middle: float) -> list[Markup]:  # fmt: skip
    """A dot, and the ends of its interval as upright strokes."""
    if at is None:
        return []
    dot, low, high = (start + wide * part for part in at)
    return [
        box(low, middle - 4, high - low, 8, INK),
        box(low - 3, middle - MARK / 2, 6, MARK, INK),
        box(high - 3, middle - MARK / 2, 6, MARK, INK),
        _dot(dot, middle, SPOT),
    ]


def _seasons(middle: float, down: float, count: int, wide: float) -> list[Markup]:
    """A dot a season; where they do not fit, one dot and how many."""
    side = MARK + 4
    if count * side > 0.92 * wide:
        return [
            _dot(middle - 40, down, LEAF),
            letters(middle, down + 12, f"× {count}", 34),
        ]
    start = middle - side * (count - 1) / 2
    return [_dot(start + side * at, down, LEAF) for at in range(count)]


def _dot(x: float, y: float, fill: str) -> Markup:
    return Markup('<circle cx="{:.1f}" cy="{:.1f}" r="{}" fill="{}"/>').format(x, y, MARK / 2, fill)
