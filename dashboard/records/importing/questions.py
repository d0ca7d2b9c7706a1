"""What has to be known of a layout before a row of it is read, each question with cells beside what they would become."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from dashboard.records.checking import YES_NO
from dashboard.records.importing import dates
from dashboard.records.importing.asked_dates import FILE, SHEET, SHOWN, asked_dates, year_columns
from dashboard.records.importing.asked_titles import asked_titles, title_role
from dashboard.records.importing.cheeks import SECOND, asked_cheeks, figures_in
from dashboard.records.importing.figures import (
    ASIDE,
    NOTHING,
    READING,
    SET_ASIDE,
    comma,
    halves,
    is_zero,
    wordy,
)
from dashboard.records.importing.layouts import (
    FIGURES,
    Layout,
    by_page,
    by_word,
    cells,
    content,
    only_cultivars,
    role_of,
    roles_open_to,
    tells,
    unread,
    without,
)
from dashboard.records.importing.mapping import ANY, Answers, Path_, Question
from dashboard.records.importing.measures import asked_scale, asked_unit
from dashboard.records.importing.pages import Page
from dashboard.records.importing.roles import NOT_USED, READINGS, ROLES, SPREAD_OF, WHICH, Role, offered
from dashboard.records.importing.several import asked_counts, asked_rows, asked_share
from dashboard.records.problems import quoted

MOST_WORDS = 40
SHOWN_ROWS = 8
ABOVE = "as above"
NOT_PICKED = "nothing was picked"


@dataclass(frozen=True, eq=False)
class Seen:
    """The cells that one set of answers is about, by page; ``path`` is where the answers stand."""

    path: Path_
    about: str
    by_page: Mapping[Page, list[str]]
    heading: str = ""

    @property
    def by_file(self) -> dict[str, list[str]]:
        found: dict[str, list[str]] = {}
        for page, values in self.by_page.items():
            found.setdefault(page.file, []).extend(values)
        return {file: list(dict.fromkeys(values)) for file, values in found.items()}

    @property
    def values(self) -> list[str]:
        return list(dict.fromkeys(value for values in self.by_page.values() for value in values))


def questions(layout: Layout, answers: Answers) -> Iterator[Question]:
    """The questions of one layout that are open, those of names left aside."""
    for label, heading in layout.headings.items():
        about = f"{label}, column {heading.letters}" if heading.at else f"{label}, which has no heading"
        seen = Seen(layout.column(label), about, by_page(layout, label), label)
        role, settled = role_of(layout, label, answers)
        taken = partial(_taken, layout, label, answers)
        if not settled or taken(role):
            words, offer = roles_open_to(layout, heading), "" if taken(role) else role
            told = f"  {taken(role)}" if settled else ""
            shown = (*_plainly(seen.values), *([told] if told else []))
            yield Question((*seen.path, "is"), "which column is this?", words, shown, offer, about, refuses=taken)  # fmt: skip
        if role in ROLES:
            yield from _of_column(layout, seen, ROLES[role], answers)
    yield from _of_readings(layout, answers)
    yield from asked_titles(layout, answers)
    yield from _of_the_rest(layout, answers)


def _taken(layout: Layout, label: str, answers: Answers, said: str) -> str:
    """Why a column cannot be this: another is it already. Of two the first stays."""
    if said in ("", NOT_USED):
        return ""
    if said == FIGURES:
        beside = [role_of(layout, other, answers) for other, one in layout.headings.items() if not one.wide]
        if not all(settled for _, settled in beside) or WHICH in (role for role, _ in beside):
            return ""
        return f"no column of these rows is {quoted(WHICH)}, so it has to be said what all of them hold."
    before = True
    for other in layout.headings:
        if other == label:
            before = False
        elif role_of(layout, other, answers) == (said, True) and (before or answers.at((*layout.column(other), "is")) is None):  # fmt: skip
            return (
                f"{quoted(other)} is {said} already; say “{NOT_USED}” for one of the two, or what else it is."
            )
    return ""


def open_questions(layout: Layout, answers: Answers) -> list[Question]:
    """Those that have no answer that may stand; of a layout like an earlier one the earlier answers are offered."""
    found = [question for question in questions(layout, answers) if not _answered(question, answers)]
    if layout.like is None:
        return found
    earlier = [answers.at(("layout", layout.like, *question.path[2:])) for question in found]
    return [
        question if before is None or isinstance(before, dict) else replace(question, offer=str(before))
        for question, before in zip(found, earlier, strict=True)
    ]


def _answered(question: Question, answers: Answers) -> bool:
    said = answers.at(question.path)
    return said is not None and not isinstance(said, dict) and question.takes(said)


def _of_column(layout: Layout, seen: Seen, role: Role, answers: Answers) -> Iterator[Question]:
    if role.name == "date":
        pages = [block.page for block in layout.blocks]
        named = {FILE: [page.file for page in pages], SHEET: [page.sheet for page in pages]} | year_columns(layout.blocks)  # fmt: skip
        held = cells(layout, seen.heading, held=True)
        yield from asked_dates(seen.path, f"{seen.about}, {layout.where}", seen.by_file, held, answers, named)
    elif role.measured or role.column.kind == "whole":
        yield from _of_figures(layout, seen, role, answers)
    elif role.column.kind in ("class", "yes/no"):
        known = role.column.words or tuple(YES_NO)
        strange = [value for value in seen.values if value.casefold() not in known]
        for word in strange[:MOST_WORDS]:
            asks = f"what does {quoted(word)} mean?"
            words = role.column.words or ("yes", "no")
            yield Question((*seen.path, "words", word), asks, (*words, NOTHING, ASIDE), about=seen.about)
    if role.name in ("cultivar", "site", "date") and _gaps(layout, seen.heading, answers):
        asks = "some rows with readings have nothing here; what do they mean?"
        yield Question((*seen.path, "empty"), asks, (ABOVE, SET_ASIDE), about=seen.about)


def _of_figures(layout: Layout, seen: Seen, role: Role, answers: Answers) -> Iterator[Question]:
    yield from asked_unit(seen.path, seen.about, seen.heading, seen.by_file, role, answers)
    yield from asked_share(seen.path, seen.about, seen.heading, role, seen.values, answers)
    if role.column.rating:
        yield from asked_scale(seen.path, seen.about, seen.by_page, answers)
    values = seen.values
    if role.name in SPREAD_OF and (both := [(value, *two) for value in values if (two := halves(value))]):
        shown = tuple(
            f"  {quoted(cell)} → mean {mean}; {rest} is its sd or se" for cell, mean, rest in both[:SHOWN]
        )
        asks = "what stands behind ±: the deviation of the fruit (sd), or the error of the mean (se)?"
        yield Question((*seen.path, "behind"), asks, ("sd", "se", NOT_USED), shown, about=seen.about)
        values = list(dict.fromkeys(part for value in values for part in halves(value) or (value,)))
    if role.name in SECOND and not _read_by_itself(layout, SECOND[role.name], answers):
        yield from asked_cheeks(seen.path, seen.about, role, values, answers)
        values = list(dict.fromkeys(part for value in values for part in figures_in(value, role)))
    if commas := [value for value in values if comma(value)]:
        shown = tuple(
            f"  {quoted(v)} → with ,: {v.replace(',', '.')}; with .: set aside" for v in commas[:SHOWN]
        )
        yield Question(
            (*seen.path, "decimals"),
            "what stands before the decimals of a number?",
            (",", "."),
            shown,
            about=seen.about,
        )
    if any(is_zero(value) for value in values) and role.measured:
        yield Question(
            (*seen.path, "zero"),
            "is 0 a reading, or was nothing measured?",
            (READING, NOTHING),
            (f"  “0” → {READING}: 0 counts in the mean; {NOTHING}: the cell is empty",),
            about=seen.about,
        )
    for word in [value for value in values if wordy(value)][:MOST_WORDS]:
        asks = f"{quoted(word)} stands where numbers do; what does it mean?"
        shown = (f"  {quoted(word)} → {NOTHING}: nothing was measured; {ASIDE}: waits in the sheet of what was set aside",)  # fmt: skip
        yield Question((*seen.path, "words", word), asks, (NOTHING, ASIDE, ANY), shown, about=seen.about, may=_number)  # fmt: skip


def _of_readings(layout: Layout, answers: Answers) -> Iterator[Question]:
    """Each word of a column that says what the figures of its row are, asked like a column."""
    for word, found in by_word(layout, answers).items():
        path = ("layout", layout.number, "readings", word)
        offer = offered(word)[0]
        known = READINGS
        seen = Seen(path, f"rows {quoted(word)}", found, word)
        said = answers.at((*path, "is"))
        yield Question(
            (*path, "is"),
            "which reading is this?",
            (*known, NOT_USED),
            _plainly(seen.values),
            offer if offer in known else "",
            seen.about,
        )
        role = said if isinstance(said, str) else offer
        if role in known:
            yield from _of_figures(layout, seen, ROLES[role], answers)


def _of_the_rest(layout: Layout, answers: Answers) -> Iterator[Question]:
    """What no column and no title gives, and rows that name a cultivar and nothing else."""
    found = [role_of(layout, label, answers) for label in layout.headings]
    if unread(layout, answers):
        return
    if not any(tells(role) for role, _ in found) and not all(
        settled for _, settled in found
    ):  # it may be a list of cultivars
        return
    given = {role for role, _ in found}
    given |= {title_role(layout, key, answers) for key in layout.titles}
    if "" in given:  # first it has to be known what the columns are
        return
    named = [label for label in layout.headings if role_of(layout, label, answers)[0] == "cultivar"]
    if named and not only_cultivars(layout, answers) and (idle := _idle(layout, named[0], answers)):
        asks = f"some rows have something under {quoted(named[0])} and hold no reading ({len(idle):,} in all); what do they mean?"
        shown = tuple(f"  {quoted('; '.join(row))}" for row in dict.fromkeys(idle))[:SHOWN_ROWS]
        yield Question(("layout", layout.number, "rows_without_readings"), asks, (NOT_PICKED, SET_ASIDE), shown, NOT_PICKED, layout.where)  # fmt: skip
    yield from asked_rows(layout, answers)
    yield from asked_counts(layout, given, answers)
    names = tuple(f"  {quoted(block.page.name)}" for block in layout.blocks[:SHOWN])
    for name in ("cultivar",) if only_cultivars(layout, answers) else ("cultivar", "site", "date"):
        if name not in given:
            path = ("layout", layout.number, "fixed", name)
            asks = f"no column gives the {name}; which one {name} is it for every row of {_sheets(layout)}?"
            may = _iso if name == "date" else bool
            held = {SHEET: [block.page.sheet for block in layout.blocks], FILE: [block.page.file for block in layout.blocks]}  # fmt: skip
            words = [where for where, texts in held.items() if name != "date" or all(map(dates.in_text, texts))]  # fmt: skip
            yield Question(path, asks, (*words, ANY), names, about=layout.where, may=may)
            if name == "date" and (said := answers.at(path)) in (SHEET, FILE):
                days = {"": [date for text in held[str(said)] if (date := dates.in_text(text))]}
                yield from asked_dates(("layout", layout.number, "fixed_date"), str(said), days, {}, answers, held)  # fmt: skip


def _gaps(layout: Layout, label: str, answers: Answers) -> bool:
    """Whether a row with something else than keys lacks this one."""
    for block in layout.blocks:
        column = next(one.columns[0][1] for one in block.headings if one.label == label)
        if ((block.page.holders(block.rows, column) < 0) & content(layout, block, answers)).any():
            return True
    return False


def _idle(layout: Layout, label: str, answers: Answers) -> list[tuple[str, ...]]:
    """The filled cells of each row that has something where cultivars stand, and no reading."""
    return [
        tuple(cell for cell in block.page.cells[row] if cell)
        for block in layout.blocks
        for row in block.rows[without(layout, block, label, answers)]
    ]


def _sheets(layout: Layout) -> str:
    count = len(layout.blocks)
    return "this sheet" if count == 1 else f"these {count:,} sheets"


def _read_by_itself(layout: Layout, name: str, answers: Answers) -> bool:
    """Whether a column, or a word for what a row holds, is this reading."""
    if any(role_of(layout, label, answers)[0] == name for label in layout.headings):
        return True
    return any(answers.at(("layout", layout.number, "readings", word, "is")) == name for word in by_word(layout, answers))  # fmt: skip


def _number(said: str) -> bool:
    try:
        return np.isfinite(float(said))
    except ValueError:
        return False


def _iso(said: str) -> bool:
    return dates.day(said, dates.Calendar())[1] is None


def _plainly(values: Iterable[str]) -> tuple[str, ...]:
    return tuple(f"  {quoted(value)}" for value in list(values)[:SHOWN])
