"""The season for a room, as SVG: my slate, a bar a cultivar, or how many there are to choose from, a column a week; and the key to both."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from markupsafe import Markup

from dashboard.charts import style
from dashboard.charts.large import (
    BARE,
    BROAD,
    INK,
    LETTERS,
    PAPER,
    QUIET,
    ROW,
    RULE,
    SLIM,
    SUREST,
    WIDE,
    WIDTH,
    across,
    box,
    letters,
    named,
    paged,
    whole,
)  # fmt: skip

KEY, KEY_LETTERS = 60, 27  # how long a mark of the key is, and its words
LINE, BAR = 37, 32  # of a calendar: a row, and its bar, a thirtieth of a screen of 16 by 9


def season(
    rows: Sequence[dict[str, Any]],
    gaps: Sequence[Sequence[Any]],
    marks: Sequence[Sequence[Any]],
    key: Sequence[tuple[str, str, str]],
    told: str,
    chances: Sequence[tuple[str, Sequence[tuple[float, float, str, str]]]] = (),
) -> str:
    """My slate: over it the ``key``, looks, flesh and meaning of each of its marks; then a bar a cultivar, as ``calendar_view`` gives them,
    on the gaps; under it ``chances``, a row each: its words, and of each week its ends, its figure and the name of its color."""
    drawn, top = _key(key)
    shown = [mark for mark in marks if mark[1] != "15"]
    dates = [letters(across(at), top + 30, label, anchor="middle") for at, label in shown]
    top += LINE
    behind = [
        *(
            box(across(first), -LINE / 2, across(last) - across(first), LINE, BARE, kind="ground")
            for first, last, _label in gaps
        ),
        *(box(across(at), -LINE / 2, 2, LINE, RULE, kind="ground") for at, _ in shown),
    ]
    lanes = [[*behind, *_lane(row)] for row in rows]
    hatches = [_hatched(flesh) for flesh in (*style.FLESH, "unknown")]
    over = [*hatches, _dotted(), *drawn, *dates]
    return paged(over, top, lanes, LINE, _chances(chances), LINE * len(chances) + 6, told)


def _lane(row: dict[str, Any]) -> list[Markup]:
    first, last, low, high = (across(part) for part in row["at"])
    return [named(row["name"], 0), box(low, -4, high - low, 8, QUIET), _bar(row, first, last, 0)]


def _chances(chances: Sequence[tuple[str, Sequence[tuple[float, float, str, str]]]]) -> list[Markup]:
    parts = []
    for place, (words, weeks) in enumerate(chances):
        parts.append(named(words, LINE * (place + 0.5)))
        for start, end, text, looks in weeks:
            left, wide = across(start), across(end) - across(start)
            size = min(LETTERS, int(0.96 * wide / (BROAD * max(len(text), 1))))
            fill = PAPER if looks == SUREST else INK
            parts += [
                box(left + 2, LINE * place + 3, wide - 4, LINE - 4, style.by_name(looks)),
                letters(left + wide / 2, LINE * (place + 0.5) + 11, text, size, "middle", fill=fill),
            ]
    return parts


def _key(key: Sequence[tuple[str, str, str]]) -> tuple[list[Markup], float]:
    """A line of marks with their meanings, or as many as they need, and how high that is. What has no looks is words alone."""
    parts: list[Markup] = []
    left, line = 0.0, 0
    for looks, flesh, words in key:
        mark = KEY + 10 if looks else 0
        wide = mark + SLIM * KEY_LETTERS * len(words)
        if left and left + wide > WIDTH:
            left, line = 0.0, line + 1
        middle = LINE * (line + 0.5)
        if looks == "thin":
            parts.append(box(left, middle - 4, KEY, 8, QUIET))
        elif looks == "gap":
            parts.append(box(left, middle - BAR / 2, KEY, BAR, BARE))
        elif looks:
            parts.append(_bar({"look": looks, "flesh": flesh}, left + 2, left + KEY - 2, middle))
        parts.append(letters(left + mark, middle + 9, words, KEY_LETTERS))
        left += wide + 20
    return parts, LINE * (line + 1) if key else 0


def columns(weeks: Sequence[str], counts: Sequence[tuple[int, int]], key: Sequence[tuple[str, str, str]], told: str) -> str:  # fmt: skip
    """How many a week, a column each: those that are sure (or all, where nobody buys) and, on top, those that may; ``key`` as in ``season``."""
    drawn, top = _key(key)
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


def _hatched(flesh: str) -> Markup:
    """For what may qualify: stripes of the paper through the flesh, through white flesh of gray."""
    through = PAPER if flesh != "white" else style.by_name("out")
    return Markup(
        '<pattern id="large-may-{}" width="14" height="14" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="14" height="14" '
        'fill="{}"/><rect width="7" height="14" fill="{}"/></pattern>'
    ).format(flesh, through, style.fill(flesh))


def _dotted() -> Markup:
    """White flesh, with the dots of its mark on every picture."""
    return Markup(
        '<pattern id="large-white" width="18" height="18" patternUnits="userSpaceOnUse"><rect width="18" height="18" fill="{}"/>'
        '<circle cx="9" cy="9" r="2.4" fill="{}"/></pattern>'
    ).format(style.fill("white"), style.INK)


def _bar(row: dict[str, Any], first: float, last: float, middle: float) -> Markup:
    flesh = row["flesh"] if row["flesh"] in style.FLESH else "unknown"
    plain = "url(#large-white)" if flesh == "white" else style.fill(row["flesh"])
    looks = {
        "full": (plain, INK, "none"),
        "picked": (plain, INK, "none"),
        "hatched": (f"url(#large-may-{flesh})", INK, "none"),
    }
    fill, edge, dash = looks.get(row["look"], (PAPER, QUIET, "10 6"))
    return box(first, middle - BAR / 2, max(last - first, 12), BAR, fill, edge, dash, "bar")
