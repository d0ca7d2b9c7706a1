"""Sheets into a trial: open, find, ask, read, join, write, and say what became of every filled cell."""

from __future__ import annotations

import traceback
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

import numpy as np
import pandas as pd

from dashboard.records.all_or_none import OWN, changed_since, go_on
from dashboard.records.came_from import CAME, with_cells
from dashboard.records.causes import gathered
from dashboard.records.importing.across import by_day
from dashboard.records.importing.aside import NAME, Corrections, corrected, read_corrections, write_aside
from dashboard.records.importing.beside import parted
from dashboard.records.importing.blocks import Block, blocks
from dashboard.records.importing.changed import LOG, with_changes
from dashboard.records.importing.doubts import suspect
from dashboard.records.importing.facts import facts
from dashboard.records.importing.first_days import of_days, refused, to_begin_with
from dashboard.records.importing.grouped import together
from dashboard.records.importing.instruments import declared_anew, declared_of, of_the_trial
from dashboard.records.importing.joined import Joined, joined
from dashboard.records.importing.kinds import COLUMNS, READINGS
from dashboard.records.importing.layouts import Layout, layouts
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.mapping import Answers, MappingError, Question, read_answers, write_answers
from dashboard.records.importing.measures import units_said
from dashboard.records.importing.merged import Merged, merged
from dashboard.records.importing.naming import name_questions
from dashboard.records.importing.order_doubt import asked_orders
from dashboard.records.importing.ours import ours
from dashboard.records.importing.outcome import Outcome, left_open, odd_now, report, with_before
from dashboard.records.importing.overruled import OVERRULED, overruled_in, with_overruled
from dashboard.records.importing.pages import ENCODINGS, Opened, Page, opened
from dashboard.records.importing.questions import of_layouts
from dashboard.records.importing.rescaled import rescaled
from dashboard.records.importing.right import Said, chosen, left_to_say, newest
from dashboard.records.importing.roles import NOT_USED, NUMBER, ROLES, WHICH
from dashboard.records.importing.rows import keyed
from dashboard.records.importing.together import Ask
from dashboard.records.importing.trial import (
    INTO,
    Trial,
    TrialError,
    opened_trial,
    with_rows,
    write_into,
)
from dashboard.records.importing.unit_doubt import asked_units
from dashboard.records.problems import Problem, quoted
from dashboard.records.report import written
from dashboard.records.uncollected import uncollected

MAPPING = "mapping.toml"
WORDS = (*ROLES, NUMBER, WHICH, NOT_USED)


@uncollected()
def bring_in(
    files: Sequence[Path],
    folder: Path,
    answers_file: Path | None = None,
    ask: Ask | None = None,
    said: Mapping[str, str] | None = None,
    who: str = "",
    same: set[tuple[str, str, str]] | None = None,
) -> Outcome:
    """Read the sheets of ``files`` into the trial of ``folder``; with a question open nothing is read.

    Answers are kept in ``answers_file``, or in ``importing/mapping.toml`` of the trial. ``said``: by name what holds of values that differ
    (``right``), in place of what is kept there; without it what stands is kept until somebody says otherwise. ``who`` brings them in, for the
    log. ``same`` is filled with the places of the trial where the sheets say what stands. OSError where something cannot be written. Whatever
    else goes wrong is told in a sentence.
    """
    place = answers_file or folder / OWN / MAPPING
    names = [path.name for path in files]
    if twice := [name for name in dict.fromkeys(names) if names.count(name) > 1]:
        return Outcome(f"{twice[0]}: two files have this name; rename one, so that they can be told apart.", 1)  # fmt: skip
    try:
        answers = read_answers(place)
    except MappingError as fault:
        return Outcome(str(fault), 1)
    written_into: list[Path] = []
    try:
        left = changed_since(go_on(folder))
        outcome = _brought_in(
            files, folder, place, answers, ask, written_into, Said(said, who, same, newest(files))
        )
        return with_before(left, outcome)
    except OSError:
        raise
    except TrialError as fault:
        return Outcome(str(fault), 1)
    except Exception as fault:  # a fault of ours takes nobody's records or answers with it
        if answers.layouts:
            write_answers(place, answers, words=WORDS)
        frame = traceback.extract_tb(fault.__traceback__)[-1]
        where = f"{type(fault).__name__} in {Path(frame.filename).name}, line {frame.lineno}"
        what = f"see with  orchard-slate check {folder}  what of it stands there" if written_into else f"nothing was written into {folder}, and your answers are kept"  # fmt: skip
        return Outcome(f"The import met a fault of its own ({where}); {what}. Bring the files one by one to see which it is.", 1)  # fmt: skip


def _brought_in(
    files: Sequence[Path], folder: Path, place: Path, answers: Answers, ask: Ask | None, written_into: list[Path], said: Said
) -> Outcome:  # fmt: skip
    begun = _begun(files, folder, answers, said)
    if not begun.found.pages:
        lines = [written(gathered(begun.problems))] if begun.problems else []
        return Outcome("\n".join([*lines, "Nothing was read, and nothing was written."]), 1, problems=begun.problems)  # fmt: skip
    told: list[str] = []
    while True:
        tables, questions = _found(begun, answers)
        shapes = layouts([block for block in tables if block.headings], answers)
        questions += of_layouts(shapes, answers)
        questions += [*asked_orders(shapes, answers, begun.trial), *asked_units(shapes, answers, begun.trial)]
        questions += of_the_trial(begun.trial, shapes, answers)
        questions += [one for one in name_questions(shapes, answers, begun.trial) if answers.at(one.path) is None]  # fmt: skip
        questions = list({one.path: one for one in reversed(questions)}.values())[::-1]  # a word once
        early = to_begin_with(questions)
        days_open = any(map(of_days, questions))
        refusal, seasons = ("", ()) if days_open else refused(shapes, begun.pages, answers, begun.trial)
        if refusal:
            return Outcome(refusal, 1, seasons=seasons)
        told += [f"{layout.where}: another shape than before: {layout.changed}; it is asked about anew." for layout in shapes if layout.changed]  # fmt: skip
        if not questions or ask is None or not _asked(early or questions, ask, answers):
            break
        if begun.found.unknown:
            begun = _begun(files, folder, answers, said)
    if questions:
        questions = [question for question in questions if not question.takes(answers.at(question.path))]
        return _put_off(place, questions, answers, list(dict.fromkeys(told)), begun.problems)
    if shapes:
        write_answers(place, answers, words=WORDS)
    trial = replace(begun.trial, declaration=declared_of(begun.trial, answers))
    result = _read(shapes, begun.pages, answers, begun.ledger, trial)
    begun.ledger.settle()
    if begun.ledger.differing and not said.right:
        again = partial(_asked, ask=ask, answers=answers) if ask is not None and said.kept else None
        right = chosen(begun.ledger, said.given(answers), begun.corrections, said.newest, again)
        if right is None:
            return _put_off(place, said.open(begun.ledger, answers), answers, [], begun.problems)
        if right:  # all is read once more, with what is right now
            return _brought_in(files, folder, place, answers, ask, written_into, replace(said, right=right))
    came = any(len(part.rows) for parts in (begun.ours.coming, result.coming) for part in parts.values())
    written_into.append(folder)
    if came or not trial.new:  # tables of nothing would be no trial
        beside = declared_anew(begun.trial, trial.declaration) if came else {}
        if cells := [one for one in (*begun.ours.cells, result.cells) if len(one)]:
            beside[CAME] = with_cells(folder, begun.ledger.placed(pd.concat(cells)))
        if begun.ledger.overrules:
            beside[OVERRULED] = with_overruled(folder, begun.ledger.overrules)
        if begun.ledger.replaced:
            beside[LOG] = with_changes(folder, begun.ledger.replaced, said.who)
        units = begun.ours.units | units_said((layout.number for layout in shapes), answers)
        write_into(trial, result.coming, units, beside)
    waits = folder / OWN / NAME, write_aside(folder / OWN / NAME, begun.ledger, begun.corrections)
    unsaid = left_to_say(begun.ledger, answers, said)
    if unsaid is not None:
        write_answers(place, answers, unsaid, WORDS)
    odd = odd_now(folder, begun.stood, begun.ledger) if came or begun.ledger.replaced else []
    scales = rescaled(shapes, answers, trial.declaration)
    return report(folder, waits, begun.problems, begun.ours, result, begun.ledger, odd, scales)


def _put_off(
    place: Path, questions: list[Question], answers: Answers, told: list[str], problems: list[Problem]
) -> Outcome:
    for question in questions:
        answers.ask(question)
    write_answers(place, answers, questions, WORDS)
    return left_open(place, questions, told, problems)


@dataclass
class _Begun:
    """What the files hold before a question is asked: our own tables are in the trial already, which is not written yet."""

    found: Opened
    pages: list[Page]
    strange: list[Page]  # those that somebody has to be asked about
    trial: Trial
    ledger: Ledger
    ours: Merged
    corrections: Corrections
    problems: list[Problem]
    stood: dict[str, int]  # rows of each table before anything came in


def _begun(files: Sequence[Path], folder: Path, answers: Answers, said: Said) -> _Begun:
    """TrialError where nothing can come into the trial."""
    corrections, problems = read_corrections(folder / OWN / NAME)
    found = opened(files, answers.part("encoding"))
    pages, unused, stale = corrected(found.pages, corrections)
    pages, unused = parted(pages, unused)
    problems += [*found.problems, *stale]
    ledger = Ledger(pages, unused, said.right)
    ledger.overruled = overruled_in(folder)
    ledger.same = said.same
    trial = opened_trial(folder)
    mine = ours(pages, {path.name: path for path in files}, trial, ledger)
    more = {part.sheet.table for part in mine.tables}.difference(INTO)
    if more:
        trial = opened_trial(folder, (*INTO, *more))
    stood = {name: len(cells) for name, cells in trial.cells.items()}
    came = Merged()
    if mine.tables and mine.declaration:
        trial = replace(trial, declaration=mine.declaration, said=True)
        came = merged(mine.tables, trial, ledger)
        trial = with_rows(trial, came.coming, came.units)
    strange = [page for place, page in enumerate(pages) if place not in mine.places]
    return _Begun(found, pages, strange, trial, ledger, came, corrections, problems, stood)


def _found(begun: _Begun, answers: Answers) -> tuple[list[Block], list[Question]]:
    """The blocks of all pages, and what is to be asked of pages without headings and of files in an unknown encoding."""
    tables: list[Block] = []
    questions = [
        Question(("encoding", file), "the text is not UTF-8; in which of these is it right?", ENCODINGS, tuple(f"  {line}" for line in lines), about=file)
        for file, lines in begun.found.unknown.items()
    ]  # fmt: skip
    for page in begun.strange:
        if page.file in begun.found.unknown:  # its headings and names are not known before
            continue
        said = answers.at(("headings_in_row", page.name))
        if str(said) == NOT_USED:
            continue
        rows = np.flatnonzero(page.rows == (int(str(said)) if str(said).isdigit() else -1))
        here = by_day(blocks(page, int(rows[0])) if len(rows) else blocks(page))
        tables += here
        if not here:
            shown = tuple(f"  row {page.rows[row]}: {quoted('; '.join(cell for cell in page.cells[row] if cell))}" for row in range(min(6, len(page.cells))))  # fmt: skip
            asks = f"no row of headings was found; which row is it? A number, or “{NOT_USED}”"
            line = ("", page.name, shown[0].strip() if shown else "")
            questions.append(
                Question(
                    ("headings_in_row", page.name),
                    asks,
                    (),
                    shown,
                    about=page.name,
                    alike=("headings",),
                    line=line,
                )
            )
    return tables, questions


def _asked(questions: Sequence[Question], ask: Ask, answers: Answers) -> bool:
    """Whether anything was answered. What follows from a column is asked once it is known what the column is."""
    changed = False
    for group in together(questions):
        columns = group.kind in (COLUMNS, READINGS)
        if changed and not columns:
            return True
        if not ask(group, answers.put):
            return False
        changed |= columns and any(answers.at(one.path) != one.offer for one in group.members)
    return len(questions) > 0


def _read(shapes: Sequence[Layout], pages: Sequence[Page], answers: Answers, ledger: Ledger, trial: Trial) -> Joined:  # fmt: skip
    number = {id(page): place for place, page in enumerate(pages)}
    parts = []
    for layout in shapes:
        for block in layout.blocks:
            at = number[id(block.page)]
            for row, column in block.again:
                ledger.read(ledger.codes(at, np.array([row]), column))
            for key, row, column in block.titles:
                code = ledger.codes(at, np.array([row]), column)
                said = answers.at((*layout.title(key), "is"))
                (ledger.unused if said == NOT_USED else ledger.read)(code)
            kept = keyed(layout, block, at, answers, ledger, trial.declaration.dates)
            parts.append(facts(kept, answers, ledger, trial.declaration))
    for place, page in enumerate(pages):
        if str(answers.at(("headings_in_row", page.name))) == NOT_USED:
            for column in range(page.cells.shape[1]):
                ledger.unused(ledger.codes(place, np.arange(len(page.cells)), column))
        below = {int(row) for layout in shapes for block in layout.blocks if block.page is page for row in block.rows}  # fmt: skip
        for row in sorted(below.intersection(page.short)):
            first = int(np.flatnonzero(page.cells[row] != "")[0]) if (page.cells[row] != "").any() else -1
            if first >= 0:
                cell = int(ledger.codes(place, np.array([row]), first)[0])
                ledger.flag(cell, "is in a row that ends before the others", "look whether it was cut short")
    suspect(shapes, pages, answers, parts, trial, ledger)
    return joined(parts, trial, ledger)
