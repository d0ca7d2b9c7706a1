"""Pictures for a room, as SVG: bars, boxes, and dots with their intervals, every mark a thirtieth of the screen or more.

They are drawn 1600 wide, a row ``ROW`` high, and stretched to the screen's width; where they are higher than it, it scrolls. Their colours
are asked for by name, so that they follow the paper of the hall; what tells a fruit's flesh is the same on both.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set
from typing import Any

from markupsafe import Markup

from dashboard.charts import style

WIDTH, NAMES, ROW, MARK, LETTERS = 1600, 450, 58, 46, 30
NARROW = 960  # of a picture beside the cultivar spoken of
LONGEST = 36  # letters of a name
BROAD, SLIM, WIDE = (
    0.58,
    0.53,
    0.7,
)  # of a letter's size: how broad a bold one is, any other, and a bold figure
RIGHT = 40  # left free for the end of a date
KEY = 70  # how long a mark of the key is
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
    x: float, y: float, wide: float, high: float, fill: str, edge: str = "none", dash: str = "none"
) -> Markup:
    return Markup(
        '<rect x="{:.1f}" y="{:.1f}" width="{:.1f}" height="{:.1f}" rx="{:.1f}" fill="{}" stroke="{}" stroke-width="3" stroke-dasharray="{}"/>'
    ).format(x, y, max(wide, 2), high, min(high / 2, 22) if edge != "none" else 3, fill, edge, dash)


def across(part: float) -> float:
    """Where a part of the axis, 0 to 1, stands."""
    return NAMES + (WIDTH - NAMES - RIGHT) * part


def season(
    rows: Sequence[dict[str, Any]],
    gaps: Sequence[Sequence[Any]],
    marks: Sequence[Sequence[Any]],
    key: Sequence[tuple[str, str]],
    told: str,
    chances: Sequence[tuple[str, Sequence[tuple[float, float, str, str]]]] = (),
) -> str:
    """My slate: over it the ``key``, looks and meanings of its marks; then the gaps behind, a bar a cultivar, as ``calendar_view`` gives them;
    under it ``chances``, a row each: its words, and of each week its ends, its figure and the name of its color."""
    height, parts = ROW * (len(rows) + 1), []
    for first, last, _label in gaps:
        parts.append(box(across(first), ROW - 8, across(last) - across(first), height - ROW + 8, BARE))
    parts += _axis(marks, height)
    for place, row in enumerate(rows, start=1):
        middle = ROW * place + ROW / 2
        first, last, low, high = (across(part) for part in row["at"])
        parts += [
            named(row["name"], middle),
            box(low, middle - 4, high - low, 8, QUIET),
            _bar(row, first, last, middle),
        ]
    for place, (words, weeks) in enumerate(chances):
        parts.append(named(words, height + ROW * place + ROW / 2))
        for start, end, text, looks in weeks:
            left, wide = across(start), across(end) - across(start)
            size = min(LETTERS, int(0.96 * wide / (BROAD * max(len(text), 1))))
            parts += [
                box(left + 2, height + ROW * place + 4, wide - 4, ROW - 8, style.by_name(looks)),
                letters(
                    left + wide / 2,
                    height + ROW * place + 40,
                    text,
                    size,
                    "middle",
                    fill=PAPER if looks == SUREST else INK,
                ),
            ]
    drawn, top = _key(key, {row["flesh"] for row in rows})
    under = Markup('<g transform="translate(0 {})">{}</g>').format(top, Markup("").join(parts))
    hatches = [_hatched(flesh) for flesh in (*style.FLESH, "unknown")]
    return whole([*hatches, *drawn, under], top + height + ROW * len(chances) + 6, told)


def _key(key: Sequence[tuple[str, str]], fleshes: Set[str]) -> tuple[list[Markup], float]:
    """A line of marks with their meanings, or as many as they need, and how high that is. Bars are of a flesh that is drawn."""
    flesh = next((flesh for flesh in style.FLESH if flesh in fleshes), "unknown")
    parts: list[Markup] = []
    left, line = 0.0, 0
    for looks, words in key:
        wide = KEY + 12 + SLIM * LETTERS * len(words)
        if left and left + wide > WIDTH:
            left, line = 0.0, line + 1
        middle = ROW * line + ROW / 2
        if looks == "thin":
            parts.append(box(left, middle - 4, KEY, 8, QUIET))
        elif looks == "gap":
            parts.append(box(left, middle - MARK / 2, KEY, MARK, BARE))
        else:
            kind, _, own = looks.partition(" ")  # "flesh white"
            look = {"look": "full" if own else kind, "flesh": own or flesh}
            parts.append(_bar(look, left + 2, left + KEY - 2, middle))
        parts.append(letters(left + KEY + 12, middle + 10, words))
        left += wide + 20
    return parts, ROW * (line + 1) if key else 0


def columns(weeks: Sequence[str], counts: Sequence[tuple[int, int]], key: Sequence[tuple[str, str]], told: str) -> str:  # fmt: skip
    """How many a week, a column each: those that are sure (or all, where nobody buys) and, on top, those that may; ``key`` as in ``season``."""
    drawn, top = _key(key, {"yellow"})
    high, wide = 6.5 * ROW, WIDTH / max(len(weeks), 1)
    most = max((sure + may for sure, may in counts), default=0) or 1
    every = 1 + int(110 // wide)  # as many dates as do not touch
    parts = [_hatched("yellow"), *drawn]
    for at, (week, (sure, may)) in enumerate(zip(weeks, counts, strict=True)):
        left, floor = wide * at, top + ROW + high
        tall = [high * count / most for count in (sure, may)]
        for count, up, fill in (
            (sure, tall[0], style.fill("yellow")),
            (may, sum(tall), "url(#large-may-yellow)"),
        ):
            if count:
                parts.append(box(left + 3, floor - up, wide - 6, high * count / most - 2, fill))
        text = f"{sure}+{may}" if may else str(sure)
        size = min(LETTERS, int(0.9 * wide / (WIDE * len(text))))
        parts.append(letters(left + wide / 2, floor - sum(tall) - 10, text, size, "middle", weight="700"))
        if at % every == 0 and left + 110 <= WIDTH:
            parts.append(letters(left + 3, floor + 36, week))
    return whole(parts, top + high + 2 * ROW, told)


def boxes(
    kinds: Sequence[str], weeks: Sequence[str], cells: Sequence[Sequence[tuple[str, str]]], told: str
) -> str:
    """Classes by week: ``cells`` by class and week, text and the name of its color."""
    wide = (WIDTH - NAMES - RIGHT) / max(len(weeks), 1)
    every = 1 + int(110 // wide)  # as many dates as do not touch
    parts = [letters(NAMES + wide * at, 36, day) for at, day in enumerate(weeks) if at % every == 0]
    for row_at, (kind, row) in enumerate(zip(kinds, cells, strict=True), start=1):
        parts.append(named(kind, ROW * row_at + ROW / 2))
        for at, (text, looks) in enumerate(row):
            left = NAMES + wide * at
            parts.append(box(left + 2, ROW * row_at + 2, wide - 4, ROW - 4, style.by_name(looks)))
            if text:
                fill = PAPER if looks == SUREST else INK
                parts.append(letters(left + wide / 2, ROW * row_at + 40, text, 26, "middle", fill=fill))
    return whole(parts, ROW * (len(kinds) + 1) + 6, told)


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


def _axis(marks: Sequence[Sequence[Any]], height: float) -> list[Markup]:
    shown = [mark for mark in marks if mark[1] != "15"]
    return [
        *(box(across(at), ROW - 10, 2, height - ROW + 10, RULE) for at, _ in shown),
        *(letters(across(at), 36, label, anchor="middle") for at, label in shown),
    ]


def _hatched(flesh: str) -> Markup:
    """For what may qualify: stripes of the paper through the flesh, through white flesh of gray."""
    through = PAPER if flesh != "white" else style.by_name("out")
    return Markup(
        '<pattern id="large-may-{}" width="14" height="14" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="14" height="14" '
        'fill="{}"/><rect width="7" height="14" fill="{}"/></pattern>'
    ).format(flesh, through, style.fill(flesh))


def _bar(row: dict[str, Any], first: float, last: float, middle: float) -> Markup:
    flesh = row["flesh"] if row["flesh"] in style.FLESH else "unknown"
    looks = {
        "full": (style.fill(row["flesh"]), INK, "none"),
        "picked": (style.fill(row["flesh"]), INK, "none"),
        "hatched": (f"url(#large-may-{flesh})", INK, "none"),
    }
    fill, edge, dash = looks.get(row["look"], (PAPER, QUIET, "10 6"))
    return box(first, middle - MARK / 2, max(last - first, 12), MARK, fill, edge, dash)
