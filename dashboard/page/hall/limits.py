"""The limits that keys move and digits set: the market's own, and how much winter chill a cultivar may need, in each unit on record."""

from __future__ import annotations

import math
from typing import Any

from dashboard.answers.chill_choices import CHILL_UNITS, chill_bound, chill_needs
from dashboard.answers.choices import FILTERS
from dashboard.answers.question import Question
from dashboard.market import nudging
from dashboard.market.statements import statements
from dashboard.records.schema import TABLES
from dashboard.terms.traits import trait_called
from dashboard.terms.units import SYSTEMS
from dashboard.wording.figures import limit_told, qualify_told
from dashboard.wording.presenting import NOT_TAKEN

KEYS = {"limit": "L", "chill": "K"}  # by what they hold
STEPS = {"h": 50, "cp": 5}  # of chill hours, and of chill portions
ANY = "Winter chill needed: any number of {}. Press ↓, or type a number and press Enter."
BESIDE = " all filters (X: take the others off)"
# By quantity, the least and the most (SI) that the records may hold: what is wider is no mean of fruit.
RANGES = {
    column.quantity: column.refuse
    for table in ("samples", "means")
    for column in reversed(TABLES[table].columns)
    if column.quantity and column.refuse
}
Held = nudging.Bound | str  # a bound of the market, or a unit of chill


def limits_of(asked: Question) -> dict[str, tuple[Held, ...]]:
    """All that can be moved, by the key that holds it (``KEYS``): the market's bounds in its own order; chill in each unit that the records
    know."""
    return {"limit": tuple(nudging.bounds_of(asked.profile)), "chill": tuple(chill_needs(asked.catalogue))}


def after(asked: Question, held: Held | None, key: str) -> Held | None:
    """What ``key`` holds next: the first of its limits, then the next one, after the last none."""
    every = limits_of(asked)[key]
    left = every[every.index(held) + 1 :] if held in every else every
    return left[0] if left else None


def stands(asked: Question, held: Held | None) -> bool:
    """Whether it can still be moved: another market may have been chosen."""
    return any(held in every for every in limits_of(asked).values())


def trait_of(asked: Question, held: Held) -> str:
    """Whose figures it bounds; "" for chill."""
    return "" if isinstance(held, str) or asked.profile is None else asked.profile.limits[held[0]].key


def told(asked: Question, held: Held) -> str:
    """Where it stands, and what it leaves."""
    if not isinstance(held, str):
        assert asked.profile is not None
        said = limit_told(asked.profile.limits[held[0]], asked.units)
    elif _most(asked, held) is None:
        return ANY.format(CHILL_UNITS[held][0])
    else:
        said = FILTERS["chill"].told(FILTERS["chill"].full, asked.catalogue, asked.chill)
    left = (
        f"{int(asked.passes.sum()):,} pass{BESIDE * others(asked, but='chill')}"
        if isinstance(held, str)
        else ""
    )
    return f"{said[0].upper()}{said[1:]}: {'; '.join(filter(None, (left, qualify_told(asked, short=True))))}."


def others(asked: Question, but: str = "") -> bool:
    """Whether any filter is set, ``but`` one."""
    return any(getattr(asked, name) != one.default for name, one in FILTERS.items() if name != but)


def moved(asked: Question, held: Held, by: int) -> dict[str, Any]:
    """The choices that move it by a step up (1) or down (-1); as they are where it can go no further."""
    if not isinstance(held, str):
        assert asked.profile is not None
        return _own(asked, nudging.moved(asked.profile, held, by, asked.units))
    needs, step, now = (
        asked.catalogue.cultivars[CHILL_UNITS[held][1]].dropna(),
        STEPS[held],
        _most(asked, held),
    )
    if now is None:
        after = math.ceil(needs.max() / step) * step - step if by < 0 else math.inf
    else:
        after = (math.ceil(now / step) if by < 0 else math.floor(now / step)) * step + by * step
    least = max(math.ceil(needs.min() / step) * step, step)
    return {"chill": () if after >= needs.max() else (f"{max(int(after), least)}{held}",)}


def typed(asked: Question, held: Held, text: str) -> dict[str, Any]:
    """The choices that set it to what was typed, in the reader's units; ValueError, one sentence, for a number that it cannot have."""
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    what, low, high, symbol = _can_be(asked, held, asked.units)
    lines: tuple[str, ...] = ()
    if low <= value <= high and not isinstance(held, str):
        assert asked.profile is not None
        lines = nudging.set_to(asked.profile, held, value, asked.units)
    if low <= value <= high and (lines or isinstance(held, str)):
        return _own(asked, lines) if lines else {"chill": (f"{value:.0f}{held}",)}
    rule = f"{what} can be {low:g} to {high:g} {symbol}".strip() if high < math.inf else f"{what} begins at 0"
    raise ValueError(NOT_TAKEN.format(text=text, rule=rule, instead=_instead(asked, held, value)))


def _can_be(asked: Question, held: Held, units: str) -> tuple[str, float, float, str]:
    """What it is, the least and the most it can be as the records may hold it and as the other end of the same limit lets it, and their unit."""
    if isinstance(held, str):
        word, least, most = chill_needs(asked.catalogue)[held]
        return "winter chill", least, most, word
    assert asked.profile is not None
    place, end = held
    limit = asked.profile.limits[place]
    trait = trait_called(limit.key)
    unit, places = trait.unit(units), trait.decimals(units)
    low, high = (unit.from_si(si) for si in RANGES.get(trait.quantity, (0.0, math.inf)))
    if end == "at_least" and limit.at_most is not None:
        high = unit.from_si(limit.at_most)
    elif end == "at_most" and limit.at_least is not None:
        low = unit.from_si(limit.at_least)
    return trait.label.lower(), round(low, places), round(high, places), unit.symbol


def _instead(asked: Question, held: Held, value: float) -> str:
    """The same in the reader's other units, or another limit that can be that."""
    other = next(units for units in SYSTEMS if units != asked.units)
    _what, low, high, symbol = _can_be(asked, held, other)
    if not isinstance(held, str) and symbol != _can_be(asked, held, asked.units)[3] and low <= value <= high:
        assert asked.profile is not None
        trait = trait_called(asked.profile.limits[held[0]].key)
        return f"{value:g} {symbol} is {trait.written(trait.unit(other).to_si(value), asked.units)} {trait.unit(asked.units).symbol}"
    for key, every in limits_of(asked).items():
        for one in every:
            what, low, high, symbol = _can_be(asked, one, asked.units)
            if one != held and low <= value <= high and value > _can_be(asked, held, asked.units)[2]:
                return f"press {KEYS[key]} for {what} in {symbol}"
    return "type a number in between"


def _own(asked: Question, lines: tuple[str, ...]) -> dict[str, Any]:
    return {"own": () if lines == statements(asked.catalogue.markets.get(asked.market)) else lines}


def _most(asked: Question, unit: str) -> int | None:
    """The chill that may be needed at most, None for any."""
    return next((chill_bound(one)[2] for one in asked.chill if one.endswith(unit)), None)
