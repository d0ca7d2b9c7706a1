"""What a choice is: all that question, link, page, hall, paper and slate need of it, so that each is declared once.

The kinds are made by functions that stand in place of a field's default: ``flesh_colour: tuple[str, ...] = words(…)``. Which choices
there are: ``choices.py``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, fields, replace
from functools import lru_cache, partial
from typing import Any

import numpy as np

from dashboard.answers.catalogue import Catalogue
from dashboard.terms.traits import UNKNOWN

MOST = 24  # options; a choice of more would be no list to tick
Mask = np.ndarray  # one True or False a cultivar, in catalogue order


@dataclass(frozen=True)
class Choice:
    """``options`` are what may be asked for, in the order they are shown: a collection, or what says by ``in`` whether it knows one.

    The sentences hold a value as ``write`` gives it. An empty one is not told there.
    """

    default: Any
    options: Callable[[Catalogue], Any]
    label: str = ""  # over its list; "" for what is chosen by other means than a list
    write: Callable[[Catalogue, Any], str] = lambda _catalogue, value: as_text(value)
    option: str = "{}"  # in its list
    free: str = "any"  # there, for None
    short: str = ""  # in a hall
    full: str = ""  # on paper
    # A filter has what follows too.
    passes: Callable[[Catalogue, Any], Mask] | None = None  # who passes one value
    part: Callable[[Any], str] = lambda _value: (
        ""
    )  # which of its lists a value stands on; each must be passed
    further: Callable[[Catalogue, Any], bool] | None = None  # whether what is on no list may be asked for
    place: Callable[[Catalogue, Any], Any] | None = None  # where that stands among what is on the list
    # By unit in which a whole number may be typed its word, and the least and the most of it; "650" in "h" is "650h".
    typed: Callable[[Catalogue], dict[str, tuple[str, int, int]]] | None = None
    missing: Callable[[Catalogue, Any], Mask] | None = (
        None  # whom the records do not tell it of; None: "not recorded" is an option
    )
    why_missing: str = "not recorded"
    relaxed: str = ""  # in what may be taken off
    look: str = ""  # of its list
    rare: bool = False  # folded away until it is asked for

    @property
    def several(self) -> bool:
        return isinstance(self.default, tuple)

    def listed(self, catalogue: Catalogue, asked: Sequence[Any] = ()) -> dict[Any, str]:
        """Each option with its words in a list, and each value ``asked`` that is on no list."""
        values = [*self.options(catalogue), *(one for one in asked if one not in self.options(catalogue))]
        if self.place is not None:
            values.sort(key=partial(self.place, catalogue))
        return {value: self._option(catalogue, value) for value in values}

    def known(self, catalogue: Catalogue) -> Any:
        """All that may be asked for: what is on offer, and what may be asked for beside it."""
        options = self.options(catalogue)
        return options if self.further is None else Known(options, partial(self.further, catalogue))

    def told(self, sentence: str, catalogue: Catalogue, value: Any) -> str:
        """``sentence``, one of the three, with what was chosen in it."""
        lists: dict[str, list[str]] = {}
        for one in value if isinstance(value, tuple) else (value,):
            lists.setdefault(self.part(one), []).append(self.write(catalogue, one))
        return sentence.format(
            ", ".join(f"{name} {' or '.join(words)}".lstrip() for name, words in lists.items())
        )

    def loosest(self, value: Any) -> Any:
        """What it is relaxed to: its default, or ``value`` where that asks for less."""
        return min(self.default, value) if isinstance(self.default, int) else self.default

    def _option(self, catalogue: Catalogue, value: Any) -> str:
        return self.free if value is None else self.option.format(self.write(catalogue, value))


class Known(tuple[Any, ...]):
    """The options on offer, which knows by ``in`` what else may be asked for."""

    def __new__(cls, options: Iterable[Any], further: Callable[[Any], bool]) -> Known:
        made = super().__new__(cls, options)
        made.further = further
        return made

    further: Callable[[Any], bool]

    def __contains__(self, value: object) -> bool:
        return super().__contains__(value) or (isinstance(value, str) and self.further(value))


def as_text(value: Any) -> str:
    """A value as it stands in a link and behind a box; "" for none."""
    return "" if value is None else str(value)


def declared(question: type) -> dict[str, Choice]:
    """The choices among a dataclass's fields, by name, in their order."""
    return {one.name: one.metadata["choice"] for one in fields(question) if "choice" in one.metadata}


def choice(
    default: Any, options: Callable[[Catalogue], Any] | Sequence[Any], label: str = "", **more: Any
) -> Any:
    """A choice that changes the answer and not who passes; its default tells by its type whether it holds one value or several."""
    known = options if callable(options) else lambda _catalogue: options
    return _field(Choice(default, known, label, **more))


def words(column: str, label: str, trade: tuple[str, ...] = (), short: str = "{}", rare: bool = False) -> Any:
    """A filter on words of a column: several of some, the trade's first, then what else is recorded.

    A rare one is not asked of records that have none of it, or too many to tick.
    """

    def options(catalogue: Catalogue) -> tuple[str, ...]:
        recorded = set(catalogue.cultivars[column])
        every = (*trade, *sorted(recorded - set(trade)))
        return () if rare and (recorded <= {UNKNOWN} or len(every) > MOST) else every

    return several(
        label, options, lambda catalogue, word: (catalogue.cultivars[column] == word).to_numpy(dtype=bool), short=short, rare=rare
    )  # fmt: skip


def several(
    label: str, options: Callable[[Catalogue], Any], passes: Callable[[Catalogue, Any], Mask], **more: Any
) -> Any:
    """A filter of several options; who passes one of those ticked passes."""
    said = {"full": f"{label.lower()} {{}}", "relaxed": f"{label.lower()} ({{}})"}
    return _field(Choice((), options, label, passes=passes, **said | more))


def at_most(column: str, label: str, steps: Sequence[float], scale: str = "") -> Any:
    """A filter on a number of a column, one of some steps; whom the records do not tell it of does not pass and is counted.
    ``scale`` stands over the list alone.

    Only steps that part the recorded are on offer: others would leave all, or none.
    """

    def values(catalogue: Catalogue) -> np.ndarray:
        return catalogue.cultivars[column].to_numpy(dtype=float)

    def options(catalogue: Catalogue) -> tuple[Any, ...]:
        known = values(catalogue)[~np.isnan(values(catalogue))]
        parting = tuple(step for step in steps if len(known) and known.min() <= step < known.max())
        return (None, *parting) if parting else ()

    bound = f"{label.lower()} at most {{}}"
    relaxed = f"{label.lower()} (at most {{}})"
    said: dict[str, Any] = {"option": "at most {}", "short": bound, "full": bound, "relaxed": relaxed}
    return _field(
        Choice(
            None, options, f"{label} ({scale})" if scale else label, rare=True,
            passes=lambda catalogue, most: values(catalogue) <= most,  # what is not recorded compares False
            missing=lambda catalogue, _most: np.isnan(values(catalogue)),
            **said,
        )
    )  # fmt: skip


def at_least(
    label: str, options: Callable[[Catalogue], Any], passes: Callable[[Catalogue, Any], Mask], **more: Any
) -> Any:
    """A filter on a number that is known of every cultivar."""
    return _field(Choice(1, options, label, passes=passes, **more))


def _field(one: Choice) -> Any:
    """The options are looked for once a catalogue: every visitor and every page asks for them."""
    remembered = replace(one, options=lru_cache(maxsize=8)(one.options))
    return field(default=one.default, metadata={"choice": remembered})
