"""What would change an order, in words: a cultivar fewer, an acre or some money more, and what costs nearly as little."""

from __future__ import annotations

from dashboard.answers.order_changes import Alike, Fewer, changes
from dashboard.answers.ordered import Order
from dashboard.order.spending import Spent
from dashboard.wording.figures import listed
from dashboard.wording.order_figures import dollars, share

NAMED = 3
AS_MUCH = 0.005  # of the cost or of the fruit: less is no change worth a figure


def changed_told(order: Order) -> list[tuple[str, str]]:
    """What is known of it, each with what it is about."""
    found = changes(order)
    return [
        *([("One cultivar fewer", _fewer_told(order, found.fewer))] if found.fewer else []),
        *([("One acre more", _acre_told(order, found.acre))] if found.acre is not None else []),
        *([("A tenth more money", _brings(order, found.money))] if found.money is not None else []),
        *([("Nearly as cheap", _alike_told(found.alike))] if found.alike else []),
    ]


def _fewer_told(order: Order, fewer: Fewer) -> str:
    if fewer.name is None or fewer.cost is None:
        return "Take any one of these away, and the rest cannot keep these promises."
    more = fewer.cost - order.found.cost
    if more <= AS_MUCH * order.found.cost:
        return f"Without {fewer.name} it costs about as much."
    return f"Without {fewer.name}, whose place costs least to fill, it costs {dollars(more)} more."


def _acre_told(order: Order, acre: float) -> str:
    if isinstance(order.found, Spent):
        return _brings(order, acre)
    if order.short is not None and acre <= order.short.part:
        return "It keeps hardly more of the promises: something else is lacking."
    if order.short is not None:
        return f"About {share(acre)} of each promise can be kept, in place of {share(order.short.part)}."
    return f"It costs {dollars(order.found.cost - acre)} less."


def _brings(order: Order, met: float) -> str:
    now = order.found.met if isinstance(order.found, Spent) else 0.0
    if met - now < AS_MUCH:
        return "It brings hardly any more fruit: something else is lacking."
    return f"It brings {share(met)} of the fruit you want, in place of {share(now)}."


def _alike_told(alike: Alike) -> str:
    parts = (("with", alike.come), ("without", alike.left))
    told = ", ".join(f"{with_} {listed(names, NAMED)}" for with_, names in parts if names)
    return f"Another order costs {dollars(alike.cost)}: {told}. It has {share(alike.common)} of its trees in common with this one."
