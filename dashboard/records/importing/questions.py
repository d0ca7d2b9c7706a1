"""What has to be known of a layout before a row of it is read, each question with cells beside what they would become."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from dashboard.records.checking import YES_NO
from dashboard.records.importing import dates
from dashboard.records.importing.across import ASKS, days_of
from dashboard.records.importing.asked_dates import (
    COLUMN,
    FILE,
    SHEET,
    SHOWN,
    asked_dates,
    called,
    year_columns,
)
from dashboard.records.importing.asked_figures import MOST_WORDS, asked_figures, asked_readings
from dashboard.records.importing.asked_titles import asked_titles, title_role
from dashboard.records.importing.figures import ASIDE, NOTHING, SET_ASIDE
from dashboard.records.importing.grouped import offered_alike
from dashboard.records.importing.kinds import CLASSES, COLUMNS
from dashboard.records.importing.layouts import (
    FIGURES,
    Layout,
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
from dashboard.records.importing.mean_rows import asked_mean_rows
from dashboard.records.importing.roles import NOT_USED, NUMBER, ROLES, WHICH, Role, offered
from dashboard.records.importing.seen import Seen, first_cells, seen_in
from dashboard.records.importing.several import asked_counts, asked_rows
from dashboard.records.importing.spellings import no_name
from dashboard.records.importing.taken_over import take_over
from dashboard.records.importing.together import listed
from dashboard.records.problems import quoted

SHOWN_ROWS = 8
ABOVE = "as above"
NOT_PICKED = "nothing was picked"
YEAR_OF_DAYS = "year of the days"
FEW_IDLE, PART_IDLE = (
    50,
    0.5,
)  # rows, and of all rows, up to which it is offered: more may be readings that nothing finds (judgement)
OF_A_PLACE = "If each column is a site or a person, write a row for each instead, with the site in a column of its own."
_MANY_IDLE = ("idle", "many")  # what was said of a few rows elsewhere is no offer for these


def questions(layout: Layout, answers: Answers) -> Iterator[Question]:
    """The questions of one layout that are open, those of names left aside."""
    for label, heading in layout.headings.items():
        seen = seen_in(layout, label)
        role, settled = role_of(layout, label, answers)
        taken = partial(_taken, layout, label, answers)
        if not settled or taken(role):
            words, offer = (
                roles_open_to(layout, heading),
                "" if taken(role) or (role == "sample" and _numbers_rows(layout, label)) else role,
            )
            of_days = not role and label in _years_of_days(layout, answers)
            offer = NOT_USED if of_days else offer  # of itself: it is read with the days
            told = f"  {taken(role)}" if settled else ""
            shown = (*_plainly(seen.values), *([told] if told else []))
            asks = ASKS if label == layout.across else "which column is this?"
            yield Question(
                (*seen.path, "is"), asks, words, shown, offer, seen.about, refuses=taken,
                alike=(COLUMNS, layout.table), line=(seen.letters, label, seen.cells), proposal=offer,
                becomes=YEAR_OF_DAYS if of_days else "", other_word=lambda said: NOT_USED if said in ("year", YEAR_OF_DAYS) else "", figures=seen.middle,
            )  # fmt: skip
        if role in ROLES:
            yield from _of_column(layout, seen, ROLES[role], answers)
    yield from asked_readings(layout, answers)
    yield from asked_titles(layout, answers)
    yield from _of_days_across(layout, answers)
    yield from _of_the_rest(layout, answers)


def _years_of_days(layout: Layout, answers: Answers) -> set[str]:
    """The headings of columns that hold nothing but years, beside days that have none."""
    days = [label for label in layout.headings if role_of(layout, label, answers)[0] == "date"]
    if not any(dates.asked(seen_in(layout, label).values).year for label in days):
        return set()
    return {column.removeprefix(COLUMN) for column in year_columns(layout.blocks)}


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
            told = (
                f"{quoted(other)} is {said} already; say “{NOT_USED}” for one of the two, or what else it is."
            )
            if said in ROLES and ROLES[said].measured and not offered(label)[0] and not offered(other)[0]:
                told += f" {OF_A_PLACE}"
            return told
    return ""


def of_layouts(shapes: Sequence[Layout], answers: Answers) -> list[Question]:
    """What is open of each layout. What one takes over from another of its file is asked there alone."""
    found: list[Question] = []
    answered: list[tuple[Question, str]] = []
    asked: dict[int, set[Path_]] = {}
    for layout in sorted(shapes, key=lambda one: one.number):
        take_over(layout, answers)
        open_, said = _open_and_answered(layout, answers)
        there = asked.get(layout.kin, set()) if layout.kin is not None else set()
        asked[layout.number] = {one.path[2:] for one in open_ if one.path[0] == "layout"} | there
        found += [
            one
            for one in open_
            if one.path[0] != "layout" or one.path[2:] not in there or "scale" in one.path
        ]
        answered += said
    return offered_alike(found, answered)


def _open_and_answered(layout: Layout, answers: Answers) -> tuple[list[Question], list[tuple[Question, str]]]:
    """Those that have no answer that may stand, of a layout like an earlier one with its answers for offers; and those that have one."""
    found: list[Question] = []
    answered: list[tuple[Question, str]] = []
    for question in questions(layout, answers):
        if _answered(question, answers):
            answered.append((question, str(answers.at(question.path))))
        else:
            found.append(question)
    if layout.like is None:
        return found, answered
    earlier = [answers.at(("layout", layout.like, *question.path[2:])) for question in found]
    return [
        question
        if before is None or isinstance(before, dict) or question.alike == _MANY_IDLE
        else replace(question, offer=str(before), proposal=str(before))
        for question, before in zip(found, earlier, strict=True)
    ], answered


def _answered(question: Question, answers: Answers) -> bool:
    said = answers.at(question.path)
    return said is not None and not isinstance(said, dict) and question.takes(said)


def _of_column(layout: Layout, seen: Seen, role: Role, answers: Answers) -> Iterator[Question]:
    if role.name == "date":
        pages = [block.page for block in layout.blocks]
        named = {FILE: [page.file for page in pages], SHEET: [page.sheet for page in pages]} | year_columns(layout.blocks)  # fmt: skip
        held = cells(layout, seen.heading, held=True)
        yield from asked_dates(
            seen.path, seen.about, seen.by_file, held, answers, named, layout.files, seen.named
        )
    elif role.measured or role.column.kind == "whole":
        yield from asked_figures(seen, role, answers)
    elif role.column.kind in ("class", "yes/no"):
        known = role.column.words or tuple(YES_NO)
        strange = [value for value in seen.values if value.casefold() not in known]
        for word in strange[:MOST_WORDS]:
            asks = f"what does {quoted(word)} mean?"
            words = role.column.words or ("yes", "no")
            meant = [one for one in words if one.startswith(word.casefold())]
            yield Question(
                (*seen.path, "words", word), asks, (*words, NOTHING, ASIDE), about=seen.about,
                alike=(CLASSES, seen.named), line=("", quoted(word), role.name), count=seen.count(word),
                proposal=meant[0] if len(meant) == 1 else "",
            )  # fmt: skip
    if role.name in ("cultivar", "site", "date") and _gaps(layout, seen.heading, answers):
        asks = "some rows with readings have nothing here; what do they mean?"
        yield Question((*seen.path, "empty"), asks, (ABOVE, SET_ASIDE), about=seen.about, alike=("empty",), line=("", seen.named, ""))  # fmt: skip


def _of_days_across(layout: Layout, answers: Answers) -> Iterator[Question]:
    """How the headings that are days are read, like a column of days."""
    if not layout.across or role_of(layout, layout.across, answers)[0] == NOT_USED:
        return
    found, held = (Seen(layout, (), "", days_of(layout.blocks, one)).by_file for one in (False, True))
    pages = [block.page for block in layout.blocks]
    named = {FILE: [page.file for page in pages], SHEET: [page.sheet for page in pages]}
    yield from asked_dates(layout.days, f"the headings of {layout.where}", found, held, answers, named, layout.files)  # fmt: skip


def _of_the_rest(layout: Layout, answers: Answers) -> Iterator[Question]:
    """What no column and no title gives, and rows that name a cultivar and nothing else."""
    found = [role_of(layout, label, answers) for label in layout.headings]
    if all(role == NOT_USED and settled for role, settled in found) or unread(layout, answers):
        return
    if not any(tells(role) for role, _ in found) and not all(
        settled for _, settled in found
    ):  # it may be a list of cultivars
        return
    given = {role for role, _ in found} | ({"date"} if layout.across else set())
    given |= {title_role(layout, key, answers) for key in layout.titles}
    if "" in given:  # first it has to be known what the columns are
        return
    named = [label for label in layout.headings if role_of(layout, label, answers)[0] == "cultivar"]
    if named and not only_cultivars(layout, answers) and (idle := _idle(layout, named[0], answers)):
        rows = sum(len(block.rows) for block in layout.blocks)
        asks = f"some rows have something under {quoted(named[0])} and hold no reading ({len(idle):,} of {rows:,}); what do they mean?"
        shown = tuple(f"  {quoted('; '.join(row))}" for row in dict.fromkeys(idle))[:SHOWN_ROWS]
        offer = NOT_PICKED if len(idle) <= min(FEW_IDLE, PART_IDLE * rows) else ""
        yield Question(
            ("layout", layout.number, "rows_without_readings"), asks, (NOT_PICKED, SET_ASIDE), shown, offer, layout.where,
            alike=("idle",) if offer else _MANY_IDLE, line=("", layout.where, f"{len(idle):,} of {rows:,}: {quoted('; '.join(idle[0]))}"),
        )  # fmt: skip
    yield from (listed(one, layout.where, "row_is") for one in asked_rows(layout, answers))
    yield from asked_mean_rows(layout, answers)
    yield from (listed(one, one.about, "counts") for one in asked_counts(layout, given, answers))
    pages = list(dict.fromkeys(block.page for block in layout.blocks))
    names = tuple(f"  {quoted(page.name)}: {first_cells(layout, page)}" for page in pages[:SHOWN])
    for name in ("cultivar",) if only_cultivars(layout, answers) else ("cultivar", "site", "date"):
        if name not in given:
            path = ("layout", layout.number, "fixed", name)
            asks = f"no column gives the {name}; which one {name} is it for every row of {_sheets(layout)}?"
            none = partial(no_name, ()) if name == "site" else (lambda said: "")
            may = _iso if name == "date" else bool
            held = {SHEET: [page.sheet for page in pages], FILE: [page.file for page in pages]}
            words = [where for where, texts in held.items() if name != "date" or all(map(dates.in_text, texts))]  # fmt: skip
            gives = [f"  {where} → {_some([quoted(called(page, where)) for page in pages])}" for where in words if name != "date"]  # fmt: skip
            sheets = _some([page.name for page in pages])
            yield Question(path, asks, (*words, ANY), (*names, *gives), about=layout.where, may=may, alike=("fixed", name), line=("", sheets, first_cells(layout, pages[0])), refuses=none)  # fmt: skip
            if name == "date" and (said := answers.at(path)) in (SHEET, FILE):
                days = {"": [date for text in held[str(said)] if (date := dates.in_text(text))]}
                yield from asked_dates(("layout", layout.number, "fixed_date"), str(said), days, {}, answers, held, layout.files)  # fmt: skip


def _some(names: Sequence[str]) -> str:
    """Each name once, the first few of them."""
    found = list(dict.fromkeys(names))
    more = f" and {len(found) - SHOWN:,} more" if len(found) > SHOWN else ""
    return ", ".join(found[:SHOWN]) + more


def _numbers_rows(layout: Layout, label: str) -> bool:
    """Whether a column that could name samples has another word in each row, beside one that numbers fruit: then it names none."""
    if NUMBER not in {offered(one)[0] for one in layout.headings}:
        return False
    for block in layout.blocks:
        column = next(one.columns[0][1] for one in block.headings if one.label == label)
        named = block.page.cells[block.rows, column]
        if len(named) < 2 or len(set(named)) < len(named):
            return False
    return True


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
    count = len({block.page for block in layout.blocks})
    return "this sheet" if count == 1 else f"these {count:,} sheets"


def _iso(said: str) -> bool:
    return dates.day(said, dates.Calendar())[1] is None


def _plainly(values: Iterable[str]) -> tuple[str, ...]:
    return tuple(f"  {quoted(value)}" for value in list(values)[:SHOWN])
