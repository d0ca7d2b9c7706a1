"""Paper, ink and letters: what can be printed on a sheet, and how a text is broken into lines that fit.

Text is drawn letter by letter as it is: nothing in it is read as markup. The typefaces come with the library, so a handout
looks the same on every machine. A letter they have no shape for is written as its number, ``[U+6843]``, never left out.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, field
from functools import cache, lru_cache
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from dashboard.charts import style

PLAIN, BOLD = "Handout", "Handout-Bold"
FILES = {PLAIN: "Vera.ttf", BOLD: "VeraBd.ttf"}
LEADING = 1.25  # from line to line, by the size of the letters
MARGIN, FOOT = 40.0, 60.0  # points; the foot carries the footer, clear of the edge that printers leave white
GREY, PALE, RULE = (
    "#4a555c",
    "#d5dbd7",
    "#a9b1ad",
)  # for words, for grounds and between rows: told apart in grey
DOTS = "…"


@dataclass(frozen=True)
class Paper:
    name: str
    width: float  # points
    height: float

    @property
    def room(self) -> tuple[float, float]:
        """Width and height between the margins, over the footer."""
        return self.width - 2 * MARGIN, self.height - MARGIN - FOOT


PAPERS = {"a4": Paper("A4", 595.28, 841.89), "letter": Paper("Letter", 612.0, 792.0)}
USUAL = {"us": "letter", "si": "a4"}


@cache
def faces() -> dict[str, Any]:
    """The typefaces, made known to the library once."""
    made = {name: TTFont(name, file) for name, file in FILES.items()}
    for font in made.values():
        pdfmetrics.registerFont(font)
    return made


@cache
def _shapes() -> frozenset[int]:
    """Letters that both the plain and the bold face can draw."""
    plain, bold = (set(font.face.charToGlyph) for font in faces().values())
    return frozenset(code for code in plain & bold if unicodedata.category(chr(code))[0] != "C")


def printable(text: str) -> str:
    """In one line, with the number of each letter that has no shape."""
    if text.isascii() and text.isprintable():
        return text
    out = []
    for letter in unicodedata.normalize("NFC", text):
        if letter.isspace():
            out.append(" ")
        else:
            out.append(letter if ord(letter) in _shapes() else f"[U+{ord(letter):04X}]")
    return "".join(out)


def lacking(text: str) -> bool:
    """Whether the text has a letter that is printed as its number."""
    return any(
        not letter.isspace() and ord(letter) not in _shapes() for letter in unicodedata.normalize("NFC", text)
    )


def long(text: str, size: float, bold: bool = False) -> float:
    """How many points a printable text takes in one line."""
    return size * _length(text, bold)


@lru_cache(maxsize=16_384)
def _length(text: str, bold: bool) -> float:
    faces()
    return pdfmetrics.stringWidth(text, BOLD if bold else PLAIN, 1.0)


@cache
def _colour(name: str) -> Any:
    return HexColor(name)


def shortened(text: str, size: float, room: float, bold: bool = False) -> str:
    """A printable text as it fits the room; three dots where something is cut off."""
    if long(text, size, bold) <= room:
        return text
    fits = _letters_that_fit(text, size, room - long(DOTS, size, bold), bold)
    return text[:fits].rstrip() + DOTS


def wrapped(
    text: str, size: float, width: float, bold: bool = False, most: int | None = None, lead: float = 0.0
) -> list[str]:
    """Lines no longer than ``width``, the first one by ``lead`` shorter; of more than ``most`` the last ends in three dots."""
    lines: list[str] = []
    line, taken, room, space = "", 0.0, width - lead, long(" ", size, bold)
    words = printable(text).split(" ")[::-1]
    while words:
        word = words.pop()
        needed = long(word, size, bold) + (space if line else 0.0)
        if taken + needed <= room:
            line, taken = (f"{line} {word}" if line else word), taken + needed
        elif line or (room < width and not lines):
            lines.append(line)
            line, taken, room = "", 0.0, width
            words.append(word)
        else:  # a word longer than a line is broken
            fits = max(1, _letters_that_fit(word, size, room, bold))
            lines.append(word[:fits])
            words.append(word[fits:])
    lines.append(line)
    if most is not None and len(lines) > most:
        rest = " ".join(lines[most - 1 :])
        lines = [*lines[: most - 1], shortened(rest, size, width - (lead if most == 1 else 0), bold)]
    return lines


def _letters_that_fit(text: str, size: float, room: float, bold: bool) -> int:
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if long(text[:middle], size, bold) <= room else (low, middle - 1)
    return low


@dataclass
class Pen:
    """Draws on one sheet, in points from its upper left corner; ``places`` tells on which page a heading stands."""

    canvas: Any
    paper: Paper
    places: dict[str, int] = field(default_factory=dict)

    def write(
        self,
        x: float,
        y: float,
        text: str,
        size: float = 8.0,
        bold: bool = False,
        align: str = "left",
        room: float | None = None,
        colour: str = style.INK,
    ) -> None:
        """``y`` is the line the letters stand on."""
        shown = printable(text)
        if room is not None:
            shown = shortened(shown, size, room, bold)
        self.canvas.setFont(BOLD if bold else PLAIN, size)
        self.canvas.setFillColor(_colour(colour))
        back = {"left": 0.0, "right": 1.0, "middle": 0.5}[align] * long(shown, size, bold)
        self.canvas.drawString(x - back, self.paper.height - y, shown)

    def line(
        self, x: float, y: float, to_x: float, to_y: float, width: float = 0.6, colour: str = style.INK,
        dashed: bool = False,
    ) -> None:  # fmt: skip
        self.canvas.setLineWidth(width)
        self.canvas.setStrokeColor(_colour(colour))
        self.canvas.setDash([2, 2] if dashed else [])
        self.canvas.line(x, self.paper.height - y, to_x, self.paper.height - to_y)

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        fill: str | None = None,
        edge: str | None = None,
    ) -> None:
        """``y`` is its upper edge."""
        self.canvas.setDash([])
        self.canvas.setLineWidth(0.8)
        if fill:
            self.canvas.setFillColor(_colour(fill))
        if edge:
            self.canvas.setStrokeColor(_colour(edge))
        self.canvas.rect(
            x, self.paper.height - y - height, width, height, stroke=int(bool(edge)), fill=int(bool(fill))
        )

    def dot(self, x: float, y: float, radius: float, fill: str = style.INK) -> None:
        self.canvas.setLineWidth(0.5)
        self.canvas.setDash([])
        self.canvas.setFillColor(_colour(fill))
        self.canvas.setStrokeColor(_colour(style.PAPER))
        self.canvas.circle(x, self.paper.height - y, radius, stroke=1, fill=1)

    def leads(self, x: float, y: float, width: float, height: float, to: str) -> None:
        """A press there, on a screen, goes to the page of a heading."""
        if to in self.places:
            top = self.paper.height - y
            self.canvas.linkRect("", to, (x, top - height, x + width, top), relative=1, thickness=0)
