"""Where labels stand on a sheet of paper: columns and rows of one size, with what is left free at the edges and between them."""

from __future__ import annotations

import re
from dataclasses import dataclass

from dashboard.handout.paper import Paper

INCH = 72.0  # points
UNITS = {"in": INCH, "mm": INCH / 25.4}
EDGE, GAP = "0.5in", "0.125in"  # what is left free, where nothing else is said
COLUMNS, ROWS = 3, 8
MOST = 40  # labels across or down
_SLACK = 0.01  # points, so that 3 times a third is a whole
_LENGTH = re.compile(r"([0-9]{1,4}(?:\.[0-9]{1,4})?) ?(in|mm)")


@dataclass(frozen=True)
class Grid:
    """In points; ``left`` and ``top`` are the free edges, ``across`` and ``down`` the gaps between labels."""

    paper: Paper
    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    across: float
    down: float

    @property
    def on_a_sheet(self) -> int:
        return self.columns * self.rows

    def place(self, number: int) -> tuple[int, float, float]:
        """The sheet of a label, both counted from 0, and its upper left corner on it; labels go across, then down."""
        sheet, here = divmod(number, self.on_a_sheet)
        row, column = divmod(here, self.columns)
        return sheet, self.left + column * (self.width + self.across), self.top + row * (self.height + self.down)  # fmt: skip


def length(said: str) -> float:
    """Points of ``2.5in`` or ``63.5mm``. ValueError, one sentence, for anything else: a bare figure says no unit."""
    found = _LENGTH.fullmatch(said.strip().lower())
    if not found:
        raise ValueError(f"{said[:40]!r} is no length; write it with its unit, as 2.5in or 63.5mm.")
    return float(found[1]) * UNITS[found[2]]


def grid(
    paper: Paper, columns: int = COLUMNS, rows: int = ROWS, width: str = "", height: str = "",
    left: str = EDGE, top: str = EDGE, across: str = GAP, down: str = GAP, unit: str = "in",
) -> Grid:  # fmt: skip
    """Lengths as they are typed. A label whose size is not said takes what the paper leaves between two like edges. ``unit``: in which
    the sentences tell. ValueError, one sentence, where it does not fit the paper."""
    for count, word in ((columns, "columns"), (rows, "rows")):
        if not 1 <= count <= MOST:
            raise ValueError(f"{count} {word} of labels cannot be; 1 to {MOST} can.")
    edges, gaps = (length(left), length(top)), (length(across), length(down))
    sizes = []
    for place, (count, said, room) in enumerate(((columns, width, paper.width), (rows, height, paper.height))):  # fmt: skip
        free = edges[place] + (count - 1) * gaps[place]
        size = length(said) if said else (room - free - edges[place]) / count
        word, way = (("columns", "wide"), ("rows", "high"))[place]
        if size <= 0 or free + count * size > room + _SLACK:
            takes = _told(free + count * size if said else free + edges[place], unit)
            what = "take" if said else "leave no room for labels: edges and gaps take"
            raise ValueError(f"{count} {word} {what} {takes}, and {paper.name} paper is {_told(room, unit)} {way}; use fewer {word}, or smaller measures.")  # fmt: skip
        sizes.append(size)
    return Grid(paper, columns, rows, sizes[0], sizes[1], edges[0], edges[1], gaps[0], gaps[1])


def _told(points: float, unit: str) -> str:
    return f"{points / UNITS[unit]:.4g} {unit}"
