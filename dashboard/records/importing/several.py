"""Rows that stand for several fruit: of how many each mean is where no column says it, whether a row alone is one fruit, and shares of how many."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence

import numpy as np

from dashboard.records.importing.blocks import Block
from dashboard.records.importing.figures import is_zero
from dashboard.records.importing.layouts import Layout, role_of
from dashboard.records.importing.mapping import ANY, Answers, Path_, Question
from dashboard.records.importing.measures import BY_SHEET
from dashboard.records.importing.pages import Page
from dashboard.records.importing.roles import KEYS, NUMBER, READINGS, ROLES, WHICH, Role
from dashboard.records.importing.seen import first_cells
from dashboard.records.importing.spread import Part
from dashboard.records.problems import quoted

COUNT = "fruit measured"
NOT_KNOWN = "not known"
ROW_IS, ONE, SEVERAL = "row_is", "one fruit", "a mean of several"
SHARE_OF, PER_CENT = "share_of", "per cent"
MEAN_ALONE = "is a mean of several fruit, and without their number and deviation it cannot be weighed", "write both beside it, each in a column of its own"  # fmt: skip
_FEWEST = 3  # samples of one row each, from which on it is asked
_SHOWN = 3


def asked_counts(layout: Layout, roles: Collection[str], answers: Answers) -> Iterator[Question]:
    """Of how many fruit the means are, where no column counts them; sheet by sheet where somebody says so."""
    if COUNT in roles or not any(role in ROLES and ROLES[role].table == "means" for role in roles):
        return
    pages = list(dict.fromkeys(block.page for block in layout.blocks))
    titles = {block.page: [str(block.page.cells[row, column]) for _, row, column in block.titles] for block in layout.blocks}  # fmt: skip
    called = {page: f"{page.name}: " if len(pages) > 1 else "" for page in pages}
    named = {page: f"  {called[page]}" + "; ".join([*map(quoted, titles[page]), first_cells(layout, page)]) for page in pages}  # fmt: skip
    asks = f"of how many fruit is each mean? A number, or “{NOT_KNOWN}”"
    told = f"  {NOT_KNOWN} → they wait in the sheet of what was set aside: nobody can say how much such a mean weighs"  # fmt: skip
    path = ("layout", layout.number, "fixed", COUNT)
    words = (NOT_KNOWN, *([BY_SHEET] if len(pages) > 1 else []), ANY)
    yield Question(path, asks, words, (*list(named.values())[:_SHOWN], told), about=layout.where, may=_counted)  # fmt: skip
    for page in pages if answers.at(path) == BY_SHEET else ():
        here = ("layout", layout.number, "fruit_of", page.name)
        yield Question(here, asks, (NOT_KNOWN, ANY), (named[page], told), about=page.name, may=_counted)


def counted(parts: Sequence[Part], layout: Layout, page: Page, answers: Answers) -> list[Part]:
    """The parts of a block and, where it was said for all rows, the number of fruit of each row that holds a mean."""
    said = answers.at(("layout", layout.number, "fixed", COUNT))
    said = answers.at(("layout", layout.number, "fruit_of", page.name)) if said == BY_SHEET else said
    of_means = [part for part in parts if part[0].table == "means"]
    if not of_means or any(part[0].name == COUNT for part in parts) or not _counted(str(said)):
        return list(parts)
    rows = np.unique(np.concatenate([part[1] for part in of_means]))
    texts = np.full(len(rows), str(said), dtype=object)
    nowhere = np.full(len(rows), -1, dtype=np.int64)
    return [*parts, (ROLES[COUNT], rows, np.full(len(rows), float(str(said))), texts, nowhere)]


def asked_rows(layout: Layout, answers: Answers) -> Iterator[Question]:
    """Whether a row is one fruit or a mean, where fruit have no numbers and most samples have one row."""
    roles = {label: role_of(layout, label, answers)[0] for label in layout.headings}
    held = {*roles.values()}
    wide = any(heading.wide for heading in layout.headings.values())
    if wide or not held.intersection(READINGS) or held.intersection((NUMBER, WHICH)):
        return
    keys = [label for label, role in roles.items() if role in KEYS]
    rows = Counter(key for block in layout.blocks for key in row_keys(block, keys))
    alone = sum(count == 1 for count in rows.values())
    if alone < _FEWEST or 2 * alone <= len(rows):
        return
    asks = "most samples have one row here, and no column numbers the fruit; what is a row?"
    shown = (f"  {ONE} → a sample of one fruit", f"  {SEVERAL} → its figures wait: {MEAN_ALONE[0].partition(', and ')[2]}")  # fmt: skip
    yield Question(("layout", layout.number, ROW_IS), asks, (ONE, SEVERAL), shown, about=layout.where)


def row_keys(block: Block, labels: Collection[str]) -> Iterator[tuple[object, ...]]:
    """By row what says whose it is; an empty cell goes on with the one above."""
    parts = []
    for column in [one.columns[0][1] for one in block.headings if one.label in labels and len(block.rows)]:
        at = np.maximum.accumulate(block.page.holders(block.rows, column))
        parts.append(np.where(at >= 0, block.page.cells[np.maximum(at, 0), column], ""))
    for place in range(len(block.rows)):
        yield (block.page.name, block.others, *(part[place] for part in parts))


def asked_share(path: Path_, about: str, heading: str, role: Role, values: Sequence[str], answers: Answers) -> Iterator[Question]:  # fmt: skip
    """Whether a share is written in per cent or as fruit of so many, where its heading does not say."""
    if role.unit is None or role.unit.suffix != "pct" or any(mark in heading.casefold() for mark in ("%", "pct", "percent", "per cent")):  # fmt: skip
        return
    told = [value for value in values if not is_zero(value)]  # nothing of ten is nothing of a hundred
    if not told:
        return
    shown = tuple(f"  {quoted(value)} → {PER_CENT}: {value} %; 10: {value} of ten fruit" for value in told[:_SHOWN])  # fmt: skip
    asks = f"are these {PER_CENT}, or fruit of how many? “{PER_CENT}”, or a number"
    yield Question((*path, SHARE_OF), asks, (PER_CENT, ANY), shown, about=about, may=_counted)


def share_of(answers: Answers, path: Path_) -> float:
    """What a share is to be multiplied by to be one of a hundred."""
    said = str(answers.at((*path, SHARE_OF)) or "")
    return 100 / float(said) if _counted(said) else 1.0


def _counted(said: str) -> bool:
    return said.isdecimal() and 1 <= int(said) <= 9999
