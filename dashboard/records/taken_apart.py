"""Lines of a .csv taken apart into rows of cells; a row that cannot be is set aside by itself and takes no other with it."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Iterator

from dashboard.records.how_far import counted
from dashboard.records.problems import Problem, Severity

DELIMITERS = ",;\t"
TOLD = 1000  # rows set aside that get a line each; further ones are told together
_NAMED = 6
_KEPT = 10_000  # characters of such a row

Grid = list[list[str]]
Torn = tuple[int, tuple[str, ...]]  # the number of a row, and its cells as far as they can be told


class _UnclosedError(Exception):
    """A lone quotation mark swallows the rows after it."""


class _Aside:
    """Rows that cannot be used, and what is wrong with each."""

    def __init__(self, file: str):
        self.file = file
        self.faults: list[Problem] = []
        self.torn: list[Torn] = []
        self.flags: list[Problem] = []
        self.short: list[int] = []

    def flag(self, number: int, value: str, rule: str, suggestion: str) -> None:
        """A row that is read and may have been cut short."""
        self.short.append(number)
        if len(self.short) <= TOLD:
            flag = Problem(
                "flag", self.file, row=number, value=value[:_KEPT], rule=rule, suggestion=suggestion
            )
            self.flags.append(flag)

    def put(self, number: int, row: list[str], value: str, rule: str, suggestion: str) -> None:
        self.torn.append((number, tuple(cell[:_KEPT].strip(' \t"') for cell in row)))
        if len(self.torn) <= TOLD:
            rule += "; the row is set aside"
            fault = Problem(
                "error", self.file, row=number, value=value[:_KEPT], rule=rule, suggestion=suggestion
            )
            self.faults.append(fault)

    def told(self) -> list[Problem]:
        numbers = [number for number, _ in self.torn]
        return [
            *self.faults,
            *self._further("error", numbers[TOLD:], "are set aside", "correct those first"),
            *self.flags,
            *self._further(
                "flag", self.short[TOLD:], "have fewer cells than headings", "look at those first"
            ),
        ]

    def _further(self, severity: Severity, rows: list[int], are: str, suggestion: str) -> list[Problem]:
        """What more than ``TOLD`` rows have in common is told of the rest together."""
        if not rows:
            return []
        rule = f"{len(rows):,} more rows {are}, for the same reasons as the {TOLD:,} above (rows {', '.join(map(str, rows[:_NAMED]))} …)"
        return [Problem(severity, self.file, row=rows[0], rule=rule, suggestion=suggestion)]


def first_row(lines: Iterable[str]) -> list[str]:
    """The cells of the first line that has any, as far as one line tells."""
    line = next((line for line in lines if line.strip(" \r\n\0" + DELIMITERS)), "")
    mark = max(DELIMITERS, key=line.count)
    try:
        return next(csv.reader([line], delimiter=mark), [])
    except csv.Error:
        return line.split(mark)


def taken_apart(
    lines: Callable[[], Iterator[str]], file: str, about: int = 0
) -> tuple[Grid, list[int], list[Problem], tuple[Torn, ...]]:
    """Rows with any cell filled, the headings first, and their numbers; what was wrong, and the rows set aside for it.

    ``lines`` gives the lines of the file with their ends, from the first, each time it is called; ``about``: so many there are.
    """
    first = next((line for line in lines() if line.strip()), "")
    delimiter = max(DELIMITERS, key=first.count)
    try:
        aside = _Aside(file)
        grid, numbers = _fitted(counted(_quoted(lines(), delimiter), file, about), aside)
    except _UnclosedError:  # take line by line instead
        aside = _Aside(file)
        grid, numbers = _fitted(counted(_line_by_line(lines(), delimiter, aside), file, about), aside)
    return grid, numbers, aside.told(), tuple(aside.torn)


def _quoted(lines: Iterator[str], delimiter: str) -> Iterator[tuple[int, list[str]]]:
    width = 0
    try:
        for number, row in enumerate(csv.reader(lines, delimiter=delimiter, strict=True), 1):
            width = width or len(row)
            if len(row) != width and any("\n" in cell for cell in row):
                raise _UnclosedError
            yield number, row
    except csv.Error:
        raise _UnclosedError from None


def _line_by_line(lines: Iterator[str], delimiter: str, aside: _Aside) -> Iterator[tuple[int, list[str]]]:
    for number, line in enumerate(lines, 1):
        line = line.rstrip("\r\n")
        if '"' not in line:
            yield number, line.split(delimiter)
            continue
        try:
            yield from ((number, row) for row in csv.reader([line], delimiter=delimiter, strict=True))
        except csv.Error:
            aside.put(
                number,
                line.split(delimiter),
                line,
                "has a quotation mark that is not closed",
                'write the mark twice ("") inside a quoted cell, or take it out',
            )


def one_of_each() -> Callable[[list[str]], list[str]]:
    """Of cells that say the same, in whichever row, one is kept: of a million fruit, a third of the memory."""
    known: dict[str, str] = {}
    return lambda row: list(map(known.setdefault, row, row))


def _fitted(rows: Iterable[tuple[int, list[str]]], aside: _Aside) -> tuple[Grid, list[int]]:
    """Rows with more filled cells than headings are set aside: their cells may stand under the wrong heading.

    Rows that end before the last heading are read, and told: a file may have been cut short in them.
    """
    width = 0
    kept: Grid = []
    numbers: list[int] = []
    shared = one_of_each()
    for number, row in rows:
        if not any(map(str.strip, row)):
            continue
        row = shared(row)
        width = width or len(row)
        if len(row) > width and any(map(str.strip, row[width:])):
            aside.put(
                number,
                row,
                ", ".join(row),
                f"has {len(row)} cells under {width} headings",
                'put a cell that holds a comma between quotation marks (")',
            )
        else:
            if len(row) < width:
                aside.flag(
                    number,
                    ", ".join(row),
                    f"has {len(row)} cells under {width} headings; those that are not there are taken as empty",
                    "look whether the row was cut short",
                )
            kept.append(row if len(row) <= width else row[:width])
            numbers.append(number)
    return kept, numbers
