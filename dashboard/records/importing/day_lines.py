"""What is asked of days as lines of one list: the answer that alone can be right stands there with the day it makes, to be looked at; of
several each with its own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from dashboard.records.importing import dates
from dashboard.records.importing.figures import SET_ASIDE
from dashboard.records.importing.kinds import to_confirm
from dashboard.records.importing.mapping import Question
from dashboard.records.problems import listed, quoted

KINDS = ("order", "day_numbers", "counted_from", "year")  # the others need more than a line
_MOST = 3  # years of sheets that are named


def line(one: Question, cells: Sequence[str], years: Mapping[str, Sequence[int | None]], name: str) -> Question:  # fmt: skip
    """The question as a line; ``cells``: those it is asked of, ``years``: by the places where the year may stand those that stand there."""
    kind = str(one.path[-1])
    if kind == "year":
        alone, told = _of_year(years)
        cell = cells[0]
    elif kind == "order":
        cell = max(cells, key=lambda cell: _apart(cell, one.options))
        fits = [order for order in one.options if all(_read(some, _how(kind, order)) for some in cells)]
        alone, told = _one_of(fits), {order: day(cell, _how(kind, order)) for order in one.options}
    else:
        cell = cells[0]
        words = [word for word in one.options if word != SET_ASIDE]
        told = {word: _numbered(cell, word) for word in words}
        come = [word for word in words if not told[word][:4] > f"{date.today().year}" or word == dates.DAY_OF_YEAR]  # fmt: skip
        alone = _one_of(come)
    one = replace(one, line=("", name, quoted(cell)), becomes="; ".join(f"{word}: {said}" for word, said in told.items()))  # fmt: skip
    return to_confirm(one, alone, f"{told[alone]} ({alone})") if alone else one


def day(cell: str, how: dates.Calendar) -> str:
    """The day that a cell is, as a list shows it: without a year where it has none."""
    text = _read(cell, how)
    return (_of_month(text) if text and dates.asked([cell]).year else text) or "no day"


def _of_month(day: str) -> str:
    return f"{dates.MONTHS[int(day[5:7]) - 1][:3]} {int(day[8:])}" if day else "no day"


def _read(cell: str, how: dates.Calendar) -> str:
    text, said = dates.day(cell, how)
    return text if said is None else ""


def _how(kind: str, word: str) -> dates.Calendar:
    return replace(dates.Calendar(year=2024, century=20), order=word) if kind == "order" else dates.Calendar(counted=word)  # fmt: skip


def _apart(cell: str, orders: Sequence[str]) -> int:
    """How many months lie between the days that a cell would be: the further, the more it tells."""
    months = [int(text[5:7]) for order in orders if (text := _read(cell, _how("order", order)))]
    return max(months) - min(months) if len(months) > 1 else -1


def _numbered(cell: str, word: str) -> str:
    if word not in (dates.DAY_OF_YEAR, dates.WEEK_OF_YEAR):
        return day(cell, _how("", word))
    if word == dates.WEEK_OF_YEAR:
        return f"week {cell}"
    ordinary, leap = (
        _of_month(dates.day(cell, dates.Calendar(year=year, numbers=word))[0]) for year in (2023, 2024)
    )
    return f"{ordinary}, in a leap year {leap}"


def _of_year(years: Mapping[str, Sequence[int | None]]) -> tuple[str, dict[str, str]]:
    """The place whose years are those of the days, where no other says otherwise; and by place its years."""
    known = {where: [year for year in some if year] for where, some in years.items() if some and all(some)}
    told = {where: listed(list(dict.fromkeys(map(str, some)))[:_MOST]) for where, some in known.items()}
    say = {tuple(some) for some in known.values()}
    past = all(year <= date.today().year for some in known.values() for year in some)
    return (next(iter(known)) if len(say) == 1 and past else ""), told


def _one_of(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else ""
