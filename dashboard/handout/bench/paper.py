"""The paper form: for each cultivar five rows of ten boxes, in the order of the instruments, and what is judged beside them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pandas as pd

from dashboard.charts import style
from dashboard.handout.bench.day import SPARE, WORDS, Day, expected
from dashboard.handout.bench.page import SHARES
from dashboard.handout.blocks import Block, Whole, Words
from dashboard.handout.layout import Section, printed
from dashboard.handout.paper import GREY, PAPERS, USUAL, Pen
from dashboard.places import put
from dashboard.records.importing.bench import FRUIT
from dashboard.ripening import date_label

_LINE, _LABEL, _BOX = 16.0, 62.0, 32.0  # points: height of a row, width of its words and of a box
_BESIDE, _ANSWER = 12.0, 34.0  # before what is judged, and where it is written
ASKED = (
    "Ten fruit, an instrument at a time. Leave empty what was not measured. Ratings: the whole sample, once."
)

AFTER = "Type it into the sheet or the page of the same day; only these can be imported."
INVENTED = "Invented example: names and figures are made up."


@dataclass(frozen=True)
class Form(Whole):
    """The boxes of one cultivar; ``row`` is one of the walk, or empty for a free place."""

    day: Day
    row: Mapping[Any, Any]

    def height(self, width: float) -> float:
        return 18 + (len(self.day.readings) + 1) * _LINE + (26 if self.day.juice else 16)

    def draw(self, pen: Pen, x: float, y: float, width: float) -> None:
        place = [f"{word} {self.row[word]}" for word in ("row", "position") if not pd.isna(self.row.get(word, pd.NA))]  # fmt: skip
        name = str(self.row.get("cultivar", "")) or "Cultivar ______________________"
        pen.write(x, y + 11, name, 10, bold=True, room=200)
        told = ", ".join([*place, expected(self.row)] if self.row else [])
        pen.write(x + 206, y + 11, told, 8, room=width - 260, colour=GREY)
        pen.write(x + width, y + 11, f"Pick {self.row.get('pick', '__')}", 8, align="right")
        top = y + 18
        for number in range(FRUIT):
            pen.write(x + _LABEL + (number + 0.5) * _BOX, top + 10, str(number + 1), 7, align="middle", colour=GREY)  # fmt: skip
        for line, one in enumerate(self.day.readings, 1):
            down = top + line * _LINE
            pen.write(x, down + 11, f"{one.word}, {one.unit.symbol}", 8, room=_LABEL - 2)
            for number in range(FRUIT):
                pen.box(x + _LABEL + number * _BOX, down, _BOX, _LINE, edge=style.OUT)
        self._judged(pen, x + _LABEL + FRUIT * _BOX + _BESIDE, top, x + width)
        pen.write(x, top + (len(self.day.readings) + 1) * _LINE + 11, "Note", 8, colour=GREY)
        end = x + _LABEL + FRUIT * _BOX if self.day.juice else x + width  # beside the last box
        pen.line(x + 26, top + (len(self.day.readings) + 1) * _LINE + 12, end, top + (len(self.day.readings) + 1) * _LINE + 12, 0.4, style.OUT)  # fmt: skip

    def _judged(self, pen: Pen, x: float, top: float, right: float) -> None:
        scales = self.day.scales.items()
        asked = [f"{WORDS[name]}, {one.low:g} to {one.high:g}, {one.best:g} best" for name, one in scales]
        asked += [f"{WORDS[name]}, %" for name in SHARES]
        asked += [f"{one.word}, {one.unit.symbol}, not the air" for one in self.day.juice]
        for line, words in enumerate(asked):
            pen.write(x, top + line * _LINE + 11, words, 7, room=right - x - _ANSWER)
            pen.box(right - _ANSWER + 2, top + line * _LINE, _ANSWER - 2, _LINE, edge=style.OUT)


def write_paper(day: Day, path: Path) -> None:
    """Write the form as a .pdf. OSError where it cannot be written."""
    title = f"{day.site_name}, {date_label(day.on)}"
    blocks: list[Block] = [Words(title, size=14, bold=True), Words(ASKED, size=8, quiet=True, after=8)]
    if day.why:
        blocks.append(Words(day.why, size=8))
    blocks += [Form(day, row) for row in [*day.rows.to_dict("records"), *[{}] * SPARE]]
    whose = day.catalogue.records_title or "Orchard Slate"
    footer = [f"{whose}. {INVENTED}" if day.catalogue.invented else whose, AFTER]
    sections = [Section("bench", title, tuple(blocks))]
    put(
        path,
        printed(
            sections,
            PAPERS[USUAL[day.system]],
            title,
            "bench form",
            footer,
        ),
    )
