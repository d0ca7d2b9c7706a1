"""What a tick of a box does, and a press on a row of a table of cultivars."""

from __future__ import annotations

from dashboard.answers.choices import CHOICES
from dashboard.answers.choosing import as_text
from dashboard.visit.state import State


def press(state: State, what: str, value: object) -> None:
    """What a press on a row's name or star does, in every table of cultivars."""
    if what == "open":
        state.open(str(value))
    elif what == "keep":
        state.keep(str(value))


def tick(state: State, name: str, values: list[str]) -> None:
    """Choose what stands behind the boxes that are ticked."""
    known = state.known[name]
    spelled = {as_text(value): value for value in known}
    chosen = tuple(spelled.get(value, value) for value in values if value in spelled or value in known)
    if CHOICES[name].several:
        state.choose(**{name: chosen})
    elif chosen:
        state.choose(**{name: chosen[0]})
