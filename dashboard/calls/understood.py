"""What somebody wrote in a notebook, found among what there is; else one sentence with the nearest."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from functools import wraps
from inspect import signature
from numbers import Integral, Real
from typing import Any, ParamSpec, TypeVar

import pandas as pd

from dashboard.records.names import found, nearest, plain
from dashboard.wording.figures import listed

Value = TypeVar("Value")
Taken = ParamSpec("Taken")
Given = TypeVar("Given")
LONGEST = 60  # characters of what was written, in a sentence
MOST = 12  # names of what there is, in a sentence


class AskError(ValueError):
    """What a call was given cannot be followed; its text is one sentence with what to write instead."""

    def _render_traceback_(self) -> list[str]:
        """Jupyter shows the sentence alone: the lines in between tell nothing of what to write."""
        return [f"Not understood: {self}"]


class NoNameError(AskError, KeyError, AttributeError):
    """A column or a row that an answer has not. It is what pandas looks out for, too; its sentence is made when it is told."""

    def __init__(
        self, said: Any, what: str, names: Iterable[Any], headings: Mapping[str, str] | None = None
    ) -> None:
        super().__init__(said)
        self.said, self.what, self.names, self.headings = said, what, names, headings or {}

    def __str__(self) -> str:
        if isinstance(self.said, str) and self.said in self.headings:
            return f"The column {shown(self.said)} is called {self.headings[self.said]!r} here."
        try:
            near = word(self.said, {str(name): str(name) for name in self.names}, self.what)
        except AskError as fault:
            return str(fault)
        return f"There is no {self.what} {shown(self.said)}; did you mean {near!r}?"


def plainly(call: Callable[Taken, Given]) -> Callable[Taken, Given]:
    """A call whose arguments are looked at by name first: one that it does not take is told with the nearest that it does."""
    known = signature(call)

    @wraps(call)
    def checked(*args: Taken.args, **named: Taken.kwargs) -> Given:
        try:
            known.bind(*args, **named)
        except TypeError as fault:
            raise AskError(_not_taken(call.__name__, [*known.parameters], named, str(fault))) from None
        return call(*args, **named)

    return checked


def _not_taken(called: str, names: list[str], given: Mapping[str, Any], why: str) -> str:
    """What is wrong with the arguments of a call, and what it takes."""
    ways = {name: name for name in names if name != "self"}
    for name in given:
        try:
            word(name, ways, f"argument of {called}")
        except AskError as fault:
            return str(fault)
    return f"{called} cannot be called so ({why}); it takes {listed([*ways], MOST) or 'nothing'}."


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


def text(said: Any, what: str, such_as: str) -> str:
    """What is written as text."""
    if not isinstance(said, str):
        raise AskError(f'{what} is written as text, such as "{such_as}", not as {shown(said)}.')
    return said


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
