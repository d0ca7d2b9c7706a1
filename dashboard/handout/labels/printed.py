"""What stands on a label: the code of its sample on the left, beside it cultivar, site, day and pick."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.lib.colors import black
from reportlab.pdfgen.canvas import Canvas

from dashboard.charts.code import QUIET_ZONE, modules
from dashboard.handout.labels.grid import UNITS, Grid
from dashboard.handout.paper import GREY, RULE, Pen, faces, printable, wrapped

SMALLEST = (
    0.35 * UNITS["mm"]
)  # of a module of the code, so that a phone reads it (common practice, no source)
_EDGE, _LEAST = 4.0, 50.0  # points: free at the edge of a label, and the least room for its words
_LARGEST = 10.0  # size of its letters


@dataclass(frozen=True)
class Label:
    """``sample`` is what the sample is called; the code says it."""

    sample: str
    cultivar: str
    lines: tuple[str, ...]  # site, day and pick


def printed(labels: Sequence[Label], grid: Grid, skip: int = 0, cut: bool = False) -> tuple[bytes, list[str]]:
    """The sheets as a .pdf, the first ``skip`` places left free, with lines to ``cut`` along; and the cultivars whose name is cut short.

    ValueError, one sentence, where a label is too small for its code and words.
    """
    faces()
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(grid.paper.width, grid.paper.height), pageCompression=1, lang="en")
    canvas.setTitle("Labels")
    canvas.setAuthor("Orchard Slate")
    canvas.setCreator("Orchard Slate")
    canvas.setViewerPreference("PrintScaling", "None")  # a printer that fits to its page moves every label
    pen, short, on = Pen(canvas, grid.paper), [], 0
    for number, label in enumerate(labels, start=skip):
        sheet, x, y = grid.place(number)
        while on < sheet:
            canvas.showPage()
            on += 1
        if cut:
            pen.box(x, y, grid.width, grid.height, edge=RULE)
        if _drawn(pen, label, grid, x, y):
            short.append(label.cultivar)
    canvas.save()
    return out.getvalue(), list(dict.fromkeys(short))


def _drawn(pen: Pen, label: Label, grid: Grid, x: float, y: float) -> bool:
    """Draws one; whether the name is cut short."""
    code = modules(label.sample)
    if code is None:
        raise ValueError(f"The sample's name is too long for a code: {label.sample[:60]!r}…; shorten the name of the site or cultivar.")  # fmt: skip
    count = len(code) + 2 * QUIET_ZONE
    side = min(grid.height, grid.width - _LEAST - _EDGE)
    if side < count * SMALLEST:
        least = count * SMALLEST
        told = " by ".join(f"{points / UNITS['in']:.2f}" for points in (least + _LEAST + _EDGE, least))
        raise ValueError(f"A label has no room for the code of {label.sample[:60]!r}; make it {told} in at least, or use fewer on a sheet.")  # fmt: skip
    _square(pen, code, x, y + (grid.height - side) / 2, side / count)
    left, room = x + side, grid.width - side - _EDGE
    size = min(_LARGEST, (grid.height - 2 * _EDGE) / 6.5)
    whole = wrapped(printable(label.cultivar), size, room, bold=True)
    name = wrapped(printable(label.cultivar), size, room, bold=True, most=2)
    down = y + (grid.height - (len(name) + len(label.lines)) * size * 1.25) / 2
    for line in name:
        down += size * 1.25
        pen.write(left, down - size * 0.25, line, size, bold=True, room=room)
    for line in label.lines:
        down += size * 1.25
        pen.write(left, down - size * 0.25, line, size * 0.85, room=room, colour=GREY)
    return len(whole) > len(name)


def _square(pen: Pen, code: Sequence[Sequence[bool]], x: float, y: float, module: float) -> None:
    """The dark modules as one shape, a bar for each run of them, so that no seam shows between two."""
    shape = pen.canvas.beginPath()
    for row, line in enumerate(code, start=QUIET_ZONE):
        at = 0
        while at < len(line):
            end = at
            while end < len(line) and line[end]:
                end += 1
            if end > at:
                top = pen.paper.height - y - (row + 1) * module
                shape.rect(x + (at + QUIET_ZONE) * module, top, (end - at) * module, module)
            at = end + 1
    pen.canvas.setFillColor(black)
    pen.canvas.drawPath(shape, stroke=0, fill=1)
