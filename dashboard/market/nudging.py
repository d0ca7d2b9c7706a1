"""One bound of a market moved by small steps, five of the last decimal on round figures, or set to a figure; as a reader writes them."""

from __future__ import annotations

from dataclasses import replace

from dashboard.market.profile import Limit, Market, MarketError
from dashboard.market.statements import statement, statements
from dashboard.terms.traits import TRAITS, trait_called

OF_THE_LAST = 5  # steps of the last decimal: 0.05 in, 0.5 lbf, 0.5 °Brix
Bound = tuple[int, str]  # a limit's place among the market's, and its end: "at_least" or "at_most"


def bounds_of(market: Market | None) -> tuple[Bound, ...]:
    """Every bound on a trait that can be moved, in the market's own order."""
    limits = market.limits if market else ()
    return tuple(
        (place, end)
        for place, limit in enumerate(limits)
        if limit.kind == "trait"
        for end in ("at_least", "at_most")
        if getattr(limit, end) is not None
    )


def moved(market: Market, bound: Bound, by: int, system: str) -> tuple[str, ...]:
    """The market's statements with that bound moved by so many steps up (or down) in the units of ``system``; as they are where it can
    go no further."""
    place, end = bound
    trait = trait_called(market.limits[place].key)
    unit, step = trait.unit(system), OF_THE_LAST * 10.0 ** -trait.decimals(system)
    written = round(unit.from_si(getattr(market.limits[place], end)) / step + by) * step
    return set_to(market, bound, round(written, trait.decimals(system)), system) or statements(market)


def set_to(market: Market, bound: Bound, value: float, system: str) -> tuple[str, ...]:
    """The market's statements with that bound at ``value``, in the units of ``system``; () for one that it cannot have."""
    place, end = bound
    lines, limit = statements(market), market.limits[place]
    changed: Limit = replace(limit, **{end: trait_called(limit.key).unit(system).to_si(value)})
    line = statements(Market("", "", "", limits=(changed,)))[0]
    try:
        statement(line, own=() if limit.key in TRAITS else (limit.key,))
    except MarketError:
        return ()
    return (*lines[:place], line, *lines[place + 1 :])
