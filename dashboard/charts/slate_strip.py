"""The slate over the selling days as one SVG picture: a line a cultivar, then a row of cells a buyer, with its gaps underlined."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from markupsafe import Markup

from dashboard.charts import style

WIDTH, NAMES = 960, 190  # pixels: of the picture, and of the names on the left
LINE, CELLS, AXIS = 18, 16, 20
LONGEST = 28  # letters of a name
_HATCH = Markup(
    '<pattern id="{0}" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="5" height="5" '
    'fill="{1}"/><rect width="2.5" height="5" fill="{2}"/></pattern>'
)
_CELLS = {
    "0": style.BARE,
    "1": "url(#may)",
    "2": style.COVERED,
    "3": style.LEAF,
}  # as ``wording.strip`` writes a day


def drawing(told: Mapping[str, Any]) -> tuple[Markup, int, int]:
    """Markup, width and height; ``told`` from ``wording.strip.drawn``. A bar is filled where the cultivar qualifies, hatched where it may, hollow where it covers
    nothing; a cell is dark where it is almost sure."""
    days = told["days"]

    def at(day: float) -> float:
        return NAMES + (WIDTH - NAMES) * min(max(day, 0.0), float(days)) / days

    parts = [_HATCH.format("may", style.COVERED, style.PAPER)]
    for flesh in dict.fromkeys(bar["flesh"] for bar in told["bars"]):
        parts.append(_HATCH.format(f"may-{_flesh(flesh)}", style.fill(flesh), style.OUT))
    for place, bar in enumerate(told["bars"]):
        parts.append(_bar(bar, LINE * place, at))
    down = LINE * len(told["bars"]) + 4
    for row in told["rows"]:
        parts += [_name(row["buyer"] or "Days covered", down + 12), *_row(row, down, at)]
        down += CELLS + 10
    parts += [
        Markup('<text x="{:.1f}" y="{}" font-size="11" fill="{}">{}</text>').format(
            at(day), down + 10, style.QUIET, label
        )
        for day, label in told["marks"]
    ]
    said = "; ".join([told["heading"], *(row["told"] for row in told["rows"])])
    whole = Markup('<svg role="img" aria-label="{}" width="{}" height="{}">{}</svg>')
    return whole.format(said, WIDTH, down + AXIS, Markup("").join(parts)), WIDTH, down + AXIS


def _flesh(colour: str) -> str:
    return colour if colour in style.FLESH else "unknown"


def _name(text: str, down: int) -> Markup:
    cut = text if len(text) <= LONGEST else text[: LONGEST - 1] + "…"
    return Markup('<text x="{}" y="{}" font-size="12" text-anchor="end" fill="{}">{}</text>').format(
        NAMES - 8, down, style.INK, cut
    )


def _bar(bar: Mapping[str, Any], down: int, at: Any) -> Markup:
    first, last = at(bar["first"]), at(bar["last"] + 1)
    name = _name(bar["name"], down + 13)
    if last <= first:  # it is picked outside the selling days
        return name
    fill, edge, dash = style.fill(bar["flesh"]), style.INK, ""
    if bar["look"] == "hatched":
        fill = f"url(#may-{_flesh(bar['flesh'])})"
    elif bar["look"] == "hollow":
        fill, edge, dash = style.PAPER, style.QUIET, "4 3"
    drawn = Markup(
        '<rect x="{:.1f}" y="{}" width="{:.1f}" height="12" rx="6" fill="{}" stroke="{}" stroke-width="1.5" stroke-dasharray="{}"/>'
    )
    return name + drawn.format(first, down + 3, max(last - first, 5), fill, edge, dash or "none")


def _row(row: Mapping[str, Any], down: int, at: Any) -> list[Markup]:
    cell = Markup('<rect x="{:.2f}" y="{}" width="{:.2f}" height="{}" fill="{}"/>')
    cells = [
        cell.format(at(day) + 0.3, down, at(day + 1) - at(day) - 0.6, CELLS, _CELLS[look])
        for day, look in enumerate(row["cells"])
    ]
    gaps = [
        cell.format(at(first), down + CELLS + 1, at(last + 1) - at(first), 3, style.BARE_EDGE)
        for first, last, _ in row["gaps"]
    ]
    return [*cells, *gaps]
