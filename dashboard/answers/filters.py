"""Which cultivars pass what was ticked, how many each other tick would leave, and what to untick when none does.

Everything is remembered by the catalogue and the filters, so the same question gives the same object.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.choices import FILTERS, Filters

REMEMBERED = 128  # answers kept of each kind, for all visitors together


List = tuple[str, str]  # a field, and which of its lists ("" where it has but one)


@dataclass(frozen=True)
class Emptied:
    """Why nothing passes: the field whose relaxation brings back most, and how many cultivars that would be.

    ``field`` is "" when no single one is to blame; ``would_leave`` then counts what is left without any.
    """

    sentence: str
    field: str
    would_leave: int
    offer: str = ""  # what a button that relaxes it says
    relaxed: Any = None  # what the field is relaxed to


@lru_cache(maxsize=REMEMBERED)
def passes(catalogue: Catalogue, filters: Filters) -> np.ndarray:
    """One True or False a cultivar, in catalogue order (read-only)."""
    answer = _all_but(_masks(catalogue, filters), None, len(catalogue.cultivars))
    answer.setflags(write=False)
    return answer


@lru_cache(maxsize=REMEMBERED)
def counts(catalogue: Catalogue, filters: Filters) -> dict[str, dict[Any, int]]:
    """How many cultivars would pass if just this option of this field were chosen, the other fields held."""
    masks, answer = _masks(catalogue, filters), {}
    for name, choice in FILTERS.items():
        options = choice.options(catalogue)
        held = {
            part: _all_but(masks, (name, part), len(catalogue.cultivars))
            for part in set(map(choice.part, options))
        }
        answer[name] = {
            option: int(np.count_nonzero(held[choice.part(option)] & passing))
            for option, passing in _alone(catalogue, name).items()
        }
    return answer


def would_leave(catalogue: Catalogue, filters: Filters, name: str, option: Any) -> int:
    """The same of one option, which need not be on offer."""
    held = _all_but(_masks(catalogue, filters), (name, FILTERS[name].part(option)), len(catalogue.cultivars))
    return int(np.count_nonzero(held & alone(catalogue, name, option)))


@lru_cache(maxsize=REMEMBERED)
def left_out(catalogue: Catalogue, filters: Filters) -> dict[str, str]:
    """By filter that is set, how many pass the others and are left out because the records do not tell it of them; none, no entry."""
    told: dict[str, list[str]] = {}
    for (name, _), count in untold(catalogue, filters).items():
        told.setdefault(name, []).append(f"{count:,} left out: {FILTERS[name].why_missing}")
    return {name: "; ".join(notes) for name, notes in told.items()}


def all_missing(catalogue: Catalogue, name: str, options: Sequence[str]) -> np.ndarray:
    """(cultivars,) of whom the records tell nothing that any of the options asks for."""
    return np.logical_and.reduce([missing(catalogue, name, one) for one in options])


@lru_cache(maxsize=REMEMBERED)
def untold(catalogue: Catalogue, filters: Filters) -> dict[List, int]:
    """By list of a filter, how many pass the others and are left out because the records do not tell it of them; none, no entry."""
    masks, found = _masks(catalogue, filters), {}
    for name, part in masks:
        asked = [one for one in _asked(filters, name) if FILTERS[name].part(one) == part]
        unknown = all_missing(catalogue, name, asked)
        if count := int(np.count_nonzero(_all_but(masks, (name, part), len(unknown)) & unknown)):
            found[name, part] = count
    return found


@lru_cache(maxsize=REMEMBERED)
def emptied(catalogue: Catalogue, filters: Filters) -> Emptied | None:
    """None while any cultivar passes. A season filter is relaxed to one season, never to fruit never picked."""
    if passes(catalogue, filters).any():
        return None
    loosest = Filters(**{name: one.loosest(getattr(filters, name)) for name, one in FILTERS.items()})
    unfiltered = passes(catalogue, loosest)
    whole = int(unfiltered.sum())
    if not whole:
        return Emptied("No cultivar has been picked yet.", "", 0)
    masks = _masks(catalogue, filters)
    left = {one: int((_all_but(masks, one, len(unfiltered)) & unfiltered).sum()) for one in masks}
    found = name, part = max(left, key=lambda key: left[key])  # the first asked of equals
    if not left[found]:
        sentence = f"No cultivar passes, and no one filter alone is the cause; without any there are {whole}."
        return Emptied(sentence, "", whole, f"Take all filters off: {whole} left")
    choice, asked = FILTERS[name], getattr(filters, name)
    kept = tuple(one for one in asked if choice.part(one) != part) if choice.several else choice.default
    blamed = tuple(one for one in asked if choice.part(one) == part) if choice.several else asked
    described = choice.told(choice.relaxed, catalogue, blamed)
    sentence = (
        f"No cultivar passes every filter; without the one on {described} there would be {left[found]}."
    )
    return Emptied(sentence, name, left[found], f"Take off {described}: {left[found]} left", kept)


def alone(catalogue: Catalogue, name: str, option: Any) -> np.ndarray:
    """Who passes one option of one filter (read-only); None, anything, takes all."""
    known = _alone(catalogue, name)
    return known[option] if option in known else _passing(catalogue, name, option)


def missing(catalogue: Catalogue, name: str, option: Any) -> np.ndarray:
    """Of whom the records do not tell whether they pass one option; of nobody where "not recorded" is an option itself."""
    unknown = FILTERS[name].missing
    if unknown is None or option is None:
        return np.zeros(len(catalogue.cultivars), dtype=bool)
    return unknown(catalogue, option)


@lru_cache(maxsize=256)
def _alone(catalogue: Catalogue, name: str) -> dict[Any, np.ndarray]:
    return {option: _passing(catalogue, name, option) for option in FILTERS[name].options(catalogue)}


def _passing(catalogue: Catalogue, name: str, option: Any) -> np.ndarray:
    passing = FILTERS[name].passes
    assert passing is not None
    mask = np.ones(len(catalogue.cultivars), dtype=bool) if option is None else passing(catalogue, option)
    mask.setflags(write=False)
    return mask


def _masks(catalogue: Catalogue, filters: Filters) -> dict[List, np.ndarray]:
    """Who passes each filter that asks for something, by field and list: any option of a list will do."""
    passing: dict[List, list[np.ndarray]] = {}
    for name in FILTERS:
        for option in _asked(filters, name):
            passing.setdefault((name, FILTERS[name].part(option)), []).append(alone(catalogue, name, option))
    return {one: np.logical_or.reduce(masks) for one, masks in passing.items()}


def _asked(filters: Filters, name: str) -> tuple[Any, ...]:
    asked = getattr(filters, name)
    return asked if isinstance(asked, tuple) else () if asked is None else (asked,)


def _all_but(masks: dict[List, np.ndarray], left_out: List | None, count: int) -> np.ndarray:
    answer = np.ones(count, dtype=bool)
    for one, mask in masks.items():
        if one != left_out:
            answer &= mask
    return answer
