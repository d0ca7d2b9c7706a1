"""Blocks laid out on sheets of paper, numbered and printed."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from reportlab.pdfgen.canvas import Canvas

from dashboard.handout.blocks import Block, Words
from dashboard.handout.paper import FOOT, GREY, LEADING, MARGIN, Paper, Pen, faces, printable, shortened

FOLLOWS = 60.0  # points that must be left under a heading
SMALL = 6.4
SCALES = (0.96, 0.92, 0.88, 0.84)  # no smaller: it has to be read


@dataclass(frozen=True)
class Section:
    """Starts a sheet of its own; ``key`` is the place that links lead to, ``title`` stands in the list of pages of a viewer."""

    key: str
    title: str
    blocks: tuple[Block, ...]
    whole: bool = False  # drawn a little smaller, where that keeps it on one sheet


@dataclass
class Sheet:
    section: Section
    placed: list[tuple[Block, float]] = field(default_factory=list)  # with its distance from the top
    first: bool = True
    scale: float = 1.0


def sheets(sections: Sequence[Section], paper: Paper) -> list[Sheet]:
    """Every block on a sheet; one that does not fit is parted or goes on the next."""
    return [sheet for section in sections for sheet in _laid(section, paper)]


def _laid(section: Section, paper: Paper) -> list[Sheet]:
    made = _at_scale(section, paper, 1.0)
    for scale in SCALES if section.whole and len(made) == 2 else ():
        smaller = _at_scale(section, paper, scale)
        if len(smaller) == 1:
            return smaller
    return made


def _at_scale(section: Section, paper: Paper, scale: float) -> list[Sheet]:
    made = [Sheet(section, scale=scale)]
    width, tall = (side / scale for side in paper.room)
    at, waiting = 0.0, list(section.blocks)
    while waiting:
        block = waiting.pop(0)
        needed = block.height(width) + (FOLLOWS if isinstance(block, Words) and block.heading else 0.0)
        if at + needed <= tall + 0.01:
            made[-1].placed.append((block, at))
            at += block.height(width)
            continue
        fits, rest = block.parted(width, tall - at)
        if fits is None and not made[-1].placed:  # taller than a sheet: it is cut rather than lost
            fits, rest = block, None
        if fits is not None:
            made[-1].placed.append((fits, at))
        if rest is None:
            at = tall
            continue
        made.append(Sheet(section, first=False, scale=scale))
        at = 0.0
        waiting.insert(0, rest)
    return made


def printed(
    sections: Sequence[Section],
    paper: Paper,
    title: str,
    subject: str,
    footer: Sequence[str],
    progress: Callable[[int, int], None] = lambda page, pages: None,
) -> bytes:
    """The file. ``footer``: lines at the foot of every sheet, the number of the page beside the last one."""
    faces()
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(paper.width, paper.height), pageCompression=1, lang="en")
    canvas.setTitle(printable(title))
    canvas.setSubject(printable(subject))
    canvas.setAuthor("Orchard Slate")
    canvas.setCreator("Orchard Slate")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    made = sheets(sections, paper)
    pen = Pen(canvas, paper, {sheet.section.key: n for n, sheet in enumerate(made, start=1) if sheet.first})
    for number, sheet in enumerate(made, start=1):
        if sheet.first:
            canvas.bookmarkPage(sheet.section.key)
            canvas.addOutlineEntry(printable(sheet.section.title), sheet.section.key, level=0)
        canvas.saveState()
        if sheet.scale != 1.0:
            less = 1.0 - sheet.scale
            canvas.translate(MARGIN * less, (paper.height - MARGIN) * less)
            canvas.scale(sheet.scale, sheet.scale)
        for block, at in sheet.placed:
            block.draw(pen, MARGIN, MARGIN + at, paper.room[0] / sheet.scale)
        canvas.restoreState()
        _foot(pen, sheet, footer, number, len(made))
        canvas.showPage()
        progress(number, len(made))
    canvas.save()
    return out.getvalue()


def _foot(pen: Pen, sheet: Sheet, footer: Sequence[str], number: int, pages: int) -> None:
    width, paper = pen.paper.room[0], pen.paper
    top = paper.height - FOOT + 10
    pen.line(MARGIN, top, MARGIN + width, top, 0.5, GREY)
    step = SMALL * LEADING
    for place, line in enumerate(footer, start=1):
        pen.write(MARGIN, top + place * step + 2, line, SMALL, room=width - 120, colour=GREY)
    told = f"page {number} of {pages}"
    pen.write(MARGIN + width, top + len(footer) * step + 2, told, SMALL, bold=True, align="right")
    title = sheet.section.title + ("" if sheet.first else " (continued)")
    shown = shortened(printable(title), SMALL, 115)
    pen.write(MARGIN + width, top + step + 2, shown, SMALL, align="right", colour=GREY)
