"""Days that stand better with the other number as the month: that file is asked about by itself, before anything of it is read.

One answer holds for all files of a shape, and for next week's. A file that somebody else typed may have day and month the other way round, and
each of 4/7 and 8/7 is a day either way. How far apart the days of one season lie is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from dashboard.records.importing import dates
from dashboard.records.importing.across import days_of
from dashboard.records.importing.asked_dates import FILE, ORDER_OF, SHEET, SHOWN, calendar, order_shown
from dashboard.records.importing.asked_titles import title_role
from dashboard.records.importing.layouts import Layout, by_page, role_of
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.mapping import Answers, Path_, Question
from dashboard.records.importing.pages import Page
from dashboard.records.importing.trial import Trial
from dashboard.records.problems import quoted

_YEAR = 365
_SEASON, _NEAR = (
    60,
    30,
)  # days that lie further apart are doubted; days this near to others are not (judgement)
_OTHER = {dates.MONTH_FIRST: dates.DAY_FIRST, dates.DAY_FIRST: dates.MONTH_FIRST}


@dataclass(frozen=True)
class _Days:
    """The cells of one file under one heading, title or name that hold days, and how they are read as it was answered."""

    path: Path_
    about: str
    file: str
    cells: list[str]
    how: dates.Calendar

    def read(self, order: str = "") -> tuple[np.ndarray, int]:
        """Days of the year of cells that leave open which number is the month, and how many are no day."""
        told = [dates.day(cell, replace(self.how, order=order or self.how.order, century=self.how.century or 20, year=self.how.year or 2024)) for cell in dates.asked(self.cells).order]  # fmt: skip
        return of_the_year(text for text, said in told if said is None), sum(said is not None for _, said in told)  # fmt: skip

    @property
    def sure(self) -> np.ndarray:
        """Days of the year of cells that are a day in one way alone."""
        if self.how.cells == dates.SWAPPED:  # of some of them
            return of_the_year([])
        told = [dates.day(cell, replace(self.how, order="")) for cell in self.cells]
        return of_the_year(text for text, said in told if said is None)


def asked_orders(layouts: Sequence[Layout], answers: Answers, trial: Trial) -> Iterator[Question]:
    """One a file whose days fit the other order alone, or far better."""
    found = [days for layout in layouts for days in _days(layout, answers)]
    standing = of_the_year(trial.frames["samples"]["date"].dropna().dt.strftime("%Y-%m-%d"))
    sure = np.concatenate([standing, *(days.sure for days in found)])
    for days in found:
        told = _doubt(days, sure) if days.how.order in _OTHER else ""
        if told and answers.at((*days.path, ORDER_OF, days.file)) is None:
            cells = list(dates.asked(days.cells).order)[:SHOWN]
            asks = f"{told}; which number is the month in this file?"
            yield Question((*days.path, ORDER_OF, days.file), asks, tuple(_OTHER), order_shown(cells, tuple(_OTHER)), about=days.about)  # fmt: skip


def suspect_orders(
    layouts: Sequence[Layout], pages: Sequence[Page], answers: Answers, ledger: Ledger
) -> None:
    """Flag, at its first cell, a column of days some of which are none as they were read and are some the other way: others may be, too."""
    number = {id(page): place for place, page in enumerate(pages)}
    for layout in layouts:
        for days in (one for one in _days(layout, answers) if one.path[2] == "columns" and one.how.order in _OTHER):  # fmt: skip
            ways = {cell: [replace(days, cells=[cell]).read(order) for order in (days.how.order, _OTHER[days.how.order])] for cell in dates.asked(days.cells).order}  # fmt: skip
            lost = [cell for cell, ((_, gone), (_, other)) in ways.items() if gone and not other]
            open_ = {cell for cell, ((here, _), (there, _)) in ways.items() if len(here) and len(there) and here[0] != there[0]}  # fmt: skip
            if lost and open_:
                rule = f"is read as {days.how.order}, and {quoted(lost[0])} beside it is a day as {_OTHER[days.how.order]} alone"  # fmt: skip
                code = next(iter(_cells(layout, days, open_, number, ledger)))
                ledger.flag(code, rule, "look whether day and month of this one and others are exchanged")


def _cells(layout: Layout, days: _Days, texts: Collection[str], number: Mapping[int, int], ledger: Ledger) -> Iterator[int]:  # fmt: skip
    """The cells of a file under the heading of these days that hold one of some texts."""
    for block in layout.blocks:
        column = next(one.columns[0][1] for one in block.headings if one.label == days.path[3])
        if block.page.file == days.file:
            rows = block.rows[np.isin(block.page.cells[block.rows, column].astype(str), list(texts))]
            yield from ledger.codes(number[id(block.page)], rows, column).tolist()


def _doubt(days: _Days, sure: np.ndarray) -> str:
    """Why the other order is likelier; "" where it is not."""
    order = days.how.order
    (here, lost), (other, gone) = days.read(), days.read(_OTHER[order])
    if lost or gone or not len(here):
        return f"some of these days are none with {order}" if lost and not gone else ""
    span, less = span_of(here), span_of(other)
    if span > _SEASON and 2 * less < span:
        return f"with {order} these days lie {span} days apart, else {less}"
    if len(sure) and (away := _away(here, sure)) > _SEASON and _away(other, sure) <= _NEAR:
        return f"with {order} these days are {away} days from all others"
    return ""


def span_of(days: np.ndarray) -> int:
    """The shortest stretch of the year that holds all these days; a season may go over its end."""
    around = np.sort(np.unique(days))
    return int(_YEAR - np.diff(np.append(around, around[0] + _YEAR)).max())


def _away(days: np.ndarray, others: np.ndarray) -> int:
    """How far the nearest of some days lies from the nearest of others."""
    apart = np.abs(days[:, None] - others) % _YEAR
    return int(np.minimum(apart, _YEAR - apart).min())


def of_the_year(texts: Iterable[str]) -> np.ndarray:
    """(n,) 1 to 365 of days as the records write them; a week or a year alone is left out."""
    days = np.array([text for text in dict.fromkeys(texts) if len(text) == 10], dtype="datetime64[D]")
    return ((days - days.astype("datetime64[Y]")).astype(int)) % _YEAR + 1


def _days(layout: Layout, answers: Answers) -> Iterator[_Days]:
    """By file what stands under the heading of days, in titles, or in names that were said to hold the day."""
    for label, heading in layout.headings.items():
        if role_of(layout, label, answers) == ("date", True):
            told = f"{label}, column {heading.letters}"
            yield from _by_file(layout.column(label), told, by_page(layout, label), answers)
    for key in layout.titles:
        if title_role(layout, key, answers) == "date":
            said = {block.page: [dates.in_text(str(block.page.cells[row, column]))] for block in layout.blocks for one, row, column in block.titles if one == key}  # fmt: skip
            yield from _by_file(layout.title(key), "the title", said, answers)
    yield from _by_file(layout.days, "the headings", days_of(layout.blocks), answers)
    if (fixed := answers.at(("layout", layout.number, "fixed", "date"))) in (SHEET, FILE):
        names = {block.page: [dates.in_text(block.page.sheet if fixed == SHEET else block.page.file)] for block in layout.blocks}  # fmt: skip
        yield from _by_file(("layout", layout.number, "fixed_date"), str(fixed), names, answers)


def _by_file(path: Path_, told: str, found: dict[Page, list[str]], answers: Answers) -> Iterator[_Days]:
    for file in dict.fromkeys(page.file for page in found):
        cells = [cell for page, some in found.items() if page.file == file for cell in some if cell]
        page = next(page for page in found if page.file == file)
        yield _Days(path, f"{told}, {file}", file, list(dict.fromkeys(cells)), calendar(path, answers, page))
