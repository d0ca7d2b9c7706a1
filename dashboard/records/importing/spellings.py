"""Names as the sheets spell them, and the names they stand for: confirmed once, kept in the mapping, never guessed.

Two spellings are near where only case, spaces, accents, a sign that looks like another, or a letter or two part them. A figure that
differs makes another name: K18-256 and K18-257 are two selections.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Mapping, Sequence
from functools import lru_cache

import numpy as np
from rapidfuzz import process
from rapidfuzz.distance import OSA

from dashboard.records.advice import Said
from dashboard.records.importing.made_of import by_one_country, changed, made_of, spoiled
from dashboard.records.importing.roles import NOT_USED
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
_NO_NAMES = ("yes", "no", "y", "n", "ok", "right", "all")


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
    made: dict[str, tuple[str, ...]] = {}
    fresh = sorted(
        (name for name in counts if name not in answered and name not in standing),
        key=lambda name: -counts[name],
    )
    taken = list(standing)  # names that are settled, and those that stand for themselves
    for name in fresh:
        if changed(name):
            others = dict.fromkeys(other for other in (*taken, *fresh) if other != name)
            why, made[name] = made_of(name, others)
            same = tuple(one for one in others if plain(one) == plain(name))
            near = () if sites else (*same, *parts_of(name, others))
            may = made[name] or same  # 12239 has the letters of 12-239
            offer = (
                may[0] if len(may) == 1 and spoiled(name) and not sites else ""
            )  # MAR 5, as somebody typed it, is a name as 5-3 is
            found[name] = (why, tuple(dict.fromkeys([*made[name], *near])), offer)
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
    told = by_one_country({name: some for name, some in made.items() if spoiled(name)}) if not sites else {}
    return found | {name: (*found[name][:2], offer) for name, offer in told.items()}


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
