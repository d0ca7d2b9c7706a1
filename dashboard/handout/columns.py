"""A table on paper: cells that are broken into lines, heads that are repeated where it goes on on another page."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from dashboard.answers.question import Question
from dashboard.handout.blocks import Block
from dashboard.handout.paper import GREY, LEADING, RULE, Pen, wrapped
from dashboard.wording import column_kinds as declared


@dataclass(frozen=True)
class Page:
    """In a cell: the number of the page on which a heading stands."""

    of: str


@dataclass(frozen=True)
class Strip:
    """In a cell: a small picture, drawn into (x, y, width, height)."""

    drawn: Callable[[Pen, float, float, float, float], None]


Cell = str | Page | Strip


@dataclass(frozen=True)
class Column:
    label: str
    part: float  # of the width
    right: bool = False
    most: int = 2  # lines a cell


def headed(asked: Question, column: declared.Column, part: float, most: int = 2) -> Column:
    """A column as it is declared for page and paper alike, with its part of the width."""
    return Column(column.heading(asked, "paper"), part, right=column.kind in ("number", "date"), most=most)


@dataclass(frozen=True)
class Rows:
    """A table under a title. The heads are repeated where it goes on on another page; ``leads`` are the headings its names go to."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    size: float = 7.2
    empty: str = ""
    leads: tuple[str, ...] = ()
    before: float = 5.0
    after: float = 4.0
    gap = 5.0  # between columns
    pad = 1.3  # above and below a line

    def _rooms(self, width: float) -> list[float]:
        whole = sum(column.part for column in self.columns)
        return [width * column.part / whole for column in self.columns]

    def _cells(self, row: Sequence[Cell], width: float) -> list[list[str]]:
        return [
            wrapped(cell, self.size, room - self.gap, most=column.most) if isinstance(cell, str) else [""]
            for cell, room, column in zip(row, self._rooms(width), self.columns, strict=True)
        ]

    def _head(self, width: float) -> list[list[str]]:
        return [
            wrapped(column.label, self.size, room - self.gap, bold=True, most=4)
            for column, room in zip(self.columns, self._rooms(width), strict=True)
        ]

    @cached_property
    def _heights(self) -> dict[float, list[float]]:
        return {}

    def _row_heights(self, width: float) -> list[float]:
        if width not in self._heights:
            self._heights[width] = [
                max(len(cell) for cell in self._cells(row, width)) * self.size * LEADING + 2 * self.pad
                for row in self.rows
            ]
        return self._heights[width]

    def _top(self, width: float) -> float:
        title = len(self._title_lines(width)) * self.size * LEADING + 2 if self.title else 0.0
        head = max((len(label) for label in self._head(width)), default=0) * self.size * LEADING + 3
        return self.before + title + (head if self.rows else 0.0)

    def _title_lines(self, width: float) -> list[str]:
        return wrapped(self.title, self.size, width) if self.title else []

    def height(self, width: float) -> float:
        nothing = self.size * LEADING if not self.rows and self.empty else 0.0
        return self._top(width) + sum(self._row_heights(width)) + nothing + self.after

    def draw(self, pen: Pen, x: float, y: float, width: float) -> None:
        step, at = self.size * LEADING, y + self.before
        for line in self._title_lines(width):
            pen.write(x, at + self.size, line, self.size, colour=GREY)
            at += step
        at += 2 if self.title else 0
        if not self.rows:
            pen.write(x, at + self.size, self.empty, self.size, room=width)
            return
        rooms = self._rooms(width)
        head = self._head(width)
        tall = max(len(label) for label in head)
        for label, room, column, left in zip(head, rooms, self.columns, _starts(x, rooms), strict=True):
            for number, line in enumerate(label):
                self._put(pen, left, at + (tall - len(label) + number) * step + self.size, line, room, column, bold=True)  # fmt: skip
        at += tall * step + 2
        pen.line(x, at, x + width - self.gap, at, 0.9)
        at += 1
        for number, (row, high) in enumerate(zip(self.rows, self._row_heights(width), strict=True)):
            cells = self._cells(row, width)
            for cell, lines, room, column, left in zip(
                row, cells, rooms, self.columns, _starts(x, rooms), strict=True
            ):
                if isinstance(cell, Strip):
                    cell.drawn(pen, left, at, room - self.gap, high)
                    continue
                shown = [str(pen.places.get(cell.of, ""))] if isinstance(cell, Page) else lines
                for place, line in enumerate(shown):
                    self._put(pen, left, at + self.pad + place * step + self.size * 0.95, line, room, column)
            if number < len(self.leads):
                pen.leads(x, at, width, high, self.leads[number])
            at += high
            pen.line(x, at, x + width - self.gap, at, 0.3, RULE)

    def _put(
        self, pen: Pen, left: float, y: float, line: str, room: float, column: Column, bold: bool = False
    ) -> None:
        x = left + room - self.gap if column.right else left
        pen.write(x, y, line, self.size, bold, "right" if column.right else "left", room - self.gap)

    def parted(self, width: float, room: float) -> tuple[Block | None, Block | None]:
        left, fits = room - self._top(width) - self.after, 0
        for high in self._row_heights(width):
            if high > left:
                break
            left, fits = left - high, fits + 1
        if not fits:
            return None, self
        head = replace(self, rows=self.rows[:fits], leads=self.leads[:fits])
        rest = replace(self, rows=self.rows[fits:], leads=self.leads[fits:])
        return head, rest if rest.rows else None


def of(
    asked: Question,
    title: str,
    columns: Sequence[declared.Column],
    rows: Sequence[declared.Row],
    parts: Sequence[float],
    **more: Any,
) -> Rows:
    """A table of declared columns, each with its part of the width."""
    heads = tuple(headed(asked, column, part) for column, part in zip(columns, parts, strict=True))
    return Rows(
        title, heads, tuple(tuple(column.told(asked, row) for column in columns) for row in rows), **more
    )


def _starts(x: float, rooms: Sequence[float]) -> list[float]:
    starts = [x]
    for room in rooms[:-1]:
        starts.append(starts[-1] + room)
    return starts
