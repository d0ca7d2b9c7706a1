"""Which number is the month, which year, which century: asked where the cells leave it open, with what they would become."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from dashboard.records.importing import dates
from dashboard.records.importing.figures import SET_ASIDE
from dashboard.records.importing.mapping import ANY, Answers, Path_, Question
from dashboard.records.importing.pages import Page
from dashboard.records.problems import quoted

SHEET, FILE = "sheet name", "file name"
MONTHS_PART = "months"  # of the mapping: words for months, one answer for all sheets
SHOWN = 3  # cells beside a question
NO_DAY = "no day"
DATE_CELLS = "date_cells"  # an answer a file: another machine made the others
DAY_ANSWERS = ("order", "year", "century", "day_numbers")  # the last steps of where they stand


def asked_dates(
    path: Path_,
    about: str,
    by_file: Mapping[str, list[str]],
    held: Mapping[str, list[str]],
    year: tuple[object, Mapping[str, list[str]]] = (None, {}),
    place: str = "",
) -> Iterator[Question]:
    """What has to be known before these cells can be read as days; ``held``: those of them that hold a date and no text, by file too;
    ``year``: what was answered of the year, and the names it may stand in, by SHEET and FILE; ``place``: the files, of which several columns
    may be asked about at once."""
    open_ = dates.asked(dict.fromkeys(cell for cells in by_file.values() for cell in cells))
    for word, cell in open_.months:
        asks = f"which month is {quoted(word)}?"
        yield Question(
            (MONTHS_PART, word), asks, (*dates.MONTHS, SET_ASIDE), (f"  {quoted(cell)}",), about=about
        )
    how = dates.Calendar(year=2024, century=20)
    counted = dates.Calendar(year=2023, numbers=dates.DAY_OF_YEAR)
    if open_.order:
        shown = tuple(
            f"  {quoted(cell)} → " + "; ".join(f"{order}: {_day(cell, replace(how, order=order))}" for order in open_.orders)
            for cell in open_.order[:SHOWN]
        )  # fmt: skip
        fits = [
            one
            for one in open_.orders
            if all(_day(cell, replace(how, order=one)) != NO_DAY for cell in open_.order)
        ]
        alike = (
            "order",
            fits[0] if len(fits) == 1 else place,
        )  # where one of them alone gives days, it is no other in the next file
        yield Question((*path, "order"), "which number is the month?", open_.orders, shown, about=about, alike=alike, line=("", about, shown[0].strip()))  # fmt: skip
    if open_.of_year:
        shown = tuple(
            f"  {quoted(cell)} → {dates.DAY_OF_YEAR}: {_day(cell, counted)[5:]} (month-day), in a leap year {_day(cell, replace(counted, year=2024))[5:]}"
            for cell in open_.of_year[:SHOWN]
        )
        asks = "these are numbers; which days are they?"
        yield Question((*path, "day_numbers"), asks, (dates.DAY_OF_YEAR, SET_ASIDE), shown, about=about, alike=("day_numbers", place), line=("", about, shown[0].strip()))  # fmt: skip
    if open_.year:
        shown = tuple(f"  {quoted(cell)}" for cell in open_.year[:SHOWN])
        told = {where: [_year_told(name) for name in names] for where, names in year[1].items()}
        shown += tuple(f"  {where} → {', '.join(some[:SHOWN])}" for where, some in told.items() if all(some))
        yield Question(
            (*path, "year"),
            "which year are these days of?",
            (*(where for where in (FILE, SHEET) if all(told.get(where, ["unknown"]))), ANY),
            shown,
            about=about,
            may=lambda said: said.isdigit() and 1950 <= int(said) <= 2100,
            alike=("year", place),
            line=("", about, shown[0].strip()),
        )
    short = [name for name in year[1].get(str(year[0]), ()) if dates.two_figures(name)] if open_.year else []
    if open_.century or short:
        shown = tuple(f"  {quoted(cell)}" for cell in (*open_.century, *short)[:SHOWN])
        yield Question(
            (*path, "century"),
            "which century are these years of? 20 for 2024",
            ("20", "19"),
            shown,
            about=about,
            alike=("century", place),
            line=("", about, shown[0].strip()),
        )
    for file, cells in by_file.items():
        if doubted := dates.asked(cells, held.get(file, ())).cells:
            exchanged = replace(how, cells=dates.SWAPPED)
            shown = tuple(
                f"  {quoted(cell)} → {dates.RIGHT}: {_day(cell, how)}; {dates.SWAPPED}: {_day(cell, exchanged)}"
                for cell in doubted[:SHOWN]
            )
            asks = "others in this file are text, like a date of another country; are the cells that hold dates right?"
            yield Question((*path, DATE_CELLS, file), asks, (dates.RIGHT, dates.SWAPPED), shown, about=f"{about}, {file}", alike=("date_cells", file), line=("", about, shown[0].strip()))  # fmt: skip
    if open_.numbers and not open_.of_year:
        shown = tuple(
            f"  {quoted(cell)} → "
            + "; ".join(
                f"{start}: {_day(cell, dates.Calendar(numbers=start))}"
                for start in (dates.FROM_1900, dates.FROM_1904)
            )
            for cell in open_.numbers[:SHOWN]
        )
        yield Question(
            (*path, "day_numbers"),
            "these are days by number; from when are they counted?",
            (dates.FROM_1900, dates.FROM_1904, SET_ASIDE),
            shown,
            about=about,
            alike=("day_numbers", place),
            line=("", about, shown[0].strip()),
        )


def _year_told(name: str) -> str:
    """The year of a name as a question shows it; "" where there is none."""
    two = dates.two_figures(name)
    return (
        " or ".join(str(year) for of in (19, 20) if (year := dates.year_in(name, of)))
        if two
        else str(dates.year_in(name) or "")
    )


def _day(cell: str, how: dates.Calendar) -> str:
    text, said = dates.day(cell, how)
    return text if said is None else NO_DAY


def calendar(path: Path_, answers: Answers, page: Page) -> dates.Calendar:
    """What was answered about the dates under ``path``, for one page."""
    said = {name: answers.at((*path, name)) for name in (*DAY_ANSWERS, DATE_CELLS)}
    held = said[DATE_CELLS]
    century = int(str(said["century"])) if str(said["century"]).isdigit() else None
    year = said["year"]
    if year in (SHEET, FILE):
        year = dates.year_in(page.sheet if year == SHEET else page.file, century)
    known = int(str(year)) if str(year).isdigit() else None
    return dates.Calendar(
        str(said["order"] or ""),
        known,
        century,
        str(held.get(page.file) or dates.RIGHT) if isinstance(held, Mapping) else dates.RIGHT,
        str(said["day_numbers"] or ""),
        {word: dates.MONTHS.index(name) + 1 if (name := str(said)) in dates.MONTHS else 0 for word in answers.part(MONTHS_PART) if (said := answers.at((MONTHS_PART, word))) is not None},
    )  # fmt: skip
