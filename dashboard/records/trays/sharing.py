"""Answers that two technicians gave at once: those of a tray beside those that were kept meanwhile."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

from dashboard.records.importing.mapping import OPEN, Answers


def shared(standing: Answers, mine: Answers) -> Answers:
    """Both; where they differ, ``mine`` hold, unless they are still questions. Layouts are the same where their headings are."""
    both = Answers(deepcopy(standing.data))
    places = {tuple(one["headings"]): number for number, one in enumerate(both.layouts)}
    for layout in mine.layouts:
        at = places.get(tuple(layout["headings"]))
        if at is None:
            both.layouts.append(deepcopy(layout))
        else:
            _join(both.layouts[at], layout)
    for name, part in mine.data.items():
        if isinstance(part, dict):
            _join(both.part(name), part)
    return both


def _join(there: dict[str, Any], here: dict[str, Any]) -> None:
    for key, value in here.items():
        if isinstance(value, dict) and isinstance(there.get(key), dict):
            _join(there[key], value)
        elif key not in there or not (isinstance(value, str) and value.lstrip().startswith(OPEN)):
            there[key] = deepcopy(value)
