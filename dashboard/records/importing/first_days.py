"""What is asked before all else: what the columns are, and the days; whole files whose days cannot be of this trial are told then."""

from __future__ import annotations

from collections.abc import Sequence

from dashboard.records.importing.asked_dates import DATE_CELLS, DAY_ANSWERS, MONTHS_PART, ORDER_OF, YEAR_OF
from dashboard.records.importing.dates import outside
from dashboard.records.importing.layouts import Layout
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.mapping import Answers, Question
from dashboard.records.importing.pages import Page
from dashboard.records.importing.rows import days
from dashboard.records.importing.trial import Trial


def to_begin_with(questions: Sequence[Question]) -> list[Question]:
    """Those that come before the others: what stands in the columns, and the days."""
    return [one for one in questions if _of_columns(one) or of_days(one)]


def _of_columns(question: Question) -> bool:
    path = question.path
    return path[0] in ("encoding", "headings_in_row") or (path[0] == "layout" and path[-1] == "is")


def of_days(question: Question) -> bool:
    """Whether it has to be answered before the days of a sheet are known."""
    path = question.path
    if path[0] == MONTHS_PART:
        return True
    if path[0] != "layout" or "words" in path or "forms" in path:
        return False
    return path[-1] in DAY_ANSWERS or path[-2] in (DATE_CELLS, ORDER_OF, YEAR_OF) or path[-2:] == ("fixed", "date") or (path[-1] == "is" and question.offer == "date")  # fmt: skip


def refused(
    shapes: Sequence[Layout], pages: Sequence[Page], answers: Answers, trial: Trial
) -> tuple[str, tuple[int, ...]]:
    """The files none of whose days is of the seasons of the trial, a line each, empty where there is none; and the first and last season of
    a trial that has them."""
    scratch = Ledger(pages)  # what is set aside here is set aside again when the sheets are read
    place = {id(page): number for number, page in enumerate(pages)}
    found: dict[str, set[str]] = {}
    for layout in shapes:
        for block in layout.blocks:
            texts = days(layout, block, place[id(block.page)], answers, scratch)
            found.setdefault(block.page.file, set()).update(text for text in texts if text)
    first, last = trial.declaration.dates
    lines: list[str] = []
    years: set[int] = set()
    for file, known in found.items():
        if known and all(outside(day, trial.declaration.dates) for day in known):
            span = min(known) if len(known) == 1 else f"{min(known)} to {max(known)}"
            years |= {int(day[:4]) for day in known}
            lines.append(
                f"{file}: no day in it is of this trial: {span}, and the trial is of {first} to {last}."
            )
    seasons: tuple[int, ...] = ()
    if not lines:
        return "", seasons
    lines.append("Nothing was read. Is the year mistyped? Correct it in the sheet.")
    if trial.declaration.seasons:
        where, now = trial.folder / "datapackage.json", list(trial.declaration.seasons)
        seasons = min(first.year, *years), max(last.year, *years)
        is_new = f"{' and '.join(map(str, sorted(years)))} new to this trial"
        lines.append(f'Is {is_new}? In {where}, write "seasons": {list(seasons)} in place of {now}, and run the command again.')  # fmt: skip
    return "\n".join(lines), seasons
