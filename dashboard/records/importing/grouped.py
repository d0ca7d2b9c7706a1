"""Which open questions one answer may hold for, and in which order they are asked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from dashboard.records.importing.kinds import (
    BY_PLACE,
    COLUMNS,
    DAYS,
    DECIMALS,
    DOUBTED,
    LISTS,
    NAMES,
    ORDER,
    OWN_NAMES,
    SCALES,
    SITES,
    UNITS,
    kind_of,
    place_of,
)
from dashboard.records.importing.mapping import Question
from dashboard.records.importing.pages import column_letter
from dashboard.records.importing.together import APART, Part, Together

MOST = 30  # lines of a list that is confirmed at once, so that it is looked through (judgement)
_MEASURED = (UNITS, DOUBTED, SCALES)  # what was answered of one is offered of others like it


def together(questions: Sequence[Question]) -> list[Together]:
    """The questions, those that one answer may hold for as one: columns first, names last, and within a kind in their order."""
    heaps: dict[object, list[Question]] = {}
    for place, one in enumerate(questions):
        heaps.setdefault(_heap(one) if one.alike else place, []).append(one)
    found: list[Together] = []
    for heap in _of_all_places(heaps.values()):
        kind = kind_of(heap[0])
        parts = _parts(heap)
        alone = [
            part
            for part in parts
            if kind in (NAMES, OWN_NAMES, SITES) and not (part.first.proposal or part.first.becomes)
        ]
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


def offered_alike(open_: Sequence[Question], answered: Sequence[tuple[Question, str]]) -> list[Question]:
    """The open questions; one like others that were answered, all alike, has their answer for its offer."""
    said: dict[tuple, list[tuple[float, str]]] = {}
    for one, text in answered:
        if one.alike and (one.alike[0] not in LISTS or one.alike[0] in _MEASURED):
            said.setdefault(_like(one), []).append((_level(one), text))
    found = []
    for one in open_:
        near = (
            [text for level, text in said.get(_like(one), []) if _near(level, _level(one))]
            if one.alike
            else []
        )
        found.append(replace(one, offer=near[0]) if near and not one.offer and len({*near}) == 1 else one)
    return found


def _like(one: Question) -> tuple[object, ...]:
    """What questions have in common of which one's answer is offered of the other; words mean what they mean."""
    alike = (one.alike[0], *one.alike[2:]) if one.alike[0] in (UNITS, DOUBTED) else one.alike
    return (alike, one.options, one.line[1] if one.alike[0] in ("marks", "words") else "")


def _heap(one: Question) -> tuple[object, ...]:
    """What stands in one list, or has one answer."""
    if kind_of(one) in BY_PLACE or kind_of(one) == DAYS:
        return one.alike[:2] if kind_of(one) in BY_PLACE else (DAYS,)
    return (one.alike, one.options if one.alike[0] not in LISTS else ())


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


def _parts(members: Sequence[Question]) -> list[Part]:
    """The lines, those of one table beside each other, each with a letter or number of its own."""
    things: list[tuple[object, list[Question]]] = []
    for place, one in enumerate(members):
        thing = _ends(one, members) if kind_of(one) == SCALES else _thing(one, place)
        near = (some for key, some in things if key == thing and all(_near(_level(one), _level(other)) for other in some))  # fmt: skip
        some = next(near, None)
        if some is None:
            things.append((thing, [one]))
        else:
            some.append(one)
    parts = [Part(tuple(some), some[0].line[0]) for _, some in things]
    places = list(dict.fromkeys(part.place for part in parts))
    parts.sort(key=lambda part: places.index(part.place))
    tags = [part.tag for part in parts]
    if len(places) > 1 or not all(tags) or len({*tags}) < len(tags):
        numbered = kind_of(members[0]) in LISTS
        tags = [str(number) if numbered else column_letter(number - 1).lower() for number in range(1, len(tags) + 1)]  # fmt: skip
    return [replace(part, tag=tag) for part, tag in zip(parts, tags, strict=True)]


def _thing(one: Question, place: int) -> tuple[object, ...]:
    """What questions have in common that are one line: columns of several sheets their heading, figures what they are of, others their name."""
    kind, answers = kind_of(one), (one.proposal, one.options)
    if kind == COLUMNS:
        return (one.line[1] or place, bool(one.figures), *answers)
    if kind in (UNITS, DOUBTED):
        return (one.alike[2:], *answers)
    if kind in (DAYS, DECIMALS):
        return (one.alike[1:], one.becomes, *answers)
    return (place_of(one), one.line[1] or place, *answers)


def _ends(one: Question, members: Sequence[Question]) -> tuple[object, ...]:
    """Ratings of one year are one line, those of several years or sheets only where they have the same ends there."""
    year = [other.figures for other in members if other.alike == one.alike and other.options == one.options]
    return (one.options, one.proposal, min(low for low, _ in year), max(high for _, high in year))


def _level(one: Question) -> float:
    return one.figures[0] if one.alike[:1] in ((COLUMNS,), (UNITS,), (DOUBTED,)) and one.figures else 0.0


def _near(one: float, other: float) -> bool:
    return not one or not other or max(one, other) / min(one, other) < APART
