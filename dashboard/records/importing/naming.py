"""The names in the sheets that have to be confirmed, of cultivars and of sites."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

import pandas as pd

from dashboard.records.importing.asked_dates import FILE, SHEET
from dashboard.records.importing.layouts import Layout, content_columns, role_of
from dashboard.records.importing.mapping import ANY, Answers, Question
from dashboard.records.importing.roles import NOT_USED
from dashboard.records.importing.rows import PARTS, title_name
from dashboard.records.importing.spellings import Asked, asked_names, held_within, name_fault, tidy
from dashboard.records.importing.trial import Trial
from dashboard.records.problems import quoted


def name_questions(layouts: Sequence[Layout], answers: Answers, trial: Trial) -> Iterator[Question]:
    """One a spelling; a name that is far from all others in a new trial needs none."""
    for role, part in PARTS.items():
        counts: Counter[str] = Counter()
        for layout in layouts:
            for spelling, times in _spelled(role, layout, answers):
                counts[spelling] += 0 if name_fault(spelling) else times
        counts = +counts
        known = trial.names[part]
        allowed = {*known, *counts, NOT_USED}
        table = answers.part(part)
        _follow(table)
        settled = {
            spelling: str(said) for spelling in table if (said := answers.at((part, spelling))) in allowed
        }
        for spelling, (why, near, offer) in asked_names(counts, known, settled, role == "site").items():
            if role == "site" and not near and known:
                why, near, offer = _as_site(spelling, trial)
            stands = f"{counts[spelling]:,} {'place' if counts[spelling] == 1 else 'places'}"
            asks = f"{why}, in {stands}. Which {role} is it?"
            words = tuple(dict.fromkeys([*near, spelling, NOT_USED, ANY]))
            yield Question((part, spelling), asks, words, (), offer, quoted(spelling))


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
    for block in layout.blocks:
        page = block.page.cells
        if column is not None:
            place = next(one.columns[0][1] for one in block.headings if one.label == column)
            content = (block.part(block.rows, content_columns(layout, block, answers)) != "").any(axis=1)
            named = block.page.holders(block.rows, place) == block.rows
            rows = block.rows[named if (content & ~named).any() else named & content]
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
            yield tidy(block.page.sheet if fixed == SHEET else block.page.file.rpartition(".")[0]), 1
        elif isinstance(fixed, str):
            yield tidy(fixed), 1
