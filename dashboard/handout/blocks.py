"""What stands on a page, from the top down: words and pictures. A block knows its height and can be parted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Protocol

from dashboard.charts import style
from dashboard.handout.paper import GREY, LEADING, Pen, long, printable, wrapped


class Block(Protocol):
    def height(self, width: float) -> float: ...

    def draw(self, pen: Pen, x: float, y: float, width: float) -> None: ...

    def parted(self, width: float, room: float) -> tuple[Block | None, Block | None]:
        """What of it fits into ``room``, and the rest."""
        ...


class Whole:
    """A block that is never parted."""

    def parted(self, width: float, room: float) -> tuple[Block | None, Block | None]:
        return None, self  # type: ignore[return-value]


@dataclass(frozen=True)
class Words:
    """A text, with some bold words in front of it; ``most`` lines of it at the most."""

    text: str
    lead: str = ""
    size: float = 8.0
    bold: bool = False
    quiet: bool = False
    before: float = 0.0
    after: float = 3.0
    most: int | None = None
    heading: bool = False  # stays with what follows
    start: int = 0  # lines before it stand on an earlier page
    end: int | None = None  # those from it on on a later one

    def lines(self, width: float) -> list[str]:
        whole = wrapped(self.text, self.size, width, self.bold, self.most, self._lead(width))
        return whole[self.start : self.end]

    def _lead(self, width: float) -> float:
        """Points that the bold words and a space take, at most six tenths of the line."""
        return min(long(printable(self.lead) + " ", self.size, True), width * 0.6) if self.lead else 0.0

    def height(self, width: float) -> float:
        return self.before + self.after + len(self.lines(width)) * self.size * LEADING

    def draw(self, pen: Pen, x: float, y: float, width: float) -> None:
        colour = GREY if self.quiet else style.INK
        at, step = y + self.before + self.size, self.size * LEADING
        lead = 0.0 if self.start else self._lead(width)
        if lead:
            room = lead - long(" ", self.size, True) + 0.01
            pen.write(x, at, self.lead, self.size, bold=True, room=room, colour=colour)
        for number, line in enumerate(self.lines(width)):
            pen.write(
                x + (lead if number == 0 else 0),
                at + number * step,
                line,
                self.size,
                self.bold,
                colour=colour,
            )

    def parted(self, width: float, room: float) -> tuple[Block | None, Block | None]:
        fits = int((room - self.before) / (self.size * LEADING))
        if fits < 2 or self.heading or self.most is not None:
            return None, self
        cut = self.start + fits
        return replace(self, end=cut, after=0.0), replace(self, start=cut, before=0.0)


@dataclass(frozen=True)
class Picture(Whole):
    """``drawn`` into (x, y, width) and ``tall`` points high."""

    tall: float
    drawn: Callable[[Pen, float, float, float], None]

    def height(self, width: float) -> float:
        return self.tall

    def draw(self, pen: Pen, x: float, y: float, width: float) -> None:
        self.drawn(pen, x, y, width)


@dataclass(frozen=True)
class Beside(Whole):
    """Two columns of blocks; the left one takes ``part`` of the width."""

    left: tuple[Block, ...]
    right: tuple[Block, ...]
    part: float = 0.5
    gap: float = 14.0

    def _widths(self, width: float) -> tuple[float, float]:
        left = (width - self.gap) * self.part
        return left, width - self.gap - left

    def height(self, width: float) -> float:
        return max(
            sum(block.height(wide) for block in blocks)
            for blocks, wide in zip((self.left, self.right), self._widths(width), strict=True)
        )

    def draw(self, pen: Pen, x: float, y: float, width: float) -> None:
        left, right = self._widths(width)
        for blocks, start, wide in ((self.left, x, left), (self.right, x + left + self.gap, right)):
            at = y
            for block in blocks:
                block.draw(pen, start, at, wide)
                at += block.height(wide)
