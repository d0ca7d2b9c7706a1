"""Figures of one sheet that stand as far from the others as another unit would put them: that sheet is asked about by itself.

An answer holds for a heading in all sheets, and next week's: also where somebody read another gauge. The factors are those of the units; how
far seasons differ is common practice, no source. What is left after the answers is flagged.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
import pandas as pd

from dashboard.records.importing.cheeks import figures_in
from dashboard.records.importing.facts import Facts
from dashboard.records.importing.figures import How, figure
from dashboard.records.importing.kinds import DOUBTED, to_confirm
from dashboard.records.importing.layouts import Layout, by_page, by_word, role_of
from dashboard.records.importing.ledger import Ledger, parts_of
from dashboard.records.importing.mapping import Answers, Path_, Question
from dashboard.records.importing.measures import MEASURED, UNIT_OF, possible, unit_of, units_shown
from dashboard.records.importing.pages import Page
from dashboard.records.importing.roles import READINGS, ROLES, Role, unit_meant
from dashboard.records.importing.together import APART
from dashboard.records.importing.trial import Trial
from dashboard.records.problems import quoted

FEWEST = 20  # figures of a sheet, and of all others
_FEW = 8  # different figures of a sheet, from which on its middle says something
_FAR = 4.0  # times apart, which is told by as few; nearer it takes FEWEST


@dataclass(frozen=True)
class _Figures:
    """The figures of one sheet under one heading, ``middle`` in SI as their unit was answered."""

    path: Path_
    heading: str
    about: str
    page: Page
    cells: list[str]
    role: Role
    unit: str
    middle: float
    count: int


def asked_units(layouts: Sequence[Layout], answers: Answers, trial: Trial) -> Iterator[Question]:
    """One a sheet and heading that stands as far from the trial as another unit would put it; in a new trial, from the first sheet."""
    for role in (ROLES[name] for name in READINGS if ROLES[name].units):
        found = [one for layout in layouts for one in _figures(layout, role, answers)]
        standing = trial.frames["fruit"][role.column.name].dropna().to_numpy(dtype=float)
        first = next((one for one in found if one.count >= _FEW), None)
        if len(standing) >= FEWEST:
            there, beside = float(np.median(standing)), "the trial"
        elif first is not None:
            there, beside = first.middle, first.page.name
        else:
            continue
        for one in found:
            if _by_itself(one, found, answers) or not _exchanged(one, there):
                continue
            times = (
                f"{one.middle / there:.1f} times" if one.middle > there else f"1/{there / one.middle:.1f} of"
            )
            asks = f"read as {one.unit} these figures are {times} those of {beside}; in which unit are they?"
            raw = one.middle / role.units[one.unit].to_si(1.0)
            shown, told = units_shown(one.cells, role), possible(one.cells, role)
            question = Question(
                (*one.path, UNIT_OF, one.page.name), asks, tuple(role.units), shown, about=one.about, figures=(raw,), other_word=partial(unit_meant, role=role),
                alike=(DOUBTED, one.page.name, MEASURED[role.column.quantity]), line=("", one.heading, quoted(one.cells[0])),
                becomes=shown[0].partition(" → ")[2] if shown else "",
            )  # fmt: skip
            yield to_confirm(question, told[0], role.units[told[0]].symbol) if len(told) == 1 else question


def _by_itself(one: _Figures, found: Sequence[_Figures], answers: Answers) -> bool:
    """Whether somebody has said the unit of this sheet alone."""
    if answers.at((*one.path, UNIT_OF, one.page.name)) is not None:
        return True
    sheets = sum(other.path == one.path and other.page.file == one.page.file for other in found)
    return isinstance(answers.at((*one.path, "unit")), dict) and sheets == 1


def _exchanged(one: _Figures, there: float) -> bool:
    """Whether another unit would bring a sheet nearer to the others, from which it is too far in its own."""
    if not one.middle > 0 < there or one.count < _FEW:
        return False
    apart = abs(np.log(one.middle / there))
    own = one.role.units[one.unit].to_si(1.0)
    nearest = min(abs(np.log(one.middle / own * unit.to_si(1.0) / there)) for name, unit in one.role.units.items() if name != one.unit)  # fmt: skip
    return bool(apart >= np.log(APART if one.count >= FEWEST else _FAR) and nearest < apart)


def _figures(layout: Layout, role: Role, answers: Answers) -> Iterator[_Figures]:
    """By page, of every heading or word of a row that was said to be this reading, with a unit."""
    for label, heading in layout.headings.items():
        said = role_of(layout, label, answers)
        if said == (role.name, True):
            about = f"{label}, column {heading.letters}"
            yield from _by_page(layout.column(label), label, about, by_page(layout, label), role, answers)
    for word, found in by_word(layout, answers).items():
        path = ("layout", layout.number, "readings", word)
        if answers.at((*path, "is")) == role.name:
            yield from _by_page(path, word, f"rows {quoted(word)}", found, role, answers)


def _by_page(path: Path_, heading: str, about: str, found: Mapping[Page, list[str]], role: Role, answers: Answers) -> Iterator[_Figures]:  # fmt: skip
    decimal = str(answers.at((*path, "decimals")) or ".")
    for page, cells in found.items():
        unit = unit_of(answers, path, page)
        if unit not in role.units:
            continue
        how = How(role, unit, decimal)
        told = [
            float(text)
            for held in cells
            for cell in figures_in(held, role)
            if (text := figure(cell, how).text)
        ]
        values = np.array([value for value in told if value > 0])
        middle = float(role.units[unit].to_si(np.median(values))) if len(values) else 0.0
        yield _Figures(path, heading, f"{about}, {page.name}", page, cells, role, unit, middle, len(values))


def suspect_units(parts: Sequence[Facts], trial: Trial, ledger: Ledger) -> None:
    """Flag, at its first cell, a reading of a sheet whose middle is far from that of the trial and of the other sheets."""
    whole = pd.concat([part.facts[["role", "value", "code"]] for part in parts]) if parts else pd.DataFrame()
    if not len(whole):
        return
    whole["page"] = parts_of(whole["code"].to_numpy(dtype=np.int64))[0]
    for name, role in ROLES.items():
        ours = whole[(whole["role"] == name).to_numpy()]
        if not role.units or role.table != "fruit" or not len(ours):
            continue
        standing = trial.frames["fruit"][role.column.name].dropna().to_numpy(dtype=float)
        for page, some in ours.groupby("page"):
            others = np.concatenate([standing, ours["value"][(ours["page"] != page).to_numpy()]])
            if len(some) < FEWEST or len(others) < FEWEST:
                continue
            here, there = float(some["value"].median()), float(np.median(others))
            if here > 0 and there > 0 and max(here / there, there / here) >= APART:
                times = f"{here / there:.1f} times" if here > there else f"1/{there / here:.1f} of"
                rule = f"begins figures of {name} in this sheet that are {times} those of the trial and the other sheets"
                ledger.flag(int(some["code"].iloc[0]), rule, "look whether they were read in another unit")
