"""Names as the sheets spell them, and the names they stand for: confirmed once, kept in the mapping, never guessed.

Two spellings are near where only case, spaces, accents, a sign that looks like another, or a letter or two part them. A figure that
differs makes another name: K18-256 and K18-257 are two selections.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Mapping, Sequence
from datetime import date
from functools import lru_cache

import numpy as np
from rapidfuzz import process
from rapidfuzz.distance import OSA

from dashboard.records.advice import Said
from dashboard.records.importing.roles import NOT_USED
from dashboard.records.name_lists import DATE, NUMBER
from dashboard.records.names import plain
from dashboard.records.plain_text import texts
from dashboard.records.problems import quoted

SUMMARIES = frozenset(
    ("average", "avg", "mean", "total", "sum", "sd", "stdev", "std", "min", "max", "minimum", "maximum", "median", "count", "n", "notes", "note", "checked", "overall", "lsd", "cv", "se", "sem", "grand mean", "overall mean")
)  # fmt: skip
IS_NEW = "is new"
SUMS_UP = "may be a row that sums up others"
NEAR = "is near a name that is there"
OFTEN = "is near a name that stands as often"
_MANY, _SHARE = (
    50,
    0.25,
)  # places of each, and of the rarer beside the other: a slip of the hand is not made so often (judgement)
_ALIKE = str.maketrans("oilsb", "01158")  # letters that are taken for figures
_LONG = 8  # letters from which on two may be wrong
_SHORT = 4
_TOLD = 3  # letters from which on a name within a title is one
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_SPOILED = re.compile(r"\d{4}-\d{2}-\d{2}|\d{1,2}-[A-Z][a-z]{2}|[A-Z][a-z]{2}-\d{2}|\d+(\.\d+)?")
_NO_NAMES = ("yes", "no", "y", "n", "ok", "right", "all")
_ISO = re.compile(r"(\d{4})-(\d{2})-(\d{2})(?: .*)?")


def tidy(name: str) -> str:
    return " ".join(name.split())


def no_name(spelled: Container[str], said: str) -> str:
    """Why a word that nobody wrote as a name can be none: it answers another question."""
    if said in spelled or not (said.casefold() in _NO_NAMES or said.isdigit()):
        return ""
    return f"{quoted(said)} is no name in your sheets; type the name itself."


def name_fault(name: str) -> Said | None:
    """Why a cell can be no name: it holds characters that nobody sees, or far too many, or no letter and no digit."""
    if name and not any(map(str.isalnum, name)):
        return (
            "has no letter and no digit, so it is no name",
            "write the name; where it is that of the row above, leave the cell empty",
        )
    _, faults, _ = texts(np.array([name], dtype=object), False)
    return faults[0][1] if faults else None


Asked = tuple[str, tuple[str, ...], str]  # why, what it may stand for, the offer


def asked_names(
    counts: Mapping[str, int], known: Sequence[str], answered: Mapping[str, object], every: bool = False
) -> dict[str, Asked]:
    """Spellings that somebody has to say something of; those that need no word are left out.

    ``counts``: how often each spelling stands in the sheets; ``known``: names of the trial; ``answered``: what is settled;
    ``every``: ask of each new name, also in a trial that has none yet.
    """
    sites = every  # a site may be a part of another's name: those are looked for in its own way
    standing = [*dict.fromkeys([*known, *(str(name) for name in answered.values() if name != NOT_USED)])]
    every = every or bool(known)
    found: dict[str, Asked] = {}
    fresh = sorted(
        (name for name in counts if name not in answered and name not in standing),
        key=lambda name: -counts[name],
    )
    taken = list(standing)  # names that are settled, and those that stand for themselves
    for name in fresh:
        if _changed(name):
            others = dict.fromkeys(other for other in (*taken, *fresh) if other != name)
            why, made = _made_of(name, others)
            near = (
                ()
                if sites
                else (*(one for one in others if plain(one) == plain(name)), *parts_of(name, others))
            )
            offer = (
                made[0] if len(made) == 1 and spoiled(name) else ""
            )  # MAR 5, as somebody typed it, is a name as 5-3 is
            found[name] = (why, tuple(dict.fromkeys([*made, *near])), offer)
            continue
        if plain(name) in SUMMARIES:
            found[name] = (SUMS_UP, (NOT_USED,), NOT_USED)
            continue
        near = near_twins(name, taken)
        if not sites:
            near = tuple(dict.fromkeys([*near, *parts_of(name, taken)]))
        if near and not sites and _as_often(name, near, counts):
            found[name] = (OFTEN, near, "")
        elif near:
            found[name] = (NEAR, near, "")
        elif every:
            found[name] = (IS_NEW, (), name)
        taken.append(name)
    return found


def _as_often(name: str, near: Iterable[str], counts: Mapping[str, int]) -> bool:
    """Whether other letters part a name from each that is near, all of them stand often in these sheets, and none is a short form."""
    near = tuple(near)
    return both_often(name, near, counts) and not any(
        _shortened(name, one) or _shortened(one, name) for one in near
    )


def both_often(name: str, near: Iterable[str], counts: Mapping[str, int]) -> bool:
    """Whether a name and each that is near stand often in these sheets, and other letters part them."""
    here = counts.get(name, 0)
    return here >= _MANY and all(
        counts.get(one, 0) >= _MANY and here >= _SHARE * counts[one] and not same_letters(one, name)
        for one in near
    )


def same_letters(one: str, other: str) -> bool:
    """Whether nothing but case, spaces, accents, or a letter that looks like a figure parts two names."""
    return plain(one).translate(_ALIKE) == plain(other).translate(_ALIKE)


def spoiled(spelling: str) -> bool:
    """Whether it is as a spreadsheet writes what it took for a day or a number."""
    return _SPOILED.fullmatch(spelling) is not None


def near_twins(name: str, names: Iterable[str]) -> tuple[str, ...]:
    """Those of ``names`` that this one may be a spelling of, the likeliest first."""
    letters = plain(name)
    if not letters:
        return ()
    forms = {one: plain(one) for one in names if one != name}
    confused = letters.translate(_ALIKE)
    allowed = 0 if len(letters) < _SHORT else 1 if len(letters) < _LONG else 2
    figures = re.sub(r"\D", "", letters)
    same = [one for one, form in forms.items() if form == letters or form.translate(_ALIKE) == confused]
    close = process.extract(letters, forms, scorer=OSA.distance, score_cutoff=allowed, limit=5)
    slips = [str(one) for form, _, one in close if re.sub(r"\D", "", form) == figures]
    return tuple(dict.fromkeys([*same, *slips]))[:5]


def parts_of(name: str, names: Iterable[str]) -> tuple[str, ...]:
    """Those of ``names`` that this one may be a short form of, or that may be one of it: its first or last words, its end with all the
    figures, the beginnings of its words, or an initial before its last word or before its end (14-207 of NB14-207, K. Gold of Kest Gold, Tak of Takaro, B. orrin of
    Bremorrin)."""
    return tuple(one for one in names if one != name and (_shortened(name, one) or _shortened(one, name)))[:5]


@lru_cache(maxsize=8192)
def _parts(name: str) -> list[str]:
    return re.findall(r"[^\W_]+", name.casefold())


def _shortened(short: str, whole: str) -> bool:
    few, many = _parts(short), _parts(whole)
    if not few or len(plain(short)) < 2:
        return False
    if len(few) < len(many) and few in (many[: len(few)], many[-len(few) :]):
        return True
    if len(few) == len(many) and few != many:
        pairs = zip(few[:-1], many[:-1], strict=True)
        initials = all(one == other or (len(one) == 1 and other.startswith(one)) or _begins(one, other) for one, other in pairs)  # fmt: skip
        if initials and (few[-1] == many[-1] or _begins(few[-1], many[-1])):
            return True
    if (
        len(few) == 2
        and len(many) == 1
        and len(few[0]) == 1
        and many[0].startswith(few[0])
        and many[0].isalpha()
    ):
        return _TOLD <= len(few[1]) <= len(many[0]) - 2 and many[0].endswith(few[1])
    bare, there = plain(short), plain(whole)
    figures = re.sub(r"\D", "", bare)
    return (
        len(figures) >= _TOLD
        and there != bare
        and there.endswith(bare)
        and figures == re.sub(r"\D", "", there)
    )


def _begins(short: str, whole: str) -> bool:
    """Whether a word without figures is the beginning of a longer one."""
    return _TOLD <= len(short) < len(whole) and whole.startswith(short) and whole.isalpha()


def held_within(text: str, names: Mapping[str, Iterable[str]]) -> tuple[str, ...]:
    """Those keys of ``names`` of which one name stands in the text, whole words of it: a title that says more than the site."""
    words = _words(text)
    spelled = {key: [_words(name) for name in called if len(plain(name)) >= _TOLD] for key, called in names.items()}  # fmt: skip
    return tuple(key for key, called in spelled.items() if any(one in words for one in called))


def _words(text: str) -> str:
    return f" {' '.join(plain(word) for word in re.findall('[^ _,.;:/()-]+', text))} "


def _changed(name: str) -> bool:
    number = NUMBER.fullmatch(name) and (_value(name) is None or _plainly(name))
    return bool(DATE.fullmatch(name) or _ISO.fullmatch(name) or number)


def _plainly(number: str) -> bool:
    """Whether a spreadsheet would write it so: not 12.10, 007 or 1E5, which it would have changed."""
    return re.fullmatch(r"(0|[1-9]\d*)([.,]\d*[1-9])?", number) is not None


def _made_of(name: str, others: Iterable[str]) -> tuple[str, tuple[str, ...]]:
    """What a spreadsheet may have made into this date or number, among the names that stand elsewhere."""
    if not NUMBER.fullmatch(name):
        meant = tuple(one for one in others if not _ISO.fullmatch(one) and _as_date(one) & _days(name))
        return "is a date: a spreadsheet may have made it of a name", meant
    value = _value(name)
    meant = tuple(
        one for one in others if value is not None and _as_number(one) == value and not _plainly(one)
    )
    return "is a number: a spreadsheet may have made it of a name", meant


def _days(name: str) -> set[tuple[int, int]]:
    """Month and day, or month and the last figures of the year, of a cell that shows a date."""
    if found := _ISO.fullmatch(name):
        year, month, day = (int(part) for part in found.groups())
        return {(month, day), (month, year % 100)} if day == 1 else {(month, day)}
    return _as_date(name)


def _as_date(name: str) -> set[tuple[int, int]]:
    """What a spreadsheet would take a typed name for: Mar 12 and 3-12 become days."""
    parts = re.findall(r"[A-Za-z]+|\d+", name)
    numbers = [int(part) for part in parts if part.isdigit() and len(part) <= 4]
    months = [
        _MONTHS.index(part[:3].lower()) + 1
        for part in parts
        if part[:3].lower() in _MONTHS and not part.isdigit()
    ]
    if len(parts) not in (2, 3) or not numbers:
        return set()
    if months:
        return {(months[0], numbers[0] % 100)}
    if len(numbers) < 2 or not re.fullmatch(r"\d+([-/.])\d+(\1\d+)?", name):
        return set()
    pairs = ((numbers[0], numbers[1]), (numbers[1], numbers[0]))
    return {(month, day) for month, day in pairs if _is_day(month, day)}


def _is_day(month: int, day: int) -> bool:
    try:
        date(2000, month, day)
    except ValueError:
        return False
    return True


def _value(name: str) -> float | None:
    try:
        return float(name.replace(",", "."))
    except ValueError:
        return None


def _as_number(name: str) -> float | None:
    """1E5 becomes 100000, 007 becomes 7, 12.10 becomes 12.1."""
    return _value(name) if re.fullmatch(r"\d+(\.\d+)?([eE]\d{1,3})?", name) else None
