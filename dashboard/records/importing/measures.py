"""Units and scales: always asked for, units file by file where the files disagree as two units do, scales year by year."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from dashboard.records.declaration import Scale
from dashboard.records.importing.cheeks import figures_in
from dashboard.records.importing.dates import year_in
from dashboard.records.importing.figures import How, figure
from dashboard.records.importing.mapping import ANY, Answers, Path_, Question
from dashboard.records.importing.pages import Page
from dashboard.records.importing.roles import Role, offered
from dashboard.records.problems import quoted

APART = 1.8  # times as large, in the middle of a file: seasons differ less, units more (judgement)
FEWEST = 8  # different figures of a file, from which on its middle and its ends say something
UNIT_OF = "unit_of"  # an answer a sheet, beside the one for all: somebody read another gauge
SCALE_OF, BY_SHEET = "scale_of", "sheet by sheet"
_SHOWN = 3
_SCALE = re.compile(r"(-?\d+(?:\.\d+)?)\s*(?:to|-|–)\s*(-?\d+(?:\.\d+)?)\s*,?\s*(-?\d+(?:\.\d+)?)\s*best")
SCALE_WRITTEN = "LOW to HIGH, BEST best, for example 0 to 10, 10 best"


def asked_unit(
    path: Path_, about: str, heading: str, by_file: Mapping[str, list[str]], role: Role, answers: Answers
) -> Iterator[Question]:
    """The unit of a column, where it may be in several and its heading does not say."""
    if not role.units:
        return
    here = (*path, "unit")
    stated = offered(heading.rpartition(" 1–")[0] or heading)[1]
    if stated and answers.at(here) is None:
        answers.put(here, stated)
    asks = "in which unit?"
    shown = units_shown(_figures_first(by_file), role)
    split = _apart(by_file) and not isinstance(answers.at(here), str)
    yield from _by_file(here, about, asks, tuple(role.units), shown, list(by_file), split, answers)


def unit_of(answers: Answers, path: Path_, page: Page) -> str:
    """The unit of the figures of one page under ``path``; "" where none was said."""
    own = answers.at((*path, UNIT_OF, page.name))
    return str(own or said_of(answers.at((*path, "unit")), page.file) or "")


def units_shown(cells: Sequence[str], role: Role) -> tuple[str, ...]:
    """Cells beside what they would be in each unit."""
    return tuple(f"  {quoted(cell)} → " + "; ".join(told) for cell in cells[:_SHOWN] if (told := _in_each(cell, role)))  # fmt: skip


def asked_scale(
    path: Path_, about: str, by_page: Mapping[Page, list[str]], answers: Answers
) -> Iterator[Question]:
    """The ends of a rating scale, and which of them is most desirable: of each year, as scales change from one to the next."""
    here = (*path, "scale")
    groups = {"": list(by_page)} if isinstance(answers.at(here), str) else _on_one_scale(by_page)
    if "" not in groups and not isinstance(answers.at(here), dict):
        answers.put(here, {})
    for key, pages in groups.items():
        ends = {page.name: _numbers(by_page[page]) for page in pages}
        shown = tuple(
            f"  {name}: from {one.min():g} to {one.max():g}" for name, one in ends.items() if len(one)
        )
        asks = f"on which scale? {SCALE_WRITTEN}"
        where, told = ((*here, key), f"{about}, {key}") if key else (here, about)
        words = (BY_SHEET, ANY) if len(pages) > 1 else ()
        yield Question(where, asks, words, shown, about=told, may=_is_scale)
        for page in pages if answers.at(where) == BY_SHEET else ():
            one = f"{about}, {page.name}"
            yield Question((*path, SCALE_OF, page.name), asks, (), (), about=one, may=_is_scale)


def scale_for(answers: Answers, path: Path_, page: Page) -> Scale | None:
    """The scale of a page: its own, or that of its year, or the one of all."""
    answer = answers.at((*path, "scale"))
    if isinstance(answer, dict):
        answer = answer.get(page.name) or answer.get(_year(page))
    return scale_of(answers.at((*path, SCALE_OF, page.name)) if answer == BY_SHEET else answer)


def _on_one_scale(by_page: Mapping[Page, list[str]]) -> dict[str, list[Page]]:
    """The pages that are asked about together, by year; "" where nothing parts any. Those whose ends differ are asked one by one."""
    years: dict[str, list[Page]] = {}
    for page in by_page:
        years.setdefault(_year(page), []).append(page)
    found: dict[str, list[Page]] = {}
    for year, pages in years.items():
        ends = [one for page in pages if len(one := _numbers(by_page[page]))]
        if _other_ends(ends) or (not year and len(years) > 1):
            found |= {page.name: [page] for page in pages}
        else:
            found[year] = pages
    return found


def _year(page: Page) -> str:
    """The one year in the name of the sheet or file, or of the cells that hold dates; "" where there is none."""
    named = year_in(page.sheet) or year_in(page.file)
    years = {str(page.cells[cell])[:4] for cell in page.days} if not named else {str(named)}
    return years.pop() if len(years) == 1 else ""


def scale_of(said: object) -> Scale | None:
    """The scale of an answer; None where it is none."""
    found = _SCALE.fullmatch(str(said).strip())
    if not found:
        return None
    low, high, best = (float(part) for part in found.groups())
    return Scale(low, high, best) if low < high and best in (low, high) else None


def _is_scale(said: str) -> bool:
    return scale_of(said) is not None


def said_of(answer: object, file: str) -> object:
    """An answer that may differ from file to file."""
    return answer.get(file) if isinstance(answer, dict) else answer


def _by_file(
    here: Path_,
    about: str,
    asks: str,
    options: tuple[str, ...],
    shown: tuple[str, ...],
    files: list[str],
    split: bool,
    answers: Answers,
) -> Iterator[Question]:
    """One question, or one a file where the files disagree or were answered one by one."""
    said = answers.at(here)
    if not split and not isinstance(said, dict):
        yield Question(here, asks, options, shown, about=about)
        return
    if not isinstance(said, dict):
        answers.put(here, {})
    for file in files:
        told = f"{asks} The files differ as two units do, so each is asked about."
        yield Question((*here, file), told, options, shown, about=f"{about}, {file}")


def _in_each(cell: str, role: Role) -> list[str]:
    told, cell = [], figures_in(cell, role)[0]
    for suffix, unit in role.units.items():
        number = figure(cell, How(role, suffix, decimal=",")).text
        if number:
            si = next(iter(role.column.spellings.values()))
            told.append(f"{suffix}: {unit.to_si(float(number)):.4g} {si.symbol if si else ''}".strip())
    return told


def _figures_first(by_file: Mapping[str, list[str]]) -> list[str]:
    values = list(dict.fromkeys(value for values in by_file.values() for value in values))
    return sorted(values, key=lambda value: not any(letter.isnumeric() for letter in value))


def _numbers(values: list[str]) -> np.ndarray:
    found = []
    for value in values:
        try:
            found.append(float(value.replace(",", ".")))
        except ValueError:
            continue
    return np.array(found)


def _apart(by_file: Mapping[str, list[str]]) -> bool:
    middles = [
        float(np.median(one))
        for values in by_file.values()
        if len(one := _numbers(values)) >= FEWEST and np.median(one) > 0
    ]
    return len(middles) > 1 and max(middles) / min(middles) >= APART


def _other_ends(found: list[np.ndarray]) -> bool:
    """Whether some files never leave 1 to 5 or 0 to 10 and others do."""
    tops = [float(one.max()) for one in found]
    return len(tops) > 1 and any(min(tops) <= end < max(tops) for end in (5, 10))
