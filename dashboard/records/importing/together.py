"""Open questions that one answer may hold for, asked as one. Each keeps an answer of its own in the mapping.

Nothing is guessed by it: what is shown in a list is confirmed, and whatever is another thing in it is asked about by itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from dashboard.records.importing.kinds import (
    ASKS,
    BY_PLACE,
    COLUMNS,
    LISTS,
    NAMES,
    ORDER,
    OWN_NAMES,
    READINGS,
    SITES,
    YES,
    kind_of,
    place_of,
)
from dashboard.records.importing.mapping import Path_, Question
from dashboard.records.importing.pages import column_letter
from dashboard.records.importing.roles import NOT_USED

APART = 1.8  # times as large, in the middle of a file: seasons differ less, units more (judgement)
MOST = 30  # lines of a list that is confirmed at once, so that it is looked through (judgement)
_BY_LEVEL = (("unit",), ("doubted",))

Put = Callable[[Path_, str], None]
Ask = Callable[["Together", Put], bool]  # puts answers; whether to go on


@dataclass(frozen=True)
class Part:
    """One line: the questions of one thing, like a word that stands in several columns. They have one answer."""

    members: tuple[Question, ...]
    tag: str

    @property
    def first(self) -> Question:
        return self.members[0]

    @property
    def name(self) -> str:
        return self.first.line[1]

    @property
    def place(self) -> str:
        """The table or column that the line is of."""
        return place_of(self.first)

    @property
    def seen(self) -> str:
        """What stands there; of several columns how many cells."""
        places = list(dict.fromkeys(one.line[2] for one in self.members))
        if not self.first.count:
            return places[0]
        count = sum(one.count for one in self.members)
        more = f" and {len(places) - 3} more" if len(places) > 3 else ""
        return f"{count:,} {'cell' if count == 1 else 'cells'} in {', '.join(places[:3])}{more}"

    @property
    def alone(self) -> Question:
        """The question where it is asked by itself."""
        if len(self.members) == 1:
            return self.first
        return replace(
            self.first, about=f"{self.name}, {self.seen}" if self.first.count else self.first.about
        )


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
        if self.kind == "unit":
            return self.first.alike[1]
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
        if not one.takes(said):
            return (
                one.refuses(said)
                or f"“{said}” cannot be said of {one.about}; {part.tag} alone shows what can."
            )
    for one in part.members:
        put(one.path, said)
    return ""


def together(questions: Sequence[Question]) -> list[Together]:
    """The questions, those that one answer may hold for as one: columns first, names last, and within a kind in their order."""
    heaps: dict[object, list[Question]] = {}
    for place, one in enumerate(questions):
        heaps.setdefault(_key(one) if one.alike else place, []).append(one)
    heaps = _of_all_years(heaps)
    found: list[Together] = []
    for heap in _of_all_places(heaps.values()):
        for some in _on_one_level(heap) if heap[0].alike[:1] in _BY_LEVEL else [heap]:
            kind = kind_of(some[0])
            parts = _parts(some)
            alone = [part for part in parts if kind in (NAMES, OWN_NAMES, SITES) and not part.first.proposal]
            listed = [part for part in parts if part not in alone]
            found += [
                Together(kind, tuple(listed[start : start + MOST])) for start in range(0, len(listed), MOST)
            ]
            found += [Together(kind, (part,)) for part in alone]
    return _counted(sorted(found, key=lambda group: ORDER.index(group.kind) if group.kind in ORDER else 0))


def _counted(groups: Sequence[Together]) -> list[Together]:
    """Each list of columns, words or classes knows which of how many it is: after one it may seem that all was asked."""
    lists = {kind: [group for group in groups if group.kind == kind] for kind in BY_PLACE}
    nth = {id(group): f" (list {at} of {len(some)})" for some in lists.values() if len(some) > 1 for at, group in enumerate(some, 1)}  # fmt: skip
    return [replace(group, nth=nth.get(id(group), "")) for group in groups]


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


def offered_alike(open_: Sequence[Question], answered: Sequence[tuple[Question, str]]) -> list[Question]:
    """The open questions; one like others that were answered, all alike, has their answer for its offer."""
    said: dict[tuple, list[tuple[float, str]]] = {}
    for one, text in answered:
        if one.alike and one.alike[0] not in LISTS:
            said.setdefault((*_key(one), *_thing(one)), []).append((_level(one), text))
    found = []
    for one in open_:
        near = (
            [text for level, text in said.get((*_key(one), *_thing(one)), []) if _near(level, _level(one))]
            if one.alike
            else []
        )
        found.append(replace(one, offer=near[0]) if near and not one.offer and len({*near}) == 1 else one)
    return found


def _key(one: Question) -> tuple[object, ...]:
    return (one.alike, one.options if one.alike[0] not in LISTS else ())


def _of_all_years(heaps: dict[object, list[Question]]) -> dict[object, list[Question]]:
    """Ratings of several years or sheets together where they have the same ends there, of which the scale may be one."""
    found: dict[object, list[Question]] = {}
    for key, heap in heaps.items():
        if heap[0].alike[:1] == ("scale",):
            key = (
                "scale",
                heap[0].options,
                min(one.figures[0] for one in heap),
                max(one.figures[1] for one in heap),
            )
        found.setdefault(key, []).extend(heap)
    return found


def _of_all_places(heaps: Iterable[list[Question]]) -> Iterator[list[Question]]:
    """Lists of several tables as one where it is short enough to be looked through."""
    open_: dict[str, list[Question]] = {}
    for heap in heaps:
        kind = kind_of(heap[0])
        if kind not in BY_PLACE:
            yield heap
            continue
        together_ = open_.get(kind, [])
        if together_ and len(_parts(together_ + heap)) > MOST:
            yield open_.pop(kind)
        open_[kind] = open_.get(kind, []) + heap
    yield from open_.values()


def _thing(one: Question) -> tuple[str, ...]:
    """Words mean what they mean: the answer for one is none for another."""
    return (one.line[1],) if one.alike and one.alike[0] in ("marks", "words") else ()


def _level(one: Question) -> float:
    return one.figures[0] if one.alike[:1] in _BY_LEVEL and one.figures else 0.0


def _near(one: float, other: float) -> bool:
    return not one or not other or max(one, other) / min(one, other) < APART


def _on_one_level(heap: Sequence[Question]) -> Iterator[list[Question]]:
    """Those whose figures may be in one unit; what has no figures goes with the others where those are of one level."""
    levels: list[list[Question]] = []
    for one in sorted((one for one in heap if _level(one)), key=_level):
        if levels and _near(_level(levels[-1][0]), _level(one)):
            levels[-1].append(one)
        else:
            levels.append([one])
    if len(levels) == 1:
        yield list(heap)
        return
    order = {id(one): place for place, one in enumerate(heap)}
    rest = [one for one in heap if not _level(one)]
    yield from (sorted(some, key=lambda one: order[id(one)]) for some in (*levels, rest) if some)


def _parts(members: Sequence[Question]) -> list[Part]:
    """By name; each with a letter or number of its own."""
    things: dict[object, list[Question]] = {}
    for place, one in enumerate(members):
        things.setdefault((place_of(one), one.line[1] or place, one.proposal, one.options), []).append(one)
    tags = [some[0].line[0] for some in things.values()]
    if not all(tags) or len({*tags}) < len(tags):
        numbered = kind_of(members[0]) in LISTS
        tags = [
            str(number) if numbered else column_letter(number - 1).lower()
            for number in range(1, len(tags) + 1)
        ]
    return [Part(tuple(some), tag) for tag, some in zip(tags, things.values(), strict=True)]
