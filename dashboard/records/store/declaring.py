"""What holds for a whole trial, where a store has it declared already and records that come in declare something, too."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from typing import Any

from dashboard.records.declaration import Declaration
from dashboard.records.descriptor import about
from dashboard.records.schema import RATINGS
from dashboard.records.store.differing import Differing

_ENDS = ("low", "high", "best")
_GROWS = ("seasons", "not_used")  # more of them is no other declaration


def together(stored: Mapping[str, Any], coming: Mapping[str, Any]) -> dict[str, Any]:
    """The items of a store with those that come in over them: what they do not say stays as the store has it.

    Scales are taken end by end, from a sheet about as from a data package. Seasons become the first to the last of both.
    """
    items = copy.deepcopy(dict(stored))
    for item, value in coming.items():
        rating, _, end = item.rpartition("_")
        if item in ("first_season", "last_season"):
            _widened(items, {item: value})
        elif item == "seasons" and isinstance(value, list) and len(value) == 2:
            _widened(items, {"first_season": value[0], "last_season": value[1]})
        elif rating in RATINGS and end in _ENDS:
            items.setdefault("ratings", {}).setdefault(rating, {})[end] = value
        elif item == "ratings" and isinstance(value, Mapping):
            for name, scale in value.items():
                known = items.setdefault("ratings", {}).get(name, {})
                items["ratings"][name] = {**known, **scale} if isinstance(scale, Mapping) else scale
        elif item == "not_used":
            named = [one.strip() for one in value.split(";")] if isinstance(value, str) else list(value)
            items[item] = list(dict.fromkeys([*items.get(item, []), *named]))
        elif value not in ("", None):
            items[item] = value
    return items


def _widened(items: dict[str, Any], ends: Mapping[str, Any]) -> None:
    """The seasons so far, and a first or last one further out; what is no year is left for the reader to tell."""
    seasons = list(items.get("seasons", []))
    for end, value in ends.items():
        place, outer = (0, min) if end == "first_season" else (1, max)
        try:
            year = int(float(value))
        except (TypeError, ValueError):
            items[end] = value
            continue
        if len(seasons) == 2:
            seasons[place] = outer(seasons[place], year)
        else:
            items[end] = year
    if len(seasons) == 2:
        items["seasons"] = seasons


def changed_items(before: Declaration, after: Declaration, file: str, sheet: str) -> list[Differing]:
    """A conflict for each item that a store declares otherwise: it says how all its readings were taken."""
    had, has = about(before), about(after)
    return [
        Differing("error", file, sheet, None, item, _said(has.get(item)), f"is declared otherwise than in the store ({_said(had.get(item))})",
                "see which of the two holds for all its records", was=_said(had.get(item)))
        for item in dict.fromkeys([*had, *has])
        if item not in _GROWS and had.get(item) != has.get(item)
    ]  # fmt: skip


def _said(value: Any) -> str:
    if isinstance(value, Mapping):
        return "; ".join(
            f"{name} {' '.join(f'{end} {one:g}' for end, one in scale.items())}"
            for name, scale in value.items()
        )
    return (
        ("yes" if value else "no")
        if isinstance(value, bool)
        else "nothing"
        if value in (None, "")
        else str(value)
    )
