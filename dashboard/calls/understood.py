"""What somebody wrote in a notebook, found among what there is; else one sentence with the nearest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from numbers import Integral, Real
from typing import Any, TypeVar

import pandas as pd

from dashboard.records.names import found, nearest, plain
from dashboard.wording.figures import listed

Value = TypeVar("Value")
LONGEST = 60  # characters of what was written, in a sentence
MOST = 12  # names of what there is, in a sentence


class AskError(ValueError):
    """What a call was given cannot be followed; its text is one sentence with what to write instead."""

    def _render_traceback_(self) -> list[str]:
        """Jupyter shows the sentence alone: the lines in between tell nothing of what to write."""
        return [f"Not understood: {self}"]


@contextmanager
def as_written() -> Iterator[None]:
    """A ValueError of one sentence, from a reader of names or days, as a fault of what was written."""
    try:
        yield
    except AskError:
        raise
    except ValueError as fault:
        raise AskError(str(fault)) from None


def shown(said: Any) -> str:
    """What was written, short enough for a sentence."""
    try:
        text = " ".join(repr(said).split())
    except Exception:
        text = f"a {type(said).__name__}"
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 1]}…"


def word(said: Any, ways: Mapping[str, Value], what: str) -> Value:
    """The value whose spelling was written; capitals, hyphens and spaces are free. ``what`` it is, as in "market"."""
    if not isinstance(said, str):
        raise AskError(f"A {what} is written as text in quotation marks, not as {shown(said)}.")
    if said in ways:
        return ways[said]
    if (wanted := plain(said)) and wanted in (same := {plain(way): value for way, value in ways.items()}):
        return same[wanted]
    if not ways:
        raise AskError(f"There is no {what} {shown(said)}: these records tell of none.")
    near = nearest(said, ways) or next(iter(found(said, tuple(ways))), "")
    hint = f"did you mean {near!r}?" if near else f"there {_there_are(ways)}."
    raise AskError(f"There is no {what} {shown(said)}; {hint}")


def words(said: Any, ways: Mapping[str, Value], what: str) -> tuple[Value, ...]:
    """One or several of them, each once, in their order."""
    return tuple(dict.fromkeys(word(one, ways, what) for one in several(said, what)))


def several(said: Any, what: str) -> tuple[Any, ...]:
    """One text, or a list of texts; of an answer, the names of its rows."""
    if isinstance(said, str):
        return (said,)
    if isinstance(said, pd.DataFrame):
        return tuple(said.index)
    try:
        return () if said is None else tuple(said)
    except TypeError:
        raise AskError(
            f"A {what} is written as text, or several as a list of texts, not as {shown(said)}."
        ) from None


def one_or_several(said: Any, what: str) -> tuple[Any, ...]:
    """The same of what need not be text: one, or a list of them."""
    return several(said, what) if isinstance(said, Iterable) else (said,)


def whole(said: Any, what: str, least: int, most: int | None = None) -> int:
    """A whole number between two."""
    bounds = f"from {least} to {most}" if most is not None else f"of {least} or more"
    if isinstance(said, bool) or not isinstance(said, Integral):
        raise AskError(f"{what} is a whole number {bounds}, not {shown(said)}.")
    if int(said) < least or (most is not None and int(said) > most):
        raise AskError(f"{what} is a whole number {bounds}; {shown(said)} is not.")
    return int(said)


def number(said: Any, what: str, least: float, most: float) -> float:
    """A number between two."""
    if isinstance(said, bool) or not isinstance(said, Real) or not least <= float(said) <= most:
        raise AskError(f"{what} is a number from {least:g} to {most:g}, not {shown(said)}.")
    return float(said)


def yes_or_no(said: Any, what: str) -> bool:
    if not isinstance(said, bool):
        raise AskError(f"{what} is True or False, not {shown(said)}.")
    return said


def _there_are(ways: Mapping[str, Any]) -> str:
    """Each thing by one of its spellings, the first."""
    first: dict[Any, str] = {}
    for way, value in ways.items():
        first.setdefault(value if isinstance(value, str | tuple) else id(value), repr(way))
    names = list(first.values())
    return f"{'is' if len(names) == 1 else 'are'} {listed(names, MOST)}"
