"""Open questions that one answer may hold for, asked as one. Each keeps an answer of its own in the mapping.

Nothing is guessed by it: what is shown in a list is confirmed, and whatever is another thing in it is asked about by itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from dashboard.records.importing.kinds import (
    ASKS,
    CLASSES,
    COLUMNS,
    LISTS,
    ONE_BY_ONE,
    READINGS,
    YES,
    place_of,
)
from dashboard.records.importing.mapping import Path_, Question
from dashboard.records.importing.roles import NOT_USED

APART = 1.8  # times as large, in the middle of a file: seasons differ less, units more (judgement)
_SHOWN = 3  # names, places and cells of a line that is of several

Put = Callable[[Path_, str], None]
Ask = Callable[["Together", Put], bool]  # puts answers; whether to go on


@dataclass(frozen=True)
class Part:
    """One line: the questions of one thing, like a word that stands in several columns, or a column of several sheets. They have one answer."""

    members: tuple[Question, ...]
    tag: str

    @property
    def first(self) -> Question:
        return self.members[0]

    @property
    def name(self) -> str:
        return _some(one.line[1] for one in self.members)

    @property
    def place(self) -> str:
        """The table or column that the line is of, or the first of them; sheets of one file by its name and theirs."""
        places = dict.fromkeys(place_of(one) for one in self.members)
        files = {file for file, _, sheet in (place.partition(": ") for place in places) if sheet}
        if len(places) == 1 or len(files) != 1:
            return _some(places)
        file = files.pop()
        return f"{file}: {_some(place.removeprefix(f'{file}: ') for place in places)}"

    @property
    def seen(self) -> str:
        """What stands there; of several columns how many cells, and of several sheets the first cell of some. Without a proposal also what
        each answer would make of the first."""
        places = list(dict.fromkeys(one.line[2] for one in self.members))
        if self.first.count:
            count = sum(one.count for one in self.members)
            counted = f"{count:,} {'cell' if count == 1 else 'cells'}"
            return counted if self.first.alike[0] == CLASSES else f"{counted} in {_some(places)}"
        if len(self.members) > 1:
            cells = {one.shown[0].strip() if one.alike[0] == COLUMNS and one.shown else one.line[2]: None for one in self.members}  # fmt: skip
            places = list(cells) if len(cells) > 1 else places
        told = "; ".join(places[:_SHOWN])
        return f"{told} ({self.first.becomes})" if self.first.becomes and not self.first.proposal else told

    @property
    def told(self) -> str:
        """What stands behind the arrow."""
        return (self.first.proposal and self.first.becomes) or self.first.proposal

    @property
    def alone(self) -> Question:
        """The question where it is asked by itself."""
        if len(self.members) == 1:
            return self.first
        if self.first.count:
            return replace(self.first, about=f"{self.name}, {self.seen}")
        where = f"{self.name}, {self.place}" if self.place and self.place != self.name else self.name
        return replace(
            self.first, about=where, options=(*self.first.options, ONE_BY_ONE) if self.first.options else ()
        )


def _some(names: Iterable[str]) -> str:
    """The first of some names, and how many more."""
    told = list(dict.fromkeys(names))
    return ", ".join(told[:_SHOWN]) + (f" and {len(told) - _SHOWN} more" if len(told) > _SHOWN else "")


@dataclass(frozen=True)
class Together:
    kind: str
    parts: tuple[Part, ...]
    nth: str = ""  # which of several lists of its kind

    @property
    def members(self) -> tuple[Question, ...]:
        return tuple(one for part in self.parts for one in part.members)

    @property
    def single(self) -> bool:
        return len(self.parts) == 1

    @property
    def first(self) -> Question:
        return self.parts[0].first

    @property
    def heads(self) -> dict[str, str]:
        """By the tag of the first line of each table or column its name, where there are several."""
        first = {part.place: part.tag for part in reversed(self.parts)}
        return {tag: place for place, tag in first.items()} if len(first) > 1 else {}

    @property
    def about(self) -> str:
        if self.single:
            return self.parts[0].alone.about
        return "" if self.heads else self.parts[0].place

    @property
    def asks(self) -> str:
        asks = self.first.asks if self.single else ASKS.get(self.kind, self.first.asks)
        asks = asks.format(self.first.alike[1]) if self.kind == "fixed" and not self.single else asks
        return asks + self.nth

    @property
    def words(self) -> tuple[str, ...]:
        """What may be said of all lines at once; ANY: something else as well."""
        if self.kind not in LISTS:
            return self.first.options
        left_out = (NOT_USED,) if self.kind in (COLUMNS, READINGS) else ()
        return ((YES,) if any(part.first.proposal for part in self.parts) else ()) + left_out

    def takes(self, said: str) -> bool:
        """Whether it may be said of all lines at once, each of which may refuse it still."""
        return said in self.words or (self.kind not in LISTS and self.first.takes(said))

    def meant(self, said: str) -> str:
        return self.first.meant(said) if self.kind not in LISTS else said.casefold()

    def without(self, parts: Iterable[Part]) -> Together:
        gone = list(parts)
        return replace(self, parts=tuple(part for part in self.parts if part not in gone))


def answer(part: Part, said: str) -> str:
    """What an answer for all lines is for one of them; "" where the list has nothing to confirm in it."""
    return (
        part.first.proposal
        if said == YES and (part.first.proposal or YES not in part.first.options)
        else said
    )


def put_all(part: Part, said: str, put: Put) -> str:
    """Give one line its answer; why it cannot be, where a question of it refuses."""
    for one in part.members:
        if not one.takes(one.meant(said)):
            return (
                one.refuses(said)
                or f"“{said}” cannot be said of {one.about}; {part.tag} alone shows what can."
            )
    for one in part.members:
        put(one.path, one.meant(said))
    return ""


def listed(question: Question, name: str, *kind: str) -> Question:
    """The question with what a list says of it."""
    return replace(question, alike=kind, line=("", name, question.shown[0].strip() if question.shown else ""))


def singly(ask: Callable[[Question], str | None]) -> Ask:
    """Somebody who answers each question by itself; None to go on later."""

    def each(group: Together, put: Put) -> bool:
        for one in group.members:
            said = ask(one)
            if said is None:
                return False
            put(one.path, said)
        return True

    return each
