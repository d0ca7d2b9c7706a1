"""The cells that one set of answers is about: those of a column, or of the rows of one reading."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.records.importing.layouts import Layout, by_page
from dashboard.records.importing.mapping import Path_
from dashboard.records.importing.pages import Page
from dashboard.records.problems import quoted

SHOWN = 2  # cells beside a column


@dataclass(frozen=True, eq=False)
class Seen:
    """``path`` is where the answers stand, ``letters`` where the column stands on its sheet; the different cells by page."""

    layout: Layout
    path: Path_
    about: str
    by_page: Mapping[Page, list[str]]
    heading: str = ""
    letters: str = ""

    @property
    def by_file(self) -> dict[str, list[str]]:
        found: dict[str, list[str]] = {}
        for page, values in self.by_page.items():
            found.setdefault(page.file, []).extend(values)
        return {file: list(dict.fromkeys(values)) for file, values in found.items()}

    @property
    def values(self) -> list[str]:
        return list(dict.fromkeys(value for values in self.by_page.values() for value in values))

    @property
    def cells(self) -> str:
        """A few of them, as a line of a list has them."""
        return "; ".join(quoted(value) for value in self.values[:SHOWN])

    @property
    def middle(self) -> tuple[float, ...]:
        """The middle of a column of figures; nothing where most of it is none."""
        found = numbers(self.values)
        return (float(np.median(np.abs(found))),) if 2 * len(found) > len(self.values) else ()

    @property
    def named(self) -> str:
        """The column in a list of others."""
        return f"{self.heading or 'no heading'}, {self.layout.where}"

    def count(self, *cells: str) -> int:
        """How many cells hold one of these; 0 where they are not counted. Each block is gone through once, however many they are."""
        count = 0
        for block in self.layout.blocks:
            columns = [
                column for one in block.headings if one.label == self.heading for _, column in one.columns
            ]
            if columns and len(block.rows):
                count += int(pd.Series(block.part(block.rows, columns).ravel()).isin(cells).sum())
        return count


def seen_in(layout: Layout, label: str) -> Seen:
    """What stands in a column."""
    heading = layout.headings[label]
    where = f"column {heading.letters} of {layout.where}"
    about = f"{label}, {where}" if heading.at else f"{where}, which has no heading"
    return Seen(
        layout, layout.column(label), about, by_page(layout, label), label, heading.letters.partition("–")[0]
    )


def numbers(values: Iterable[str]) -> np.ndarray:
    """Those of the cells that are a number as it stands."""
    found = []
    for value in values:
        try:
            found.append(float(value.replace(",", ".")))
        except ValueError:
            continue
    return np.array(found)


def first_cells(layout: Layout, page: Page) -> str:
    """What stands first in the first row of a page, by which whoever keeps it knows it again."""
    for block in layout.blocks:
        if block.page is page and len(block.rows):
            filled = [str(cell) for cell in page.cells[block.rows[0]] if cell]
            return "; ".join(map(quoted, filled[: SHOWN + 1]))
    return ""
