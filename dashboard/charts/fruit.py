"""A cultivar's usual fruit cut across, drawn to scale on a grid beside a circle of 2½ in: text in, an SVG picture out.

Measured: both diameters, and how much of the skin is red. Taken from the records: flesh color, how the stone holds, round or
flat. Not measured, and so the same in every drawing: the size of the stone, the depth of the skin, where the red lies. The height
of a fruit is never measured, so a fruit is not drawn from the side; that a flat one is flat, a small sign says.
All lengths in a drawing are mm.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, cos, pi, sin, sqrt

from markupsafe import Markup

from dashboard.answers.side_by_side import Fruit
from dashboard.charts import style
from dashboard.terms.traits import TRAITS, UNKNOWN
from dashboard.terms.units import MM_PER_INCH
from dashboard.wording.figures import pit_told

MARK = 2.5 * MM_PER_INCH  # the comparison size laid beside fruit in photographs: common practice, no source
GRID = {"us": MM_PER_INCH, "si": 10.0}  # sides of a square
SKIN = 3.0  # a ring wide enough for its red share to be seen; no skin is so thick
STONE, GAP = 0.2, 2.4  # half the stone as a share of the diameter; the gap round a free one
FIBRES = 14

_NUMBER = "{:.2f}".format


def span(fruit: Iterable[Fruit], units: str) -> float:
    """The side of every drawing in a row, so that all are to one scale: whole squares that hold the largest with its doubt."""
    largest = [MARK]
    for one in fruit:
        longer = max(one.suture, one.cross) if one.size == one.size else MARK
        largest.append(longer * (one.high / one.size if one.high == one.high else 1.0))
    step = GRID[units]
    return step * ceil((max(largest) + 3) / step)


def drawing(fruit: Fruit, units: str, side: float) -> Markup:
    """One fruit on its grid; ``side`` from ``span``. What it shows is also its label, as a sentence."""
    measured = fruit.size == fruit.size
    parts = [_grid(side, units)]
    if measured:
        parts += [_doubt(fruit), _flesh(fruit), _stone(fruit), _skin(fruit), _edges(fruit)]
    parts.append(_mark())
    if not measured:
        parts.append(_text(0, 2, "not measured", "on-paper"))
    elif fruit.shape_type == "flat":
        parts.append(_flat(side))
    return _svg(side, f"{fruit.name}: {sentence(fruit, units)}", parts)


def reference(units: str, side: float) -> Markup:
    """The circle alone on the same grid, with its size."""
    size = "2½ in" if units == "us" else "63.5 mm"
    square = "one inch" if units == "us" else "10 mm"
    parts = [_grid(side, units), _mark(), _text(0, 2, size)]
    return _svg(side, f"A dashed circle of {size}, on the same grid; a square is {square}", parts)


def words(fruit: Fruit) -> list[str]:
    """What the drawing shows beside the size, so that nothing rests on it alone."""
    flesh = f"{fruit.flesh_colour} flesh" if fruit.flesh_colour != UNKNOWN else "flesh color not recorded"
    stone = pit_told(fruit.stone) or "pit not recorded"
    red = f"about {10 * round(10 * fruit.red)}\u00a0% red" if fruit.red == fruit.red else "red skin not rated"
    return [flesh, stone, red, *(["flat"] if fruit.shape_type == "flat" else [])]


def diameters_told(fruit: Fruit, units: str) -> str:
    """``2.58 by 2.63 in``: suture to back by cheek to cheek."""
    if fruit.size != fruit.size:
        return "size not measured"
    size = TRAITS["size"]
    return (
        f"{size.written(fruit.suture, units)} by {size.written(fruit.cross, units)} {size.unit(units).symbol}"
    )


def sentence(fruit: Fruit, units: str) -> str:
    """The drawing in words, for who does not see it."""
    size = TRAITS["size"]
    said = (
        [f"cut across, {diameters_told(fruit, units)}"] if fruit.size == fruit.size else ["size not measured"]
    )
    if fruit.low == fruit.low:
        low, high = size.written(fruit.low, units), size.written(fruit.high, units)
        said.append(f"likely range of its average size (90 %): {low} to {high} {size.unit(units).symbol}")
    if fruit.size == fruit.size:
        said.append(f"{'larger' if fruit.size > MARK else 'smaller'} than the circle of 2½ in")
    return "; ".join([*said, *words(fruit)]) + "."


def _svg(side: float, label: str, parts: list[Markup]) -> Markup:
    half = _NUMBER(side / 2)
    return Markup('<svg class="fruit" role="img" aria-label="{}" viewBox="-{} -{} {} {}">{}</svg>').format(
        label, half, half, _NUMBER(side), _NUMBER(side), Markup("").join(parts)
    )


def _path(
    way: str, fill: str = "none", line: str = style.INK, width: float = 0.5, more: Markup | None = None
) -> Markup:
    return Markup('<path d="{}" fill="{}" stroke="{}" stroke-width="{}" {}/>').format(
        way, fill, line, _NUMBER(width), more or Markup("")
    )


def _ellipse(across: float, down: float) -> str:
    """A way round an ellipse about the middle, from the right, with the sun; half axes."""
    a, b = _NUMBER(across), _NUMBER(down)
    return f"M{a} 0A{a} {b} 0 1 1 -{a} 0A{a} {b} 0 1 1 {a} 0Z"


def _text(x: float, y: float, words: str, named: str = "on-fruit") -> Markup:
    return Markup(
        '<text class="{}" x="{}" y="{}" text-anchor="middle" font-size="7" fill="{}" aria-hidden="true">{}</text>'
    ).format(named, _NUMBER(x), _NUMBER(y), style.INK, words)


def _grid(side: float, units: str) -> Markup:
    step, half = GRID[units], side / 2
    places = [_NUMBER(step * number - half) for number in range(round(side / step) + 1)]
    end = _NUMBER(half)
    way = "".join(f"M{at} -{end}V{end}M-{end} {at}H{end}" for at in places)
    return _path(way, line=style.EDGE, width=0.4)


def _doubt(fruit: Fruit) -> Markup:
    """The pale ring: between its ends the usual size lies with 90 % certainty."""
    if not fruit.low > 0:
        return Markup("")
    most, least = fruit.high / fruit.size / 2, fruit.low / fruit.size / 2
    outer = _ellipse(fruit.cross * most, fruit.suture * most)
    inner = _ellipse(fruit.cross * least, fruit.suture * least)
    return _path(outer + inner, fill=style.DOUBT, line="none", more=Markup('fill-rule="evenodd"'))


def _edges(fruit: Fruit) -> Markup:
    """The two edges of the pale ring, over the fruit; light under dark, so that they are seen on any ground."""
    if not fruit.low > 0:
        return Markup("")
    ways = [
        _ellipse(fruit.cross * end / fruit.size / 2, fruit.suture * end / fruit.size / 2)
        for end in (fruit.low, fruit.high)
    ]
    dots = Markup('stroke-dasharray="0.1 1.5" stroke-linecap="round"')
    return Markup("").join(
        _path(way, line=style.PAPER, width=0.5) + _path(way, width=0.7, more=dots) for way in ways
    )


def _flesh(fruit: Fruit) -> Markup:
    across, down = fruit.cross / 2, fruit.suture / 2
    whole = _path(_ellipse(across, down), fill=style.fill(fruit.flesh_colour), width=0.7)
    if fruit.flesh_colour == "red":  # strokes from the stone outwards, so that it is not told by colour alone
        return whole + _path(_rays(across, down, 0.55, 0.85, 2 * FIBRES), width=0.35)
    if fruit.flesh_colour not in style.FLESH:  # hatched: nobody wrote it down
        chords = [
            (x, sqrt(max(0.0, 1 - (x / across) ** 2)) * down) for x in range(-int(across), int(across) + 1, 5)
        ]
        way = "".join(f"M{x} {_NUMBER(-y)}V{_NUMBER(y)}" for x, y in chords)
        return whole + _path(way, width=0.3, line=style.QUIET)
    return whole


def _stone(fruit: Fruit) -> Markup:
    across, down = STONE * fruit.cross, STONE * fruit.suture
    if fruit.stone == UNKNOWN:
        return _path(_ellipse(across, down), more=Markup('stroke-dasharray="1.5 1.5"')) + _text(0, 2.4, "?")
    gap = Markup("")
    if fruit.stone == "free":
        gap = _path(_ellipse(across + GAP, down + GAP), fill=style.PAPER, width=0.4)
    elif fruit.stone == "semi-free":  # on one half only
        a, b = _NUMBER(across + GAP), _NUMBER(down + GAP)
        gap = _path(f"M0 -{b}A{a} {b} 0 0 1 0 {b}Z", fill=style.PAPER, width=0.4)
    stone = _path(_ellipse(across, down), fill="#8a6a4a", width=0.5)
    ribs = _path(_rays(across, down, 0.25, 0.7, 7), width=0.45)
    held = [
        at for at in range(FIBRES) if fruit.stone == "cling" or (fruit.stone == "semi-free" and _left(at))
    ]
    fibres = _path(_rays(across, down, 1.0, 1.3, FIBRES, held), width=0.45)
    return gap + stone + ribs + (fibres if held else Markup(""))


def _left(at: int) -> bool:
    return cos(2 * pi * (at + 0.5) / FIBRES) < 0


def _rays(
    across: float, down: float, start: float, end: float, count: int, some: Iterable[int] | None = None
) -> str:
    """Short strokes outwards, from one share of the half axes to another."""
    turns = [2 * pi * (at + 0.5) / count for at in (range(count) if some is None else some)]
    return "".join(
        f"M{_NUMBER(start * across * cos(t))} {_NUMBER(start * down * sin(t))}"
        f"L{_NUMBER(end * across * cos(t))} {_NUMBER(end * down * sin(t))}"
        for t in turns
    )


def _skin(fruit: Fruit) -> Markup:
    """A ring within the outline; its red share is that of the skin, laid about the right cheek."""
    across, down = (fruit.cross - SKIN) / 2, (fruit.suture - SKIN) / 2
    ring = _ellipse(across, down)
    inner = _path(_ellipse(across - SKIN / 2, down - SKIN / 2), width=0.3)
    ground = _path(ring, line=style.SKIN, width=SKIN)
    suture = _path(f"M0 -{_NUMBER(fruit.suture / 2)}v{_NUMBER(2 * SKIN)}", width=0.9)
    red = Markup("")
    if fruit.red > 0:
        # The way begins at the left, so that the red, a dash in its middle, has no seam.
        dash = Markup('pathLength="100" transform="rotate(180)" stroke-dasharray="0 {} {} 100"').format(
            _NUMBER(50 - 50 * fruit.red), _NUMBER(100 * fruit.red)
        )
        red = _path(ring, line=style.RED_SKIN, width=SKIN, more=dash)
    return ground + red + inner + suture


def _mark() -> Markup:
    """Dashes with a light edge: what lies under the circle is seen between them."""
    way = _ellipse(MARK / 2, MARK / 2)
    edge, dash = (
        Markup('stroke-dasharray="3.4 2.6" stroke-dashoffset="0.2"'),
        Markup('stroke-dasharray="3 3"'),
    )
    return _path(way, line=style.PAPER, width=1.4, more=edge) + _path(way, width=0.8, more=dash)


def _flat(side: float) -> Markup:
    """A sign in the corner: a fruit pressed flat. It has no scale."""
    x, y = side / 2 - 11, side / 2 - 6
    way = f"M{_NUMBER(x - 8)} {_NUMBER(y)}q0 -4 5 -4q2 0 3 1.4q1 -1.4 3 -1.4q5 0 5 4q0 4 -8 4q-8 0 -8 -4z"
    return _path(way, fill=style.PAPER, width=0.7)
