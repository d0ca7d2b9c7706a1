"""Which cultivars pass what was ticked, how many each other tick would leave, and what to untick when none does.

Everything is remembered by the catalogue and the filters, so the same question gives the same object.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np
import pandas as pd

from dashboard.answers.catalogue import Catalogue
from dashboard.ripening import half_label, half_span, halves
from dashboard.terms.traits import CLASSES

# Fields answered by ticking words; their options come from the trade's words and the records.
WORD_FIELDS = ("fruit_type", "flesh_colour", "acidity_class", "shape_type", "stone", "status")
REMEMBERED = 256  # answers kept of each kind, for all visitors together
_SEASON_STEPS = (1, 2, 3, 5, 8)


class Filters(NamedTuple):
    """What was asked of the cultivars. Several options of one field take any of them; none takes all.

    Ripening is asked by halves of months ("07a"): the usual window must overlap one of them.
    """

    fruit_type: tuple[str, ...] = ()
    flesh_colour: tuple[str, ...] = ()
    acidity_class: tuple[str, ...] = ()
    shape_type: tuple[str, ...] = ()
    stone: tuple[str, ...] = ()
    status: tuple[str, ...] = ()
    ripening: tuple[str, ...] = ()
    seasons: int = 1


@dataclass(frozen=True)
class Emptied:
    """Why nothing passes: the field whose relaxation brings back most, and how many cultivars that would be.

    ``field`` is "" when no single one is to blame; ``would_leave`` then counts what is left without any.
    """

    sentence: str
    field: str
    would_leave: int
    offer: str = ""  # what a button that relaxes it says


@lru_cache(maxsize=REMEMBERED)
def passes(catalogue: Catalogue, filters: Filters) -> np.ndarray:
    """One True or False a cultivar, in catalogue order (read-only)."""
    answer = _all_but(_masks(catalogue, filters), "", len(catalogue.cultivars))
    answer.setflags(write=False)
    return answer


@lru_cache(maxsize=REMEMBERED)
def counts(catalogue: Catalogue, filters: Filters) -> dict[str, dict[Any, int]]:
    """How many cultivars would pass if just this option of this field were chosen, the other fields held."""
    masks, windows = _masks(catalogue, filters), catalogue.windows
    answer: dict[str, dict[Any, int]] = {}
    for name in WORD_FIELDS:
        options, codes = coded(catalogue, name)
        held = _all_but(masks, name, len(codes))
        found = np.bincount(codes[held], minlength=len(options)).tolist()
        answer[name] = dict(zip(options, found, strict=True))
    held = _all_but(masks, "ripening", len(windows))
    answer["ripening"] = {
        half: int((held & overlaps).sum()) for half, overlaps in _picked_in(catalogue).items()
    }
    held, seasons = _all_but(masks, "seasons", len(windows)), windows["seasons"].to_numpy()
    answer["seasons"] = {least: int((held & (seasons >= least)).sum()) for least in season_steps(catalogue)}
    return answer


@lru_cache(maxsize=REMEMBERED)
def emptied(catalogue: Catalogue, filters: Filters) -> Emptied | None:
    """None while any cultivar passes. A season filter is relaxed to one season, never to fruit never picked."""
    if passes(catalogue, filters).any():
        return None
    unfiltered = Filters(seasons=min(1, filters.seasons))
    whole = int(passes(catalogue, unfiltered).sum())
    if not whole:
        return Emptied("No cultivar has been picked yet.", "", 0)
    masks, least = _masks(catalogue, filters), passes(catalogue, unfiltered)
    left = {name: int((_all_but(masks, name, len(least)) & least).sum()) for name in masks}
    name = max(left, key=lambda key: left[key])  # the first asked of equals
    if not left[name]:
        sentence = f"No cultivar passes, and no one filter alone is the cause; without any there are {whole}."
        return Emptied(sentence, "", whole, f"Take all filters off: {whole} left")
    described = _described(name, filters)
    sentence = f"No cultivar passes every filter; without the one on {described} there would be {left[name]}."
    return Emptied(sentence, name, left[name], f"Take off {described}: {left[name]} left")


@lru_cache(maxsize=64)
def coded(catalogue: Catalogue, name: str) -> tuple[tuple[str, ...], np.ndarray]:
    """The options of a word field and which of them each cultivar has: the trade's words first, then others."""
    column = catalogue.cultivars[name]
    words = CLASSES[name][1] if name in CLASSES else ()
    options = (*words, *sorted(set(column) - set(words)))
    return options, pd.Index(options, dtype="str").get_indexer(column)


def season_steps(catalogue: Catalogue) -> tuple[int, ...]:
    """The least numbers of seasons that can be asked for: those some cultivar has."""
    most = int(catalogue.windows["seasons"].max()) if len(catalogue.windows) else 1
    return tuple(step for step in _SEASON_STEPS if step <= max(most, 1))


@lru_cache(maxsize=8)
def _picked_in(catalogue: Catalogue) -> dict[str, np.ndarray]:
    """Which cultivars are usually picked in each half month of the season."""
    return {
        half: _overlaps(catalogue.windows, half, catalogue.south)
        for half in halves(catalogue.windows, catalogue.south)
    }


def _overlaps(windows: pd.DataFrame, half: str, south: bool) -> np.ndarray:
    """Whose usual window touches a half month; ends are rounded to days as they are written."""
    opens, closes = half_span(half, south)
    first, last = windows["first"].to_numpy(), windows["last"].to_numpy()
    return (last >= opens - 0.5) & (first < closes + 0.5)  # a missing window compares False


def _masks(catalogue: Catalogue, filters: Filters) -> dict[str, np.ndarray]:
    """Who passes each filter that was set, by field."""
    masks = {}
    for name in WORD_FIELDS:
        chosen = getattr(filters, name)
        if chosen:
            options, codes = coded(catalogue, name)
            masks[name] = np.array([option in chosen for option in options], dtype=bool)[codes]
    if filters.ripening:
        asked = [_overlaps(catalogue.windows, half, catalogue.south) for half in filters.ripening]
        masks["ripening"] = np.logical_or.reduce(asked)
    if filters.seasons > 0:
        masks["seasons"] = catalogue.windows["seasons"].to_numpy() >= filters.seasons
    return masks


def _all_but(masks: dict[str, np.ndarray], left_out: str, count: int) -> np.ndarray:
    answer = np.ones(count, dtype=bool)
    for name, mask in masks.items():
        if name != left_out:
            answer &= mask
    return answer


def _described(name: str, filters: Filters) -> str:
    if name == "seasons":
        return f"seasons (at least {filters.seasons})"
    if name == "ripening":
        return f"picking time ({' or '.join(half_label(half) for half in filters.ripening)})"
    label = CLASSES[name][0] if name in CLASSES else "Status"
    return f"{label.lower()} ({' or '.join(getattr(filters, name))})"
