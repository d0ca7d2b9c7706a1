"""The limits that keys move and digits set: the market's own, and how much winter chill a cultivar may need, in each unit on record."""

from __future__ import annotations

import math
from typing import Any

from dashboard.answers.choices import CHILL_UNITS, FILTERS, chill_bound
from dashboard.answers.question import Question
from dashboard.market import nudging
from dashboard.market.statements import statements
from dashboard.wording.figures import limit_told, qualify_told

STEPS = {"h": 50, "cp": 5}  # of chill hours, and of chill portions
ANY = "Winter chill needed: any number of {}. Press ↓, or type a number and press Enter."
Held = nudging.Bound | str  # a bound of the market, or a unit of chill


def limits_of(asked: Question) -> tuple[Held, ...]:
    """All that can be moved: the market's bounds in its own order, then chill in each unit that the records know."""
    recorded = asked.catalogue.cultivars
    units = [unit for unit, (_, column, _) in CHILL_UNITS.items() if recorded[column].notna().any()]
    return (*nudging.bounds_of(asked.profile), *units)


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
    left = f"{int(asked.passes.sum()):,} pass" if isinstance(held, str) else ""
    return f"{said[0].upper()}{said[1:]}: {'; '.join(filter(None, (left, qualify_told(asked, short=True))))}."


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
    """The choices that set it to what was typed, in the reader's units; {} for what is no number that it can have."""
    try:
        value = float(text)
    except ValueError:
        return {}
    if isinstance(held, str):
        bound = f"{value:.0f}{held}"
        return {"chill": (bound,)} if bound in FILTERS["chill"].known(asked.catalogue) else {}
    assert asked.profile is not None
    lines = nudging.set_to(asked.profile, held, value, asked.units)
    return _own(asked, lines) if lines else {}


def _own(asked: Question, lines: tuple[str, ...]) -> dict[str, Any]:
    return {"own": () if lines == statements(asked.catalogue.markets.get(asked.market)) else lines}


def _most(asked: Question, unit: str) -> int | None:
    """The chill that may be needed at most, None for any."""
    return next((chill_bound(one)[2] for one in asked.chill if one.endswith(unit)), None)
