"""Which number is the month, which year, which century: asked where the cells leave it open, with what they would become."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from dashboard.records.importing import dates, day_lines
from dashboard.records.importing.blocks import Block
from dashboard.records.importing.figures import SET_ASIDE
from dashboard.records.importing.kinds import DAYS
from dashboard.records.importing.lost_zeros import KEPT, LOST, LOST_ZERO, doubtful
from dashboard.records.importing.mapping import ANY, Answers, Path_, Question
from dashboard.records.importing.pages import Page
from dashboard.records.problems import quoted

SHEET, FILE = "sheet name", "file name"
MONTHS_PART = "months"  # of the mapping: words for months, one answer for all sheets
SHOWN = 3  # cells beside a question
NO_DAY = "no day"
_HOW = dates.Calendar(year=2024, century=20)  # that cells are shown by
DATE_CELLS = "date_cells"  # an answer a file: another machine made the others
ORDER_OF = "order_of"  # an answer a file, beside the one for all: somebody else typed it
YEAR_OF, BY_FILE = "year_of", "file by file"
OVER = "  Do these days go over New Year? Then one year is wrong for some: write the years beside the days first."
COLUMN = "column "  # before the heading of the column that holds the year
DAY_ANSWERS = (
    "order",
    "year",
    "century",
    "day_numbers",
    "counted_from",
    "weeks",
    LOST_ZERO,
)  # the last steps of where they stand


def called(page: Page, where: str) -> str:
    """The name of the sheet or of the file, as one of both was said to tell something of all rows."""
    return page.sheet if where == SHEET else page.stem


def asked_dates(
    path: Path_,
    about: str,
    by_file: Mapping[str, list[str]],
    held: Mapping[str, list[str]],
    answers: Answers,
    names: Mapping[str, list[str]] | None = None,
    place: str = "",
    name: str = "",
) -> Iterator[Question]:
    """What has to be known before these cells can be read as days; ``held``: those of them that hold a date and no text, by file too;
    ``names``: those the year may stand in, by SHEET and FILE; ``place``: the files, of which several columns may be asked about at once;
    ``name``: what a list calls them."""
    name = name or about
    every = list(dict.fromkeys(cell for cells in by_file.values() for cell in cells))
    years = {where: [dates.named_year(text) for text in some] for where, some in (names or {}).items()}
    for one in _asked(path, about, by_file, held, answers, names or {}):
        kind = str(one.path[-1]) if one.path[-1] in DAY_ANSWERS else ""
        if not kind or not place:
            yield one
        elif kind in day_lines.KINDS and OVER not in one.shown:
            yield replace(day_lines.line(one, _open(kind, every), years, name), alike=(DAYS, kind, place))
        else:
            yield replace(one, alike=(kind, place), line=("", name, one.shown[0].strip() if one.shown else ""))  # fmt: skip


def _open(kind: str, cells: Sequence[str]) -> Sequence[str]:
    """Of all cells those that leave this open."""
    found = dates.asked(cells)
    return (
        found.order if kind == "order" else found.year if kind == "year" else found.of_year or found.numbers
    )


def _asked(
    path: Path_, about: str, by_file: Mapping[str, list[str]], held: Mapping[str, list[str]], answers: Answers, names: Mapping[str, list[str]]
) -> Iterator[Question]:  # fmt: skip
    year = str(answers.at((*path, "year")) or "")
    open_ = dates.asked(dict.fromkeys(cell for cells in by_file.values() for cell in cells))
    for word, cell in open_.months:
        asks = f"which month is {quoted(word)}?"
        yield Question(
            (MONTHS_PART, word), asks, (*dates.MONTHS, SET_ASIDE), (f"  {quoted(cell)}",), about=about
        )
    how = _HOW
    counted = dates.Calendar(year=2023, numbers=dates.DAY_OF_YEAR)
    if open_.order:
        each = [dates.asked(cells).order[:SHOWN] for cells in by_file.values()]
        cells = list(dict.fromkeys(one[place] for place in range(SHOWN) for one in each if place < len(one)))
        asks = "which number is the month?"  # a cell of each file comes first
        yield Question((*path, "order"), asks, open_.orders, order_shown(cells[:SHOWN], open_.orders), about=about)  # fmt: skip
    order = str(answers.at((*path, "order")) or "")
    if order and (lost := doubtful(open_.order, order == dates.MONTH_FIRST)):
        both = [replace(_HOW, order=order, zeros=zeros) for zeros in (KEPT, LOST)]
        shown = tuple(f"  {quoted(cell)} → {KEPT}: {_day(cell, both[0])}; {LOST}: {_day(cell, both[1])}" for cell in lost[:SHOWN])  # fmt: skip
        asks = "a spreadsheet shows a day typed as 7.10 as 7.1; which are these?"
        yield Question((*path, LOST_ZERO), asks, (KEPT, LOST, SET_ASIDE), shown, about=about)
    if open_.of_year:
        shown = tuple(
            f"  {quoted(cell)} → {dates.DAY_OF_YEAR}: {_day(cell, counted)[5:]} (month-day), in a leap year {_day(cell, replace(counted, year=2024))[5:]}"
            for cell in open_.of_year[:SHOWN]
        )
        asks = "these are numbers; which days are they?"
        few = all(float(cell) <= 53 for cell in open_.of_year)
        words = (dates.DAY_OF_YEAR, *([dates.WEEK_OF_YEAR] if few else []), SET_ASIDE)
        yield Question((*path, "day_numbers"), asks, words, shown, about=about)
    if open_.year:
        shown = tuple(f"  {quoted(cell)}" for cell in open_.year[:SHOWN])
        told = {where: [_year_told(name) for name in some] for where, some in names.items()}
        shown += tuple(f"  {where} → {', '.join(some[:SHOWN])}" for where, some in told.items() if all(some))
        months = {
            int(day[5:7]) for cell in open_.year if (day := _day(cell, replace(_HOW, order=order))) != NO_DAY
        }
        if min(months, default=12) <= 4 and max(months, default=1) >= 10:
            shown += (OVER,)
        yield Question(
            (*path, "year"),
            "which year are these days of?",
            (*(where for where in (*told, *(one for one in (FILE, SHEET) if one not in told)) if all(told.get(where, ["unknown"]))), *([BY_FILE] if len(by_file) > 1 else []), ANY),
            shown,
            about=about,
            may=_is_year,
        )  # fmt: skip
        for file, cells in by_file.items() if year == BY_FILE else ():
            if some := dates.asked(cells).year:
                shown = tuple(f"  {quoted(cell)}" for cell in some[:SHOWN])
                yield Question((*path, YEAR_OF, file), "which year are these days of?", (), shown, about=f"{about}, {file}", may=_is_year)  # fmt: skip
    weeks = open_.weeks or open_.of_year * (answers.at((*path, "day_numbers")) == dates.WEEK_OF_YEAR)
    if weeks and (year or not open_.year):
        of = year if year.isdigit() else str(dates.year_in(next(iter(names.get(year, ())), "")) or 2024)
        shown = tuple(f"  {quoted(cell)} → " + "; ".join(_week_told(cell, int(of), said) for said in dates.WEEKS) for cell in weeks[:SHOWN])  # fmt: skip
        asks = "which days does such a week have? “right” is the week of ISO 8601, from Monday to Sunday"
        yield Question((*path, "weeks"), asks, (*dates.WEEKS, SET_ASIDE), shown, about=about)
    short = [name for name in names.get(year, ()) if dates.two_figures(name) and not dates.named_year(name)] if open_.year else []  # fmt: skip
    if open_.century or short:
        shown = tuple(f"  {quoted(cell)}" for cell in (*open_.century, *short)[:SHOWN])
        yield Question(
            (*path, "century"),
            "which century are these years of? 20 for 2024",
            ("20", "19"),
            shown,
            about=about,
        )
    for file, cells in by_file.items():
        if doubted := dates.asked(cells, held.get(file, ())).cells:
            exchanged = replace(how, cells=dates.SWAPPED)
            shown = tuple(
                f"  {quoted(cell)} → {dates.RIGHT}: {_day(cell, how)}; {dates.SWAPPED}: {_day(cell, exchanged)}"
                for cell in doubted[:SHOWN]
            )
            asks = "others in this file are text, like a date of another country; are the cells that hold dates right?"
            yield Question((*path, DATE_CELLS, file), asks, (dates.RIGHT, dates.SWAPPED), shown, about=f"{about}, {file}")  # fmt: skip
    if open_.numbers:
        shown = tuple(
            f"  {quoted(cell)} → "
            + "; ".join(
                f"{start}: {_day(cell, dates.Calendar(counted=start))}"
                for start in (dates.FROM_1900, dates.FROM_1904)
            )
            for cell in open_.numbers[:SHOWN]
        )
        yield Question(
            (*path, "counted_from" if open_.of_year else "day_numbers"),
            "these are days by number; from when are they counted?",
            (dates.FROM_1900, dates.FROM_1904, SET_ASIDE),
            shown,
            about=about,
        )


def year_columns(blocks: Sequence[Block]) -> dict[str, list[str]]:
    """By heading the years of a column that holds nothing else."""
    found = {}
    for heading in blocks[0].headings if blocks else ():
        parts = [block.page.cells[block.rows, one.columns[0][1]] for block in blocks for one in block.headings if one.label == heading.label]  # fmt: skip
        years = [str(cell) for part in parts for cell in dict.fromkeys(part) if cell]
        if not heading.wide and years and all(map(_is_year, years)):
            found[f"{COLUMN}{heading.label}"] = list(dict.fromkeys(years))
    return found


def year_column(block: Block, said: object) -> int | None:
    """The column that holds the year of each row, where that was answered."""
    return next((one.columns[0][1] for one in block.headings if said == f"{COLUMN}{one.label}"), None)


def _is_year(said: str) -> bool:
    return said.isdigit() and dates.FIRST <= int(said) <= 2100


def _year_told(name: str) -> str:
    """The year of a name as a question shows it; "" where there is none."""
    return str(dates.named_year(name) or "")


def _week_told(cell: str, year: int, said: str) -> str:
    how = dates.Calendar(year=year, numbers=dates.WEEK_OF_YEAR, weeks=dates.WEEKS[said])
    text, fault = dates.day(cell, how)
    return f"{said}: no week" if fault else f"{said}: {dates.days_of(text)}"


def order_shown(cells: Sequence[str], orders: Sequence[str]) -> tuple[str, ...]:
    """Cells beside the day that each would be."""
    how = dates.Calendar(year=2024, century=20)
    return tuple(
        f"  {quoted(cell)} → " + "; ".join(f"{order}: {_day(cell, replace(how, order=order))}" for order in orders)
        for cell in cells
    )  # fmt: skip


def _day(cell: str, how: dates.Calendar) -> str:
    text, said = dates.day(cell, how)
    return text if said is None else NO_DAY


def calendar(path: Path_, answers: Answers, page: Page) -> dates.Calendar:
    """What was answered about the dates under ``path``, for one page."""
    said = {name: answers.at((*path, name)) for name in (*DAY_ANSWERS, DATE_CELLS)}
    order = answers.at((*path, ORDER_OF, page.file)) or said["order"]
    held = said[DATE_CELLS]
    century = int(str(said["century"])) if str(said["century"]).isdigit() else None
    year = said["year"]
    if year == BY_FILE:
        year = answers.at((*path, YEAR_OF, page.file))
    if year in (SHEET, FILE):
        year = dates.named_year(page.sheet if year == SHEET else page.file, century)
    known = int(str(year)) if str(year).isdigit() else None
    return dates.Calendar(
        str(order or ""),
        known,
        century,
        str(held.get(page.file) or dates.RIGHT) if isinstance(held, Mapping) else dates.RIGHT,
        str(said["day_numbers"] or ""),
        str(said["counted_from"] or said["day_numbers"] or ""),
        months={word: dates.MONTHS.index(name) + 1 if (name := str(meant)) in dates.MONTHS else 0 for word in answers.part(MONTHS_PART) if (meant := answers.at((MONTHS_PART, word))) is not None},
        weeks=dates.WEEKS.get(str(said["weeks"])),
        zeros=str(said[LOST_ZERO] or ""),
    )  # fmt: skip
