"""The names in the sheets that have to be confirmed, of cultivars and of sites."""

from __future__ import annotations

import hashlib
import re
import textwrap
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import partial

import numpy as np
import pandas as pd

from dashboard.records.importing.asked_dates import FILE, SHEET, called
from dashboard.records.importing.kinds import NAMES, ONE_BY_ONE, OWN_NAMES, SITES, YES
from dashboard.records.importing.layouts import Layout, role_of, without
from dashboard.records.importing.made_of import IS_DATE, IS_NUMBER, spoiled
from dashboard.records.importing.mapping import ANY, OPEN, Answers, Question
from dashboard.records.importing.pages import Page
from dashboard.records.importing.proposed import proposed
from dashboard.records.importing.roles import NOT_USED
from dashboard.records.importing.rows import PARTS, title_name
from dashboard.records.importing.spellings import (
    IS_NEW,
    OFTEN,
    Asked,
    asked_names,
    held_within,
    name_fault,
    no_name,
    tidy,
)
from dashboard.records.importing.trial import Trial
from dashboard.records.names import plain
from dashboard.records.problems import listed, quoted

NEW = "new_cultivars"  # of the mapping: lists of names, each confirmed as a whole
_RARE = 20  # times as rare as the middle one, from which on a name stands first in the list (judgement)
_SHORT = re.compile(r"\w{1,3}")
_YEAR_BEHIND = re.compile(r"[\s,_-]+(?:19|20)\d{2}$")
_TIED = "\0"  # a space within a name, where no line is broken


def name_questions(layouts: Sequence[Layout], answers: Answers, trial: Trial) -> Iterator[Question]:
    """One a spelling that may be another's, and one for all names that are new: nobody becomes a cultivar unasked."""
    for role, part in PARTS.items():
        counts: Counter[str] = Counter()
        for layout in layouts:
            for spelling, times in _spelled(role, layout, answers):
                counts[spelling] += 0 if name_fault(spelling) else times
        counts = +counts
        known = trial.names[part]
        if role == "cultivar":
            _confirm(answers, known, counts)
        _follow(answers.part(part))
        asked, fresh = _asked(answers, part, known, counts)
        shown = _shown_as(role, asked, counts, trial)
        for spelling, (why, near, offer) in sorted(
            asked.items(), key=lambda one: counts[one[0]]
        ):  # a slip is rare
            if role == "site" and not known and why == IS_NEW and spelling in _typed(layouts, answers):
                answers.put((part, spelling), spelling)  # they wrote it themselves just now
                continue
            if role == "site" and not near and known:
                why, near, offer = _as_site(spelling, trial)
            stands = f"{counts[spelling]:,} {'place' if counts[spelling] == 1 else 'places'}"
            stands = f"in {stands}" if counts[spelling] else "and stands in no sheet"
            asks = f"{why}, {stands}. Which {role} is it?"
            stands = f"new, {stands}" if role == "site" and why == IS_NEW else stands
            first = (spelling, *near) if why == OFTEN else (*near, spelling)  # no name is merged by habit
            words = tuple(dict.fromkeys([*first, NOT_USED, ANY]))
            meant = shown.get(spelling, "")
            beside = (
                f"; {quoted(meant)} in {counts[meant]:,}" if counts.get(meant) and meant != spelling else ""
            )
            doubted = spoiled(spelling) and why in (IS_DATE, IS_NUMBER)
            others = [one for one in near if one != meant and not spoiled(one)] if doubted else []
            if doubted and meant and others:
                beside += f", or {quoted(others[0])}"
            kind = SITES if role == "site" else OWN_NAMES if meant == spelling else NAMES
            yield Question(
                (part, spelling), asks, words, (), offer, quoted(spelling),
                alike=(kind,), line=("", quoted(spelling), stands + beside), proposal=meant,
                becomes="" if meant or not doubted else listed(others, "or") or "which name was typed?", refuses=partial(no_name, {*counts, *known}),
            )  # fmt: skip
        if fresh and not any(
            answers.at((part, spelling)) is None for spelling in asked
        ):  # an answer above may bring one into doubt
            yield _of_all(fresh, counts)


def _shown_as(
    role: str, asked: Mapping[str, Asked], counts: Mapping[str, int], trial: Trial
) -> dict[str, str]:
    """What each spelling is taken for where the list of them is said to be right. The first sites of a trial are shown as they are spelled."""
    found = proposed(asked, counts, Counter(map(str, trial.frames["samples"][role])))
    if role == "site" and not trial.names[PARTS[role]]:
        new = [spelling for spelling, (why, _, _) in asked.items() if why == IS_NEW]
        short = [
            spelling for spelling in new if _SHORT.fullmatch(spelling)
        ]  # may be a site of the list that is called by its name there
        meant = new if len(short) == len(new) else [spelling for spelling in new if spelling not in short]
        found |= {spelling: _without_year(spelling, new) for spelling in meant if len(asked) > 1}
    return found


def _without_year(name: str, names: Sequence[str]) -> str:
    """A site as the sheets of several years are called, like Low 2015 and Low 2016: Low; else the name itself."""
    bare = _YEAR_BEHIND.sub("", name)
    return bare if bare and sum(_YEAR_BEHIND.sub("", one) == bare for one in names) > 1 else name


def _typed(layouts: Sequence[Layout], answers: Answers) -> set[str]:
    """Sites that somebody wrote for all rows of a sheet."""
    said = [answers.at(("layout", layout.number, "fixed", "site")) for layout in layouts]
    return {tidy(one) for one in said if isinstance(one, str) and one not in (SHEET, FILE)}


def _asked(
    answers: Answers, part: str, known: Sequence[str], counts: Mapping[str, int]
) -> tuple[dict[str, Asked], list[str]]:
    """The names to be asked about one by one, and those that would become cultivars as they are spelled, of which nobody has said so."""
    allowed, table = {*known, *counts, NOT_USED}, answers.part(part)
    settled = {name: str(said) for name in table if (said := answers.at((part, name))) in allowed}
    asked = asked_names(counts, known, settled, part == PARTS["site"])
    if part == PARTS["site"]:
        return asked, []
    alone = {name for name in counts if str(table.get(name, "")).startswith(OPEN)}
    doubted = alone | {name for name, (why, _, _) in asked.items() if why not in (IS_NEW, OFTEN)}
    given = {str(said) for name in counts if (said := answers.at((part, name))) is not None}
    open_ = {name for name in (*counts, *given) if answers.at((part, name)) is None}
    fresh = sorted(open_ - doubted - {*known, NOT_USED}, key=lambda name: (plain(name), name))
    if len(fresh) == 1:  # no list
        alone, fresh = alone | {*fresh}, []
    singly = {
        name: asked.get(name, (IS_NEW, (), name)) for name in counts if name in alone or name in doubted
    }
    return singly | {name: (IS_NEW, (), name) for name in alone if name not in singly}, fresh


def _of_all(names: Sequence[str], counts: Mapping[str, int]) -> Question:
    """One question for a whole list; its answer holds for this list alone, so its place has a mark of the list."""
    asks = f"is each of these {len(names):,} a cultivar of its own? Type the name of one that is not"
    middle = float(np.median([counts[name] for name in names]))
    rare = [name for name in names if counts[name] * _RARE < middle]
    first = [f"  rare beside the others: {line}" for line in _lines(rare)]
    near = asked_names({name: counts[name] for name in names}, (), {})
    pairs = [f"{name} and {there}" for name, (why, others, _) in near.items() if why == OFTEN and (there := " and ".join(others))]  # fmt: skip
    first += [f"  near each other, and each stands often: {line}" for line in _lines(pairs)]
    return Question(
        (NEW, _mark(names)), asks, (YES, ONE_BY_ONE, ANY), (*first, *(f"  {line}" for line in _lines(names))),
        about="new names", may=lambda said: said in names,
    )  # fmt: skip


def _lines(names: Sequence[str]) -> list[str]:
    lines = textwrap.wrap("; ".join(name.replace(" ", _TIED) for name in names), 100, break_long_words=False, break_on_hyphens=False)  # fmt: skip
    return [line.replace(_TIED, " ") for line in lines]


def _mark(names: Sequence[str]) -> str:
    return f"{len(names)} names, {names[0]} to {names[-1]}, {hashlib.sha256('; '.join(names).encode()).hexdigest()[:8]}"


def _confirm(answers: Answers, known: Sequence[str], counts: Mapping[str, int]) -> None:
    """What was said of the whole list, put to each name of it."""
    table, lists = answers.part(PARTS["cultivar"]), answers.part(NEW)
    if not lists:
        return
    names = _asked(answers, PARTS["cultivar"], known, counts)[1]
    said = lists.get(_mark(names)) if names else None
    if said is not None and not str(said).startswith(OPEN):
        for name in names:
            if said == YES:
                table[name] = name
            elif said in (ONE_BY_ONE, name):
                table[name] = f"{OPEN} {name}"
        lists.clear()
    elif said is None:  # of other names than those of now
        lists.clear()


def _as_site(spelling: str, trial: Trial) -> Asked:
    """A site that the trial has is offered where its name stands in a title; a new one never is, because Enter would make it."""
    sites = trial.frames["sites"]
    called = {key: [one for one in (key, name) if isinstance(one, str)] for key, name in zip(sites["site"], sites["name"], strict=True)}  # fmt: skip
    within = held_within(spelling, called)
    offer = within[0] if len(within) == 1 else ""
    return ("holds the name of a site", within, offer) if within else ("is new", tuple(called), "")


def _follow(table: dict) -> None:
    """Where a name stands for one that stands for another itself, it stands for that."""
    for spelling in table:
        for _ in range(5):
            said = table[spelling]
            if isinstance(said, str) and said in table and table[said] != said and table[said][:1] != "?":
                table[spelling] = table[said]


def _spelled(role: str, layout: Layout, answers: Answers) -> Iterator[tuple[str, int]]:
    """Each name and how often it stands, of rows that hold more than a name; one that holds for rows below counts once."""
    column = next((label for label in layout.headings if role_of(layout, label, answers)[0] == role), None)
    counted: dict[Page, np.ndarray] = {}  # rows with several days across name it once
    for block in layout.blocks:
        page = block.page.cells
        if column is not None:
            place = next(one.columns[0][1] for one in block.headings if one.label == column)
            named = block.page.holders(block.rows, place) == block.rows
            rows = block.rows[named & ~without(layout, block, column, answers)]
            if block.across:
                before = counted.get(block.page, rows[:0])
                rows, counted[block.page] = np.setdiff1d(rows, before), np.union1d(rows, before)
            for name, count in pd.Series(page[rows, place], dtype=object).value_counts().items():
                yield tidy(str(name)), int(count)
            continue
        titles = [
            title_name(str(page[line, at]))
            for key, line, at in block.titles
            if answers.at((*layout.title(key), "is")) == role
        ]
        fixed = answers.at(("layout", layout.number, "fixed", role))
        if titles:
            yield from ((title, 1) for title in titles)
        elif fixed in (SHEET, FILE):
            yield tidy(called(block.page, fixed)), 1
        elif isinstance(fixed, str):
            yield tidy(fixed), 1
