"""Units and scales: always asked for, units file by file where the files disagree as two units do, scales year by year."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

import numpy as np

from dashboard.records.declaration import Scale
from dashboard.records.importing.cheeks import figures_in
from dashboard.records.importing.dates import year_in
from dashboard.records.importing.figures import How, figure, missing_codes
from dashboard.records.importing.kinds import SCALE_WRITTEN, SCALES, UNITS, to_confirm
from dashboard.records.importing.layouts import role_of
from dashboard.records.importing.mapping import ANY, Answers, Path_, Question
from dashboard.records.importing.pages import Page
from dashboard.records.importing.roles import ERRORS, ROLES, SPREAD_OF, Role, offered, unit_meant, unit_stated
from dashboard.records.importing.seen import Seen, numbers, seen_in
from dashboard.records.importing.together import APART
from dashboard.records.problems import quoted
from dashboard.terms.units import UNITS as UNITS_TOLD

FEWEST = 8  # different figures of a file, from which on its middle and its ends say something
UNIT_OF = "unit_of"  # an answer a sheet, beside the one for all: somebody read another gauge
SCALE_OF, BY_SHEET = "scale_of", "sheet by sheet"
_SHOWN = 3
# Of scales that are often used: what stays below one may be on another scale than what goes beyond it.
_ENDS = (5, 10)
_FUZZ = "; fuzz often runs the other way"
MEASURED = {"length": "diameters", "force": "firmness", "temperature": "temperature of the juice"}
_SPREADS = {*ERRORS, *ERRORS.values()}  # an error or a deviation says nothing of the unit by its size
_SCALE = re.compile(
    r"(-?\d+(?:\.\d+)?)\s*(?:to|-|–)\s*(-?\d+(?:\.\d+)?)\s*,?\s*(?:(-?\d+(?:\.\d+)?)\s*(?:is\s+)?best|best\s*(?:is\s+)?(-?\d+(?:\.\d+)?))"
)


def asked_unit(seen: Seen, role: Role, answers: Answers) -> Iterator[Question]:
    """The unit of a column, where it may be in several and its heading does not say: of each sheet where they differ as two units do."""
    if not role.units:
        return
    here = (*seen.path, "unit")
    heading = seen.heading.rpartition(" 1–")[0] or seen.heading
    stated = offered(heading)[1] or unit_stated(heading, role)
    if stated and answers.at(here) is None:
        answers.put(here, stated)
    mean = _mean_of(seen, role, answers)
    by_page = {page: cells for page, cells in seen.by_page.items() if cells}
    beside = seen_in(seen.layout, mean).by_page if mean else by_page
    said = answers.at(here)
    said = said if isinstance(said, dict) or said in role.units else None
    one_of = partial(_of_unit, seen=seen, role=role, mean=mean, answers=answers)
    pages = {(*seen.path, UNIT_OF, page.name): (page, cells) for page, cells in by_page.items()}
    if isinstance(said, str):  # a sheet that cannot be in it is another's
        yield Question(here, "in which unit?", tuple(role.units), alike=_alike(role, seen.layout.where), figures=_middle(seen.values, role))  # fmt: skip
        pages = {path: (page, cells) for path, (page, cells) in pages.items() if answers.at(path) is None and _refused(cells, role, said)}  # fmt: skip
    elif not said and not _said_by_page(seen.path, answers) and not _apart(beside):
        yield one_of(here, by_page=seen.by_page, where=seen.layout.where)
        return
    for path, (page, cells) in pages.items():
        if answers.at(path) is not None or isinstance(said, str) or not said_of(said, page.file):
            yield one_of(path, by_page={page: cells}, where=page.name)


def _alike(role: Role, where: str) -> tuple[str, ...]:
    return (UNITS, where, MEASURED.get(role.column.quantity, role.column.quantity))


def _of_unit(path: Path_, by_page: Mapping[Page, list[str]], where: str, seen: Seen, role: Role, mean: str, answers: Answers) -> Question:  # fmt: skip
    """One of these pages, or of all of them; a deviation is in the unit of its mean, and goes with it."""
    cells = _figures_first([cell for some in by_page.values() for cell in some])
    shown = units_shown(cells, role)
    about = seen.about if where == seen.layout.where else f"{seen.heading}, {where}"
    question = Question(
        path, "in which unit?", tuple(role.units), shown, about=about, alike=_alike(role, where),
        line=(seen.letters, seen.heading, quoted(cells[0]) if cells else ""), other_word=partial(unit_meant, role=role),
        refuses=partial(_refused, cells, role), becomes=shown[0].partition(" → ")[2] if shown else "",
    )  # fmt: skip
    of = {page: some for page, some in seen_in(seen.layout, mean).by_page.items() if page in by_page} if mean else by_page  # fmt: skip
    figures = [cell for some in of.values() for cell in some]
    question = replace(question, figures=_middle(figures, role))
    if mean:
        units = {unit_of(answers, seen.layout.column(mean), page) for page in by_page}
        measured = ROLES[next(name for name, spreads in SPREAD_OF.items() if role.name in spreads.values())]
    else:
        units, measured = {""}, role
    sole = [*units] if "" not in units else possible(figures, measured)
    return to_confirm(question, sole[0], UNITS_TOLD[sole[0]].symbol) if len(sole) == 1 else question


def _mean_of(seen: Seen, role: Role, answers: Answers) -> str:
    """The heading of the mean that a deviation is of; "" where there is none."""
    means = [mean for mean, spreads in SPREAD_OF.items() if role.name in spreads.values()]
    return next(
        (label for label in seen.layout.headings if role_of(seen.layout, label, answers)[0] in means), ""
    )


def _said_by_page(path: Path_, answers: Answers) -> bool:
    """Whether the unit of single sheets was answered before that of all was."""
    return answers.at((*path, "unit")) is None and bool(answers.at((*path, UNIT_OF)))


def units_said(shapes: Iterable[int], answers: Answers) -> dict[str, str]:
    """Of layouts by column the one unit that all sheets use; where they use several, that of the records."""
    found: dict[str, set[str]] = {}
    for number in shapes:
        tables = answers.layouts[number]
        for part in ("columns", "readings"):
            for said in tables.get(part, {}).values():
                role = ROLES.get(str(said.get("is", "")))
                for unit in (said.get("unit"), said.get(UNIT_OF)):
                    if role and unit:
                        units = unit.values() if isinstance(unit, dict) else [unit]
                        found.setdefault(role.column.name, set()).update(map(str, units))
    found.setdefault("firmness_n", found.get("firmness_1_n", set()))  # of what lies past the end of the gauge
    return {name: next(iter(units)) for name, units in found.items() if len(units) == 1}


def possible(cells: Sequence[str], role: Role) -> list[str]:
    """The units in which most of these figures could be fruit."""
    return [unit for unit in role.units if not _refused(cells, role, unit)]


def _refused(cells: Sequence[str], role: Role, unit: str) -> str:
    """Why the cells cannot be in this unit: most of them could be no fruit."""
    known, bounds, si = role.units.get(unit), role.column.refuse, role.unit
    if known is None or bounds is None or si is None or role.name in _SPREADS:
        return ""
    read = [figure(figures_in(cell, role)[0], How(role, unit, decimal=",")).text for cell in cells]
    values = np.array([known.to_si(float(text)) for text in read if text])
    if len(values) < FEWEST or np.mean((values < bounds[0]) | (values > bounds[1])) <= 0.5:
        return ""
    return (
        f"most of these figures cannot be in {unit}: a fruit has {bounds[0]:g} to {bounds[1]:g} {si.symbol}."
    )


def unit_of(answers: Answers, path: Path_, page: Page) -> str:
    """The unit of the figures of one page under ``path``; "" where none was said."""
    own = answers.at((*path, UNIT_OF, page.name))
    return str(own or said_of(answers.at((*path, "unit")), page.file) or "")


def units_shown(cells: Sequence[str], role: Role) -> tuple[str, ...]:
    """Cells beside what they would be in each unit."""
    return tuple(f"  {quoted(cell)} → " + "; ".join(told) for cell in cells[:_SHOWN] if (told := _in_each(cell, role)))  # fmt: skip


def asked_scale(seen: Seen, role: Role, answers: Answers) -> Iterator[Question]:
    """The ends of a rating scale, and which of them is most desirable: of each year, as scales change from one to the next."""
    here, about, by_page = (*seen.path, "scale"), seen.about, seen.by_page
    groups = {"": list(by_page)} if isinstance(answers.at(here), str) else _on_one_scale(by_page)
    if "" not in groups and not isinstance(answers.at(here), dict):
        answers.put(here, {})
    for key, pages in groups.items():
        ends = {page.name: _rated(by_page[page]) for page in pages}
        shown = tuple(
            f"  {name}: from {one.min():g} to {one.max():g}" for name, one in ends.items() if len(one)
        )
        asks = f"on which scale? {SCALE_WRITTEN}"
        where, told = ((*here, key), f"{about}, {key}") if key else (here, about)
        words = (BY_SHEET, ANY) if len(pages) > 1 else ()
        every = np.concatenate([*ends.values(), np.array([])])
        question = Question(where, asks, words, shown, about=told, may=_is_scale)
        yield _in_list(question, seen.heading or seen.layout.where, key or seen.layout.files, role, every)
        for page in pages if answers.at(where) == BY_SHEET else ():
            question = Question((*seen.path, SCALE_OF, page.name), asks, about=f"{about}, {page.name}", may=_is_scale)  # fmt: skip
            yield _in_list(question, seen.heading or page.name, page.name, role, ends[page.name])


def _in_list(question: Question, name: str, where: str, role: Role, values: np.ndarray) -> Question:
    """With what a list says of a rating: its ends, by which those of one scale stand together."""
    low, high = (float(values.min()), float(values.max())) if len(values) else (0.0, 0.0)
    told = f"from {low:g} to {high:g}" + (_FUZZ if role.name == "fuzz" else "")
    return replace(question, alike=(SCALES, where, str(sum(high > end for end in _ENDS))), line=("", name, told), figures=(low, high))  # fmt: skip


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
        ends = [one for page in pages if len(one := _rated(by_page[page]))]
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
    low, high, best = (float(part) for part in found.groups() if part)
    return Scale(low, high, best) if low < high and best in (low, high) else None


def _is_scale(said: str) -> bool:
    return scale_of(said) is not None


def said_of(answer: object, file: str) -> object:
    """An answer that may differ from file to file."""
    return answer.get(file) if isinstance(answer, dict) else answer


def _in_each(cell: str, role: Role) -> list[str]:
    """What a cell would be in each unit in which it could be fruit; in all of them where it is none in any."""
    told, sound, cell = [], [], figures_in(cell, role)[0]
    bounds = role.column.refuse
    for suffix, unit in role.units.items():
        number = figure(cell, How(role, suffix, decimal=",")).text
        if number:
            si = next(iter(role.column.spellings.values()))
            value = unit.to_si(float(number))
            told.append(f"{suffix}: {value:.4g} {si.symbol if si else ''}".strip())
            sound += told[-1:] if bounds is None or bounds[0] <= value <= bounds[1] else []
    return sound or told


def _figures_first(cells: Iterable[str]) -> list[str]:
    return sorted(dict.fromkeys(cells), key=lambda value: not any(letter.isnumeric() for letter in value))


def _rated(values: list[str]) -> np.ndarray:
    """The ratings, without what may be a code for none."""
    codes = missing_codes(values)
    return numbers(value for value in values if value not in codes)


def _apart(by_page: Mapping[Page, list[str]]) -> bool:
    middles = [
        float(np.median(one))
        for values in by_page.values()
        if len(one := numbers(values)) >= FEWEST and np.median(one) > 0
    ]
    return len(middles) > 1 and max(middles) / min(middles) >= APART


def _other_ends(found: list[np.ndarray]) -> bool:
    """Whether some files never leave 1 to 5 or 0 to 10 and others do."""
    tops = [float(one.max()) for one in found]
    return len(tops) > 1 and any(min(tops) <= end < max(tops) for end in _ENDS)


def _middle(cells: list[str], role: Role) -> tuple[float, ...]:
    """The middle of all figures as they are written, those with fractions too; nothing where none is one."""
    texts = [figure(cell, How(role, "in", decimal=",")).text for cell in cells]
    found = [value for text in texts if text and (value := abs(float(text))) > 0]
    return (float(np.median(found)),) if found else ()
