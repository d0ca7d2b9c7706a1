"""What a notebook asks for, in the words of the page, as the choices of a question."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from numbers import Real
from typing import Any

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.chill_choices import CHILL_UNITS, chill_needs
from dashboard.answers.choices import CHOICES, FILTERS
from dashboard.answers.facts import ANSWERS, Fact, parted, token
from dashboard.answers.my_site_choices import every_enough
from dashboard.calls.columns import AMERICAN
from dashboard.calls.understood import (
    AskError,
    as_written,
    number,
    one_or_several,
    several,
    shown,
    whole,
    word,
    words,
)
from dashboard.records.names import plain
from dashboard.ripening.days import MONTHS, day_key
from dashboard.ripening.typed_days import day_typed
from dashboard.terms.units import SYSTEMS

NOTED = "noted"  # the field of the facts of one's own table, each of which goes by its own name
# By what a filter is called in a notebook, its field.
CALLED = {
    **{AMERICAN.get(name, name): name for name in FILTERS if name not in ("ripening", NOTED)},
    "picked_in": "ripening",
}
_ALSO = {name: name for name in FILTERS if name != NOTED}
_CHILL = re.compile(r"(\d+) ?(h|hours?|hrs?|cp|portions?|chill portions?|chill hours?)")
_WORST = 5  # bacterial spot, 0 none to 5 severe


def filters(catalogue: Catalogue, said: Mapping[str, Any], noted: tuple[str, ...] = ()) -> dict[str, Any]:
    """The fields of ``Filters`` that these keyword arguments ask for; None asks for anything. ``noted``: what is asked of the facts of
    one's own table so far."""
    found: dict[str, Any] = {}
    own = own_facts(catalogue)
    for name, value in said.items():
        field = word(name, {**CALLED, **_ALSO, **{called: called for called in own}}, "filter")
        if field in own:
            kept = (one for one in found.get(NOTED, noted) if parted(one)[0] != own[field].name)
            found[NOTED] = (*kept, *(() if value is None else _of_fact(own[field], value)))
            continue
        if field in found:
            raise AskError(f"The filter {name} is asked for twice; say it once.")
        found[field] = FILTERS[field].default if value is None else _asked(catalogue, field, name, value)
    return found


def own_facts(catalogue: Catalogue) -> dict[str, Fact]:
    """The facts of one's own table that can be asked for, by names that Python can write."""
    return {name.replace(" ", "_"): fact for name, fact in catalogue.own_facts.items() if fact.asked}


def _of_fact(fact: Fact, said: Any) -> tuple[str, ...]:
    every = one_or_several(said, fact.name)
    if fact.numbers:  # who passes any of several passes
        return tuple(dict.fromkeys(token(fact.name, _bound(fact, one)) for one in every))
    answers = [ANSWERS.get(one, one) if isinstance(one, bool) else one for one in every]
    ways = {one: one for one in fact.options}
    return tuple(token(fact.name, one) for one in words(answers, ways, fact.name))


def _bound(fact: Fact, said: Any) -> str:
    option = fact.bound(float(said)) if isinstance(said, Real) and not isinstance(said, bool) else ""
    if not fact.knows(option):
        raise AskError(f"{fact.name[:1].upper()}{fact.name[1:]} {fact.way} is a number, not {shown(said)}.")
    return option


def one_of(catalogue: Catalogue, field: str, said: Any, what: str) -> Any:
    """A choice that takes one of a few values: by the value, or by its words on the page."""
    choice = CHOICES[field]
    if all(isinstance(value, int) for value in choice.options(catalogue)):
        options = list(choice.options(catalogue))
        return whole(said, what[0].upper() + what[1:], min(options), max(options))
    return word(said, _ways(catalogue, field), what)


def system(said: Any) -> str:
    """The units of a reader, "us" or "si"."""
    return word(
        said,
        {**dict(zip(SYSTEMS, SYSTEMS, strict=True)), "metric": "si", "american": "us"},
        "system of units",
    )


def day(catalogue: Catalogue, said: Any) -> str:
    """A day of the season by its key; "" for none. A date, or a text such as "Jun 10"."""
    if said is None or said == "":
        return ""
    return day_key(day_number(catalogue, said), catalogue.south)


def day_number(catalogue: Catalogue, said: Any) -> float:
    """The same as a day of the season."""
    if isinstance(said, date):
        said = said.strftime("%Y-%m-%d") if said == said else "NaT"
    if not isinstance(said, str):
        raise AskError(f'A day is a date or a text such as "Jun 10", not {shown(said)}.')
    with as_written():
        return day_typed(said, catalogue.south)


def spellings(catalogue: Catalogue, field: str) -> list[str]:
    """What may be written for a filter, as documents name it."""
    if field == "chill":
        return ["650 hours", "40 portions"]
    if field == "ripening":
        return [
            *(FILTERS[field].write(catalogue, half) for half in FILTERS[field].options(catalogue)),
            "July",
        ]
    if field == "enough":
        return list(every_enough(catalogue))
    return [str(option) for option in FILTERS[field].options(catalogue) if option is not None]


def _asked(catalogue: Catalogue, field: str, name: str, said: Any) -> Any:
    if field in ("seasons", "bacterial_spot", "chill"):
        every = one_or_several(said, name.replace("_", " "))
        if not every:
            return FILTERS[field].default
    if field == "seasons":  # who passes any of several passes the loosest
        return min(whole(one, "The least number of seasons", 1) for one in every)
    _recorded(catalogue, field, name)
    if field == "bacterial_spot":
        return max(number(one, "Bacterial spot at most", 0, _WORST) for one in every)
    if field == "chill":
        return tuple(dict.fromkeys(_chill(catalogue, one) for one in every))
    ways = _ways(catalogue, field)
    if field == "ripening":
        asked = several(said, "half month")
        found = [_halves(one) or (word(one, ways, "half month"),) for one in asked]
        return tuple(dict.fromkeys(half for halves in found for half in halves))
    return words(said, ways, name.replace("_", " "))


def _recorded(catalogue: Catalogue, field: str, name: str) -> None:
    choice = FILTERS[field]
    if field == "chill":
        untold = not chill_needs(catalogue)
    elif choice.missing is not None:
        untold = bool(choice.missing(catalogue, 0).all())
    else:
        untold = not choice.options(catalogue)
    if untold:
        raise AskError(f"These records tell nothing of {name.replace('_', ' ')}; leave that filter out.")


def _chill(catalogue: Catalogue, said: Any) -> str:
    """ "650h" or "40cp", the most that may be needed."""
    told = _CHILL.fullmatch(" ".join(said.split()).casefold()) if isinstance(said, str) else None
    if not told or len(told[1]) > 5:
        unit = 'write the unit, as "650 hours" or "40 portions".'
        raise AskError(f"Winter chill {shown(said)} is no number of hours or portions; {unit}")
    word_of, needs = told[2].removeprefix("chill "), chill_needs(catalogue)
    unit = next(key for key in CHILL_UNITS if word_of == key or word_of[0] == CHILL_UNITS[key][0][0])
    if unit not in needs:
        known = " or ".join(one for one, *_ in needs.values())
        raise AskError(f"These records tell no need for chill in {CHILL_UNITS[unit][0]}; ask in {known}.")
    called, least, most = needs[unit]
    if not least <= int(told[1]) <= most:
        other = next((f", or did you mean {int(told[1])} {one}?" for key, (one, low, high) in needs.items() if key != unit and low <= int(told[1]) <= high), ".")  # fmt: skip
        raise AskError(f"No cultivar needs {int(told[1])} {called} of winter chill; write {least} to {most:,}{other}")  # fmt: skip
    return f"{int(told[1])}{unit}"


def _halves(said: Any) -> tuple[str, ...]:
    """Both halves of a month that is named whole; () for anything else."""
    months = [plain(month) for month in MONTHS]
    wanted = plain(said) if isinstance(said, str) else ""
    found = [at for at, month in enumerate(months, 1) if wanted in (month, month[:3])]
    return (f"{found[0]:02d}a", f"{found[0]:02d}b") if found else ()


def _ways(catalogue: Catalogue, field: str) -> dict[str, Any]:
    """By spelling the value: as a link has it, as a list shows it, as a sentence tells it."""
    choice = CHOICES[field]
    ways: dict[str, Any] = {}
    offered = every_enough(catalogue) if field == "enough" else choice.options(catalogue)
    options = [value for value in offered if value is not None]
    for write in (str, lambda value: choice.write(catalogue, value), lambda value: choice.told(choice.short or "{}", catalogue, value)):  # fmt: skip
        for value in options:
            ways.setdefault(write(value), value)
    ways.pop("", None)
    return ways
