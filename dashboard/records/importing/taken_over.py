"""What one sheet takes over of what was answered of another of its file: the same headings, titles and rows are asked about once."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

from dashboard.records.importing.asked_dates import FILE, SHEET
from dashboard.records.importing.layouts import Layout
from dashboard.records.importing.mapping import OPEN, Answers


def take_over(layout: Layout, answers: Answers) -> None:
    """Give a layout what was answered of the same headings, titles and rows of its kin, where nothing was answered of its own."""
    if layout.kin is None:
        return
    own, there = answers.layouts[layout.number], answers.layouts[layout.kin]
    for part in ("columns", "titles"):
        names = layout.headings if part == "columns" else layout.titles
        for name in names:
            said, here = _held_over(there.get(part, {}).get(name)), _said(own.get(part, {}).get(name)) or {}
            if said and here.get("is", said.get("is")) == said.get("is"):
                own.setdefault(part, {})[name] = _filled(own.get(part, {}).get(name), said)
    for part in ("readings", "fixed", "fixed_date", "days", "rows_without_readings", "row_is"):
        if said := _held_over(there.get(part)):
            own[part] = _filled(own.get(part), said)


def _filled(own: Any, said: Any) -> Any:
    """An answer with what is not said in it from another."""
    if isinstance(own, dict) and isinstance(said, dict):
        return own | {key: _filled(own.get(key), one) for key, one in said.items()}
    return own if _said(own) not in (None, {}) else deepcopy(said)


def _held_over(answer: Any) -> Any:
    """An answer without what is of its own sheets alone: a scale that no year is said of, a year, a day, a cultivar or a number of fruit."""
    said = _said(answer)
    if not isinstance(said, dict):
        return said
    kept = {key: _held_over(one) for key, one in said.items()}
    return {
        key: one for key, one in kept.items()
        if not (isinstance(one, str) and (key in ("scale", "fruit measured") or (key in ("year", "date", "cultivar") and one not in (SHEET, FILE))))
    }  # fmt: skip


def _said(answer: Any) -> Any:
    """An answer without what is still a question in it."""
    if isinstance(answer, dict):
        return {key: said for key, one in answer.items() if (said := _said(one)) not in (None, {})}
    return None if isinstance(answer, str) and answer.lstrip().startswith(OPEN) else answer
