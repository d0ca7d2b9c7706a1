"""A choice as a group of boxes to tick, in words: made from its declaration, for page and slate alike."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.choices import CHOICES, FILTERS
from dashboard.answers.choosing import Choice, as_text
from dashboard.answers.question import Question

MORE = "More filters"  # what the rarely used are folded under
YOUR_NUMBER = "Or type"
WRONG_NUMBER = "Write a whole number: {}."
UNCOUNTED = ("site", "ripeness", "units")  # they change the figures, not which cultivars pass


def group_of(
    field: str, label: str, names: Mapping[Any, str], single: bool = False, look: str = "", fold: str = ""
) -> dict:
    """A group of ``ChoiceBoxes``: ``names`` tells each value's words, ``single`` that only one can be chosen, ``fold`` the heading
    it lies folded under, together with its neighbours of the same."""
    options = [{"value": str(value), "label": str(name)} for value, name in names.items()]
    return {"field": field, "label": label, "single": single, "look": look, "fold": fold, "options": options}


def choice_group(catalogue: Catalogue, name: str, fold: str = "") -> dict[str, Any]:
    """The group of boxes of a choice that has one list, for ``ChoiceBoxes``; without options where the records have none of it.
    ``fold``: a heading that it lies folded under."""
    return _group(CHOICES[name], name, CHOICES[name].label, CHOICES[name].listed(catalogue), fold)


def choice_groups(asked: Question, name: str) -> list[dict[str, Any]]:
    """A group for each list of a choice, with a box for what is asked for and stands on none; none where the records have none of it."""
    choice, chosen = CHOICES[name], getattr(asked, name)
    lists: dict[str, dict[Any, str]] = {}
    for value, words in choice.listed(asked.catalogue, chosen if isinstance(chosen, tuple) else ()).items():
        lists.setdefault(choice.part(value), {})[value] = words
    typed = choice.typed(asked.catalogue) if choice.typed else {}
    return [_group(choice, name, _title(part) or choice.label, names) | _typed(typed) for part, names in lists.items()]  # fmt: skip


def filter_groups(asked: Question) -> list[dict]:
    """Every filter that the records can answer, and what changes the figures but for the units, which stand in the top line."""
    order = sorted(FILTERS, key=lambda name: FILTERS[name].rare)
    return [group for name in (*order, *UNCOUNTED) if name != "units" for group in choice_groups(asked, name)]


def _group(
    choice: Choice, name: str, label: str, listed: Mapping[Any, str], fold: str = ""
) -> dict[str, Any]:
    names = {as_text(value): words for value, words in listed.items()}
    return group_of(
        name, label, names, single=not choice.several, look=choice.look, fold=MORE if choice.rare else fold
    )


def _typed(units: Mapping[str, tuple[str, int, int]]) -> dict[str, Any]:
    """What a field for a number of one's own says, where there is one."""
    told = [[unit, *each] for unit, each in units.items()]
    wrong = number_wrong(units)
    return {"typed": {"label": YOUR_NUMBER, "units": told, "wrong": wrong}} if units else {}


def number_wrong(units: Mapping[str, tuple[str, int, int]]) -> str:
    """``Write a whole number: 50 to 1,500 hours or 2 to 100 portions.``"""
    return WRONG_NUMBER.format(" or ".join(f"{least:,} to {most:,} {word}" for word, least, most in units.values()))  # fmt: skip


def _title(part: str) -> str:
    return part[:1].upper() + part[1:]
