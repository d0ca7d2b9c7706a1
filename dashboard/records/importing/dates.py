"""A cell, a title or a name of a sheet as a day: which number is the month, and what year it is, stands in the answers."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

from dashboard.records.advice import Said, date_fault
from dashboard.records.importing.lost_zeros import KEPT, LOST, doubtful, mended
from dashboard.records.problems import quoted

MONTH_FIRST, DAY_FIRST = "month/day", "day/month"
YEAR_FIRST = "year/month/day"
ORDERS = (MONTH_FIRST, DAY_FIRST, YEAR_FIRST)
FIRST = 1950  # nobody's records of trials are older (judgement)
RIGHT, SWAPPED = "right", "day and month exchanged"
FROM_1900, FROM_1904 = "from 1900", "from 1904"
DAY_OF_YEAR = "day of the year"  # 1 is January 1
WEEK_OF_YEAR = "week of the year"
WEEKS = {
    "right": 0,
    "a week earlier": -1,
    "a week later": 1,
}  # beside those of ISO 8601: people count them in several ways
_STARTS = {FROM_1900: date(1899, 12, 30), FROM_1904: date(1904, 1, 1)}
MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December")  # fmt: skip
# Whole names and their usual short forms. Others are asked about, however much they look like one of these.
_ENGLISH = {name[:cut].lower(): number for number, name in enumerate(MONTHS, 1) for cut in (3, len(name))} | {"sept": 9}  # fmt: skip
_NO_MONTHS = frozenset(("week", "wk", "pick", "day"))
_MONTH = rf"({'|'.join(sorted(_ENGLISH, key=len, reverse=True))})\.?(?![a-z])"
_WORD = r"([^\W\d_]{3,})\.?"
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ]\d{2}:\d{2}(?::\d{2})?)?")
_PACKED = re.compile(r"((?:19|20)\d{2})([01]\d)([0-3]\d)")
_WHOLE_YEAR_FIRST = re.compile(r"(\d{4})[/.](\d{1,2})[/.](\d{1,2})")
_NUMBERS = re.compile(r"(\d{1,2})[/.\-](\d{1,2})(?:[/.\-](\d{4}|\d{2}))?\.?")
_DAY_MONTH = re.compile(
    rf"(?:[^\W\d_]+[.,]*\s+)?(\d{{1,2}})(?:st|nd|rd|th)?\.?[\s\-]*(?:de\s+)?{_WORD}(?:[\s,\-]+(?:de\s+)?(\d{{4}}|\d{{2}}))?", re.I
)  # fmt: skip
_MONTH_DAY = re.compile(
    rf"(?:[^\W\d_]+[.,]*\s+)?{_WORD}[\s\-]*(\d{{1,2}})(?:st|nd|rd|th)?(?:[\s,\-]+(\d{{4}}|\d{{2}}))?", re.I
)
_OF_YEAR = re.compile(r"\d{1,3}(?:\.0+)?")
_SERIAL = re.compile(r"(\d{5})(?:\.\d+)?")
_NO_YEAR = ("has no year", "answer which year it is, or write it")
_WEEK = re.compile(r"(\d{4})-?W(\d{1,2})")
_WRITTEN = re.compile(r"\d{4}-\d{2}-\d{2}")  # as the records write it
_WEEK_SAID = re.compile(
    r"(?:week|wk|w)\.?\s*(?:no\.?\s*|#\s*)?(\d{1,2})(?:\s*(?:,|/|-|of)?\s*(\d{4}))?", re.I
)
_WEEK_IN_TEXT = re.compile(rf"\d{{4}}-?W\d{{1,2}}(?!\d)|(?<![a-z]){_WEEK_SAID.pattern}(?!\d)", re.I)
_IN_TEXT = re.compile(
    rf"\d{{4}}-\d{{1,2}}-\d{{1,2}}|\d{{4}}[/.]\d{{1,2}}[/.]\d{{1,2}}|\d{{1,2}}[/.]\d{{1,2}}(?:[/.](?:\d{{4}}|\d{{2}}))?"
    rf"|\d{{1,2}}(?:st|nd|rd|th)?\.?[\s\-]+(?:de\s+)?[^\W\d_]{{3,}}\.?,?\s+(?:de\s+)?\d{{4}}|\d{{1,2}}(?:st|nd|rd|th)?[\s\-]+{_MONTH}|{_MONTH}\s*\d{{1,2}}(?!\d)(?:st|nd|rd|th)?(?:,?\s+\d{{4}})?",
    re.I,
)


@dataclass(frozen=True)
class Calendar:
    """What the answers say of the dates of one column."""

    order: str = ""
    year: int | None = None  # of days that are written without one
    century: int | None = None  # of years of two figures
    cells: str = RIGHT  # what became of the day, where the cell holds a date and no text
    numbers: str = ""  # what numbers up to 366 are
    counted: str = ""  # from when days are counted that are numbers of five figures
    months: Mapping[str, int] = field(default_factory=dict)  # words of other languages, 0 for what is none
    weeks: int | None = None  # how many weeks theirs come after those of ISO 8601
    zeros: str = ""  # what days like 7.1 are


@dataclass(frozen=True)
class Asked:
    """What has to be known before the dates of a column can be read, each with cells that ask for it."""

    order: tuple[str, ...] = ()
    year: tuple[str, ...] = ()
    century: tuple[str, ...] = ()
    cells: tuple[str, ...] = ()
    numbers: tuple[str, ...] = ()
    months: tuple[tuple[str, str], ...] = ()  # word and the first cell that holds it
    of_year: tuple[str, ...] = ()
    weeks: tuple[str, ...] = ()

    @property
    def orders(self) -> tuple[str, ...]:
        """Which number may be the month: 6/11/24 does not begin with a year, and 16-07-05 may."""
        parts = [found.groups() for cell in self.order if (found := _NUMBERS.fullmatch(cell))]
        first = all(len(one) == 2 and last is not None and len(last) == 2 for one, _, last in parts)
        return ORDERS if first else ORDERS[:2]


def day(cell: str, how: Calendar) -> tuple[str, Said | None]:
    """The day as the records write it (2024-07-03, or a week of ISO 8601), or why it is none."""
    cell = " ".join(cell.split())
    if _WEEK.fullmatch(cell):
        return cell, None
    if found := _WEEK_SAID.fullmatch(cell):
        return _week(int(found[1]), int(found[2]) if found[2] else how.year, how)
    if found := _ISO.fullmatch(cell):
        year, month, of_month = map(int, found.groups())
        if how.cells == SWAPPED and of_month <= 12:
            month, of_month = of_month, month
        return _made(cell, year, month, of_month)
    if found := _PACKED.fullmatch(cell) or _WHOLE_YEAR_FIRST.fullmatch(cell):
        return _made(cell, *map(int, found.groups()))
    if how.zeros == LOST:
        cell = mended(cell, how.order == MONTH_FIRST)
    elif how.zeros not in ("", KEPT) and doubtful([cell], how.order == MONTH_FIRST):
        return "", ("may have lost a 0", "write the day like 2024-07-10")
    if found := _NUMBERS.fullmatch(cell):
        first, second = int(found[1]), int(found[2])
        if how.order not in ORDERS:
            return "", ("may be two days", "answer which number is the month")
        if how.order == YEAR_FIRST:  # 24-07-03
            return _made(cell, _year(found[1], how), second, int(found[3] or 0))
        month, of_month = (first, second) if how.order == MONTH_FIRST else (second, first)
        return _made(cell, _year(found[3], how), month, of_month)
    if named := _named(cell):
        day_said, word, year_said = named
        known = _ENGLISH.get(word, how.months.get(word))
        if known is None:
            return "", (
                f"has a month that is not known: {quoted(word)}",
                "answer which month it is, or write it in English",
            )
        return _made(cell, _year(year_said, how), known, day_said) if known else ("", date_fault(cell, True))
    if (found := _SERIAL.fullmatch(cell)) and how.counted in _STARTS:
        return (_STARTS[how.counted] + timedelta(days=int(found[1]))).isoformat(), None
    if _OF_YEAR.fullmatch(cell) and how.numbers == DAY_OF_YEAR:
        return _of_year(cell, how.year)
    if _OF_YEAR.fullmatch(cell) and how.numbers == WEEK_OF_YEAR:
        return _week(int(float(cell)), how.year, how)
    return "", date_fault(cell, True)


def _week(number: int, year: int | None, how: Calendar) -> tuple[str, Said | None]:
    if year is None:
        return "", _NO_YEAR
    if how.weeks is None:
        return "", ("is a week that is counted in several ways", "answer which days it has")
    try:
        meant = date.fromisocalendar(year, number, 4) + timedelta(weeks=how.weeks)
    except ValueError:
        return "", ("is not a week of that year", "correct the week or the year")
    return f"{meant.isocalendar()[0]}-W{meant.isocalendar()[1]:02}", None


def _of_year(cell: str, year: int | None) -> tuple[str, Said | None]:
    if year is None:
        return "", _NO_YEAR
    meant = date(year, 1, 1) + timedelta(days=int(float(cell)) - 1)
    return (meant.isoformat(), None) if meant.year == year else ("", ("is not a day of that year", "correct the day or the year"))  # fmt: skip


def days_of(week: str) -> str:
    """2024-07-01 to 2024-07-07 of 2024-W27."""
    first = date.fromisocalendar(int(week[:4]), int(week.rpartition("W")[2]), 1)
    return f"{first} to {first + timedelta(days=6)}"


def outside(text: str, days: tuple[date, date]) -> bool:
    """Whether a day, or the Thursday of a week, is not of these days; what is no day is not."""
    if found := _WEEK.fullmatch(text):
        try:
            day = date.fromisocalendar(int(found[1]), int(found[2]), 4)
        except ValueError:
            return False
    elif _WRITTEN.fullmatch(text):
        day = date.fromisoformat(text)
    else:
        return False
    return not days[0] <= day <= days[1]


def asked(cells: Iterable[str], held: Collection[str] = ()) -> Asked:
    """What the cells of one column leave open; ``held``: those that hold a date, where the others hold a text."""
    found: dict[str, list[str]] = {
        name: [] for name in ("order", "year", "century", "numbers", "of_year", "held", "weeks")
    }
    months: dict[str, str] = {}
    texts_past_twelve = False
    for cell in map(" ".join, (cell.split() for cell in cells)):
        if iso := _ISO.fullmatch(cell):
            if cell in held and int(iso[3]) <= 12 and int(iso[2]) != int(iso[3]):
                found["held"].append(cell)
        elif week := _WEEK_SAID.fullmatch(cell):
            found["weeks"].append(cell)
            _by_year(found, week[2], cell)
        elif numbers := _NUMBERS.fullmatch(cell):
            found["order"].append(cell)
            texts_past_twelve |= max(int(numbers[1]), int(numbers[2])) > 12
            _by_year(found, numbers[3], cell)
        elif named := _named(cell):
            _by_year(found, named[2], cell)
            if named[1] not in _ENGLISH:
                months.setdefault(named[1], cell)
        elif (serial := _SERIAL.fullmatch(cell)) and 20000 <= int(serial[1]) <= 60000:
            found["numbers"].append(cell)
        elif _OF_YEAR.fullmatch(cell) and 1 <= float(cell) <= 366:
            found["of_year"].append(cell)
            found["year"].append(cell)
    # A spreadsheet of another country takes 3/7 for March and leaves 25/7 as text: then its date cells are wrong.
    held = tuple(found["held"]) if texts_past_twelve and found["held"] else ()
    return Asked(
        tuple(found["order"]), tuple(found["year"]), tuple(found["century"]), held, tuple(found["numbers"]), tuple(months.items()), tuple(found["of_year"]), tuple(found["weeks"])
    )  # fmt: skip


def _named(cell: str) -> tuple[int, str, str | None] | None:
    """Day of the month, the word for the month, and the year as it is written, of a day whose month is a word."""
    if found := _DAY_MONTH.fullmatch(cell):
        of_month, word, year = found.groups()
    elif found := _MONTH_DAY.fullmatch(cell):
        word, of_month, year = found.groups()
    else:
        return None
    word = word.casefold()
    return None if word in _NO_MONTHS else (int(of_month), word, year)


def heads_day(cell: str) -> bool:
    """Whether a heading is a day or a week, as Jul 3, 7/3, 2024-07-03 or week 27: a number beside a word that is no English month is a fruit's."""
    cell = " ".join(cell.split())
    if any(form.fullmatch(cell) for form in (_ISO, _WEEK, _PACKED, _WHOLE_YEAR_FIRST)):
        return True
    if said := _WEEK_SAID.fullmatch(cell):
        return bool(said[2]) or cell.casefold().startswith(("week", "wk"))
    if numbers := _NUMBERS.fullmatch(cell):
        first, second = sorted(map(int, numbers.groups()[:2]))
        year_first = bool(numbers[3]) and len(numbers[3]) == 2
        told = bool(numbers[3]) or "/" in cell or cell.endswith(".")  # 7.5 and 1-5 may be figures
        return told and 0 < first <= 12 and (second <= 31 or year_first)
    named = _named(cell)
    return named is not None and named[1] in _ENGLISH


def in_text(text: str) -> str:
    """The one date that stands in a title, else the one week; "" where there is none, or several."""
    found = [match[0] for match in _IN_TEXT.finditer(text)] or week_in(text)
    return found[0] if len(found) == 1 else ""


def week_in(text: str) -> list[str]:
    """Weeks that stand in a title, as Week 27 or 2024-W27."""
    return [match[0] for match in _WEEK_IN_TEXT.finditer(text)]


def year_in(text: str, century: int | None = None) -> int | None:
    """The one year that stands in a name of a file or sheet; with a ``century`` also one of two figures, like 98."""
    if century is not None and (two := two_figures(text)):
        year = 100 * century + int(two)
        return year if FIRST <= year <= 2100 else None  # 00 beside 98 is of another century
    found = set(re.findall(r"(?<!\d)(?:19|20)\d{2}(?!\d)", text))
    return int(found.pop()) if len(found) == 1 else None


def two_figures(text: str) -> str:
    """The year of two figures that a name of a sheet or file is, like 98 or '98; "" where it is none."""
    found = re.fullmatch(r"\s*['’]?(\d{2})\s*(?:\.\w{3,4})?", text)
    return found[1] if found else ""


def of_two_figures(two: str) -> int | None:
    """The one year that ends so and can have had a trial: from FIRST to the next; None where there is none."""
    years = (100 * century + int(two) for century in (19, 20)) if two else ()
    return next((year for year in years if FIRST <= year <= date.today().year + 1), None)


def named_year(name: str, century: int | None = None) -> int | None:
    """The year of a sheet or file that is named by it, in four figures or in two; None where none is, or it may be several."""
    return year_in(name, century) or of_two_figures(two_figures(name))


def _by_year(found: dict[str, list[str]], year: str | None, cell: str) -> None:
    if year is None:
        found["year"].append(cell)
    elif len(year) == 2 and of_two_figures(year) is None:
        found["century"].append(cell)


def _year(written: str | None, how: Calendar) -> int | None:
    if written is None:
        return how.year
    if len(written) == 4:
        return int(written)
    return of_two_figures(written) if how.century is None else 100 * how.century + int(written)


def _made(cell: str, year: int | None, month: int, of_month: int) -> tuple[str, Said | None]:
    if year is None:
        return "", _NO_YEAR
    try:
        return date(year, month, of_month).isoformat(), None
    except ValueError:
        return "", ("is not a day of the calendar", "correct the month or the day")
