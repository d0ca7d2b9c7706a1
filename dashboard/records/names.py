"""A cultivar found by what somebody makes of its name: hyphens, spaces, case and accents are free, and a letter may be wrong."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from functools import lru_cache

from rapidfuzz import process
from rapidfuzz.distance import OSA

FORGIVEN = 4  # letters and digits; in fewer, one that is wrong leaves too many names to mean
ALIKE = 0.6  # share of its letters that a name keeps with one it may have been meant for


@lru_cache(maxsize=8192)
def plain(text: str) -> str:
    """The letters and digits of a name, small and without accents; what has neither keeps its signs."""
    spread = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", text).casefold())
    return "".join(sign for sign in spread if sign.isalnum()) or "".join(spread.split())


def found(part: str, names: Sequence[str]) -> tuple[str, ...]:
    """Every one of ``names`` that ``part`` may stand for, the likeliest first, else in their order; none for an empty one.

    Those that hold it, before all where one or one of its words begins with it; where none does, those that come as near as one
    letter: a wrong one, one too many or too few, or two of them swapped.
    """
    wanted = plain(part)
    if not wanted:
        return ()
    ranked = [(place, name) for name in names if (place := _held(wanted, part, name)) is not None]
    if not ranked and len(wanted) >= FORGIVEN:
        ranked = [(place, name) for name in names if (place := _near(wanted, name)) is not None]
    return tuple(name for _, name in sorted(ranked, key=lambda one: one[0]))


def alike(name: str, names: Iterable[str]) -> list[str]:
    """Those of ``names`` with the same letters and digits in the same order."""
    return [one for one in names if plain(one) == plain(name)]


def nearest(name: str, names: Iterable[str]) -> str:
    """The one of ``names`` that was likeliest meant, or nothing."""
    near = process.extractOne(
        plain(name),
        {one: plain(one) for one in names},
        scorer=OSA.normalized_similarity,
        score_cutoff=ALIKE,
    )
    return str(near[2]) if near else ""


def _held(wanted: str, part: str, name: str) -> int | None:
    """How early a name holds what is wanted, 0 for the very name; None where it does not."""
    whole = plain(name)
    if name == part.strip():
        return 0
    if whole == wanted:
        return 1
    if whole.startswith(wanted):
        return 2
    if any(whole.startswith(wanted, start) for start in _starts(name)):
        return 3
    return 4 if wanted in whole else None


def _near(wanted: str, name: str) -> int | None:
    """0 where the whole name is one letter away, 1 where only its beginning or that of one of its words is; else None."""
    whole, length = plain(name), len(wanted)
    if OSA.distance(wanted, whole, score_cutoff=1) <= 1:
        return 0
    pieces = (
        whole[start : start + size] for start in _starts(name) for size in (length - 1, length, length + 1)
    )
    return 1 if any(OSA.distance(wanted, piece, score_cutoff=1) <= 1 for piece in pieces) else None


@lru_cache(maxsize=8192)
def _starts(name: str) -> tuple[int, ...]:
    """Where the words of a name begin in its letters and digits."""
    at, starts = 0, []
    for word in re.split(r"[\W_]+", name):
        if not word:
            continue
        starts.append(at)
        at += len(plain(word))
    return tuple(starts) or (0,)
