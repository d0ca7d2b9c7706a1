"""The cells that one set of answers is about: those of a column, or of the rows of one reading."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from dashboard.records.importing.layouts import Layout, by_page
from dashboard.records.importing.mapping import Path_
from dashboard.records.importing.pages import Page
from dashboard.records.problems import quoted

SHOWN = 3  # cells beside a column


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
    def named(self) -> str:
        """The column in a list of others."""
        return f"{self.heading or 'no heading'}, {self.layout.where}"

    def count(self, cell: str) -> int:
        """How many cells hold this; 0 where they are not counted."""
        count = 0
        for block in self.layout.blocks:
            columns = [
                column for one in block.headings if one.label == self.heading for _, column in one.columns
            ]
            if columns and len(block.rows):
                count += int((block.part(block.rows, columns) == cell).sum())
        return count


def seen_in(layout: Layout, label: str) -> Seen:
    """What stands in a column."""
    heading = layout.headings[label]
    where = f"column {heading.letters} of {layout.where}"
    about = f"{label}, {where}" if heading.at else f"{where}, which has no heading"
    return Seen(
        layout, layout.column(label), about, by_page(layout, label), label, heading.letters.partition("–")[0]
    )
