"""A choice as a group of tick boxes: made from its declaration, and what a tick does."""

from __future__ import annotations

from typing import Any

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.choices import CHOICES
from dashboard.answers.choosing import as_text
from dashboard.page.parts.elements import group_of
from dashboard.visit.state import State

MORE = "More filters"  # what the rarely used are folded under


def choice_group(catalogue: Catalogue, name: str) -> dict[str, Any]:
    """The group of boxes of a choice, for ``ChoiceBoxes``; without options where the records have none of it."""
    choice = CHOICES[name]
    names = {as_text(value): words for value, words in choice.listed(catalogue).items()}
    return group_of(
        name,
        choice.label,
        names,
        single=not choice.several,
        look=choice.look,
        fold=MORE if choice.rare else "",
    )


def tick(state: State, name: str, values: list[str]) -> None:
    """Choose what stands behind the boxes that are ticked."""
    known = {as_text(value): value for value in state.known[name]}
    chosen = tuple(known[value] for value in values if value in known)
    if CHOICES[name].several:
        state.choose(**{name: chosen})
    elif chosen:
        state.choose(**{name: chosen[0]})
