"""Blocks of one shape, and what was answered about that shape: a sheet with other headings is another layout and is asked about anew."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import numpy as np
import pandas as pd

from dashboard.records.importing.blocks import Block, Heading
from dashboard.records.importing.mapping import Answers, Path_
from dashboard.records.importing.pages import Page
from dashboard.records.importing.roles import KEYS, NOT_USED, NUMBER, READINGS, ROLES, WHICH, certain, offered
from dashboard.records.importing.spread import has_spread, meant, of_means
from dashboard.records.importing.titles import aligned
from dashboard.records.problems import listed, quoted

_FIGURE = re.compile(r"[-+<>]?\s*\d[\d.,/ ½¼¾]*")
FIGURES = "as the row says"  # a run of fruit whose reading another column of the row names
UNDER_DAYS = (*(name for name, role in ROLES.items() if (role.table in ("samples", "fruit") and name not in KEYS) or name.startswith("mean ")), FIGURES)  # fmt: skip
BESIDE_DAYS = ("cultivar", "site", NUMBER, WHICH, *(name for name, role in ROLES.items() if role.table == "cultivars" and name != "cultivar"))  # fmt: skip


@dataclass
class Layout:
    """``number``: its place in the mapping; ``like``: that of an earlier one whose answers are offered; ``changed``: how it differs;
    ``kin``: that of another of the same file, whose answers hold for the same headings."""

    number: int
    blocks: list[Block] = field(default_factory=list)
    like: int | None = None
    changed: str = ""
    kin: int | None = None

    @property
    def headings(self) -> dict[str, Heading]:
        """By label, in the order of the first block; blocks of one shape may stand at other places."""
        return {heading.label: heading for heading in self.blocks[0].headings}

    @property
    def titles(self) -> list[str]:
        return list(dict.fromkeys(key for block in self.blocks for key, _, _ in block.titles))

    @property
    def across(self) -> str:
        """The label of the headings that are days; "" where a column or title holds the day."""
        return self.blocks[0].across

    @property
    def where(self) -> str:
        """The first page of this shape, and how many more."""
        more = len({block.page for block in self.blocks}) - 1
        return self.blocks[0].name + (f" and {more:,} more" if more else "")

    @property
    def files(self) -> str:
        """The files that it stands in."""
        return "; ".join(dict.fromkeys(block.page.file for block in self.blocks))

    @property
    def table(self) -> str:
        """What its columns are asked about under: sheets of one file that differ by some columns have one list of these."""
        return self.where if self.kin is None else f"{self.files}, what other sheets have beside that"

    @cached_property
    def naming(self) -> dict[str, list[str]]:
        """By label the words of each column that names readings; looked for once, when all blocks of the layout are known."""
        found = {label: readings_in(self, label) for label, heading in self.headings.items() if not heading.wide}  # fmt: skip
        return {label: words for label, words in found.items() if words}

    def column(self, label: str) -> Path_:
        return ("layout", self.number, "columns", label)

    def title(self, key: str) -> Path_:
        return ("layout", self.number, "titles", key)

    @property
    def days(self) -> Path_:
        """Where it is answered how days across are read."""
        return ("layout", self.number, "days")


def layouts(blocks: Iterable[Block], answers: Answers) -> list[Layout]:
    """The layouts that the blocks are of; a shape that the answers do not know is added to them."""
    known = {tuple(one["headings"]): number for number, one in enumerate(answers.layouts)}
    before = len(answers.layouts)
    found: dict[int, Layout] = {}
    for block in blocks:
        number = known.get(block.shape)
        if number is None:
            number = known[block.shape] = len(answers.layouts)
            columns: dict[str, dict] = {label: {} for label in block.shape}
            answers.layouts.append({"seen_first_in": block.name, "headings": list(block.shape), "columns": columns})  # fmt: skip
        found.setdefault(number, Layout(number)).blocks.append(block)
    for layout in found.values():
        layout.blocks = aligned(layout.blocks, answers.layouts[layout.number].get("titles", {}))
        layout.kin = _kin(layout, found.values())
        if layout.number >= before and before and layout.kin is None:
            layout.like, layout.changed = _nearest(layout, answers.layouts[:before])
    return list(found.values())


def _kin(layout: Layout, others: Iterable[Layout]) -> int | None:
    """Of the layouts before this one in the same file the one that has most of its headings, if that is half of them."""
    files = {block.page.file for block in layout.blocks}
    shared = {
        other.number: len(set(layout.headings) & set(other.headings)) for other in others
        if other.number < layout.number and files & {block.page.file for block in other.blocks}
    }  # fmt: skip
    best = max(shared, key=lambda number: shared[number], default=None)
    return best if best is not None and 2 * shared[best] >= len(layout.headings) else None


def _nearest(layout: Layout, earlier: Sequence[dict[str, Any]]) -> tuple[int | None, str]:
    here = list(layout.headings)
    shared = [len(set(here) & set(one["headings"])) for one in earlier]
    best = int(np.argmax(shared))
    if not shared[best]:
        return None, ""
    there = earlier[best]["headings"]
    gone = [quoted(label) for label in there if label not in here]
    new = [quoted(label) for label in here if label not in there]
    parts = [f"{listed(gone)} {'is' if len(gone) == 1 else 'are'} gone"] if gone else []
    parts += [f"{listed(new)} {'is' if len(new) == 1 else 'are'} new"] if new else []
    return best, ", ".join(parts) or "the headings stand in another order"


def role_of(layout: Layout, label: str, answers: Answers) -> tuple[str, bool]:
    """What a column is: as answered, else as offered; and whether that is settled."""
    path = (*layout.column(label), "is")
    said = answers.at(path)
    if isinstance(said, str) and said in roles_open_to(layout, layout.headings[label]):
        return said, True
    if layout.like is not None:
        before = answers.at(("layout", layout.like, "columns", label, "is"))
        if isinstance(before, str):
            return before, False
    heading = layout.headings[label]
    word = label.rpartition(" 1–")[0] if heading.wide else label
    role = offered(word)[0]
    if role == NUMBER and heading.wide:
        role = ""
    if not role and layout.naming and (heading.wide or _of_figures(layout, label)):
        role = FIGURES
    if not role and label in layout.naming:
        role = WHICH
    if not role and label == layout.across:
        role = _told_beside(layout)
    if not role and not heading.at and label == next(iter(layout.headings)) and _of_words(layout, label):
        role = "cultivar"
    single = [name for name, one in layout.headings.items() if not one.wide]
    if not heading.wide and of_means(single):
        role = meant(single, label, role)
    return (role if role in roles_open_to(layout, heading) else ""), certain(label) and not heading.wide


def roles_open_to(layout: Layout, heading: Heading) -> tuple[str, ...]:
    """What a column may be. Where fruit stand side by side no column beside them is of one fruit, beside days across none is of one day."""
    if layout.across:
        return (*(UNDER_DAYS if heading.label == layout.across else BESIDE_DAYS), NOT_USED)
    if heading.wide:
        return (*READINGS, FIGURES, NOT_USED)
    if any(one.wide for one in layout.headings.values()):
        return (*(name for name in ROLES if name not in READINGS), WHICH, NOT_USED)
    if has_spread(list(layout.headings)):  # rows of means hold no fruit
        return (*(name for name in ROLES if name not in READINGS), NOT_USED)
    return (*ROLES, NUMBER, WHICH, FIGURES, NOT_USED)


def _told_beside(layout: Layout) -> str:
    """What the sheet, a title or the file is called by, of what may stand under days."""
    block = layout.blocks[0]
    titles = [str(block.page.cells[row, column]) for _, row, column in block.titles]
    words = (block.page.sheet, *titles, block.page.stem)
    return next((role for word in words if (role := offered(word)[0]) in UNDER_DAYS), "")


def only_cultivars(layout: Layout, answers: Answers) -> bool:
    """Whether the columns say something of cultivars and nothing of fruit, so that neither a day nor a site is needed."""
    roles = {role_of(layout, label, answers)[0] for label in layout.headings} - {NOT_USED, "cultivar"}
    return bool(roles) and all(role in ROLES and ROLES[role].table == "cultivars" for role in roles)


def tells(role: str) -> bool:
    """Whether a column says something of fruit."""
    return role in (FIGURES, WHICH) or (role in ROLES and role not in KEYS and ROLES[role].table != "cultivars")  # fmt: skip


def unread(layout: Layout, answers: Answers) -> bool:
    """Whether every column is settled, and what is not used leaves nothing but whose and when: a summary, or a plan."""
    found = [role_of(layout, label, answers) for label in layout.headings]
    if not all(settled for _, settled in found) or only_cultivars(layout, answers):
        return False
    return NOT_USED in [role for role, _ in found] and not any(tells(role) for role, _ in found)


def content(layout: Layout, block: Block, answers: Answers) -> np.ndarray:
    """(n,) bool of the rows of a block: those that hold what was seen, measured or judged of fruit, and not only whose fruit it was.

    A text beside a row that names no reading is none: it may be a note at the foot. A figure there is one that has to be told of.
    """
    table = only_cultivars(layout, answers)
    found, named = np.zeros(len(block.rows), dtype=bool), np.zeros(len(block.rows), dtype=bool)
    figures: list[int] = []
    for heading in block.headings:
        role = role_of(layout, heading.label, answers)[0]
        columns = [column for _, column in heading.columns]
        if role == WHICH:
            named |= (block.part(block.rows, columns) != "").any(axis=1)
        elif role == FIGURES:
            figures += columns
        elif (table and role == "cultivar") or (
            role in ROLES and role not in KEYS and (ROLES[role].table == "cultivars") == table
        ):
            found |= (block.part(block.rows, columns) != "").any(axis=1)
    if figures:
        found |= named & (block.part(block.rows, figures) != "").any(axis=1)
        for place in np.flatnonzero(~found & ~named):
            found[place] = any(
                _FIGURE.fullmatch(cell) for cell in block.part(block.rows[[place]], figures)[0]
            )
    return found


def without(layout: Layout, block: Block, label: str, answers: Answers) -> np.ndarray:
    """(n,) bool of the rows of a block that have something under a heading, and no reading, neither they nor those below that go on with them."""
    column = next(one.columns[0][1] for one in block.headings if one.label == label)
    own = block.page.holders(block.rows, column) == block.rows
    group = np.cumsum(own)
    read = np.unique(group[content(layout, block, answers)])
    return own & ~np.isin(group, read)


def by_page(layout: Layout, label: str) -> dict[Page, list[str]]:
    """The different filled cells under a heading, by the page they stand on."""
    found: dict[Page, list[str]] = {}
    for block in layout.blocks:
        columns = [column for one in block.headings if one.label == label for _, column in one.columns]
        here = pd.unique(block.part(block.rows, columns).ravel()) if len(block.rows) else ()
        found.setdefault(block.page, []).extend(value for value in here if value)
    return {page: list(dict.fromkeys(values)) for page, values in found.items()}


def by_word(layout: Layout, answers: Answers) -> dict[str, dict[Page, list[str]]]:
    """Of a layout whose rows name their reading: by that word and page the different filled cells of such rows."""
    which = [label for label in layout.headings if role_of(layout, label, answers)[0] == WHICH]
    runs = [label for label in layout.headings if role_of(layout, label, answers)[0] == FIGURES]
    found: dict[str, dict[Page, list[str]]] = {}
    for block in layout.blocks if which and runs else ():
        at = {heading.label: heading for heading in block.headings}
        columns = [column for run in runs for _, column in at[run].columns]
        words = block.page.cells[block.rows, at[which[-1]].columns[0][1]]
        for word in dict.fromkeys(word for word in words if word):
            values = pd.unique(block.part(block.rows[words == word], columns).ravel())
            found.setdefault(word, {}).setdefault(block.page, []).extend(value for value in values if value)
    return {word: {page: list(dict.fromkeys(values)) for page, values in pages.items()} for word, pages in found.items()}  # fmt: skip


def cells(layout: Layout, label: str, held: bool = False) -> dict[str, list[str]]:
    """The different filled cells under a heading, by the file they stand in; ``held``: those that hold a date and no text."""
    found: dict[str, list[str]] = {}
    for block in layout.blocks:
        heading = next(one for one in block.headings if one.label == label)
        columns = [column for _, column in heading.columns]
        if held:
            found.setdefault(block.page.file, []).extend(
                str(block.page.cells[row, column]) for row in block.rows for column in columns if (int(row), column) in block.page.days
            )  # fmt: skip
        elif len(block.rows):
            values = pd.unique(block.part(block.rows, columns).ravel())
            found.setdefault(block.page.file, []).extend(value for value in values if value)
    return {file: list(dict.fromkeys(values)) for file, values in found.items()}


def readings_in(layout: Layout, label: str) -> list[str]:
    """The words of a column that names readings; empty where it is another column."""
    words = list(dict.fromkeys(word for values in cells(layout, label).values() for word in values))
    known = [word for word in words if offered(word)[0] in READINGS]
    return words if len(known) >= 2 and len(known) >= 0.6 * len(words) and len(words) <= 30 else []


def _of_words(layout: Layout, label: str) -> bool:
    """Whether most of a column is no figure."""
    words = [value for values in cells(layout, label).values() for value in values]
    return 2 * sum(not _FIGURE.fullmatch(value) for value in words) > len(words)


def _of_figures(layout: Layout, label: str) -> bool:
    return not _of_words(layout, label) and label not in layout.naming
