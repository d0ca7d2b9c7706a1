"""The order of trees that a question asks for: my slate's trees for its buyers over its selling days, as the page and a link have it."""

from __future__ import annotations

import math
from functools import lru_cache

from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.choices import Choices
from dashboard.answers.demand import WEEK, Demand, evenly
from dashboard.answers.filters import REMEMBERED
from dashboard.answers.my_site import MySite
from dashboard.answers.order_choices import AS_MUCH, shares, trees_per_acre
from dashboard.answers.ordering import OrderWanted
from dashboard.market import Market
from dashboard.ripening.days import day_of_key
from dashboard.terms.units import KG_PER_POUND


def demand(weekly: str, own: tuple[str, ...], selling: tuple[float, float], south: bool) -> Demand:
    """Kg by week; all 0 where no amount was typed yet, and one week without where no season is known."""
    if not math.isfinite(selling[0] + selling[1]):
        return Demand(1.0, (0.0,), WEEK)
    weeks = [one.partition(" ") for one in own]
    others = {day_of_key(key, south): float(pounds) * KG_PER_POUND for key, _, pounds in weeks}
    return evenly(float(weekly or 0) * KG_PER_POUND, *selling, others)


def order_wanted(
    asked: Choices, catalogue: Catalogue, market: Market | None, basis: Basis, selling: tuple[float, float], place: MySite | None = None, own: bool = False,
    second: Market | None = None,
) -> OrderWanted:  # fmt: skip
    """``place``: the one that was chosen for the trees, ``own`` where its weather was brought. Whatever kind of season is looked at, trees are ordered for any. The same question gives the same object."""
    fill, worst = shares(asked.promise) or (1.0, 1.0)
    as_much = asked.promise == AS_MUCH
    also = demand(asked.second_weekly, asked.second_weeks, selling, catalogue.south)
    buyer_too = (second, also) if second is not None and any(also.kg) else (None, None)
    given = (
        catalogue, market, demand(asked.weekly, asked.weeks, selling, catalogue.south), asked.shortlist, basis, fill, worst, _number(asked.acres),
        trees_per_acre(asked.spacing), _number(asked.bears), _number(asked.tree_price), as_much, _number(asked.money) if as_much else None,
        place, (_number(asked.most_share) or 100.0) / 100, *buyer_too,
    )  # fmt: skip
    if place is None or not own:
        return _wanted(*given)
    if place.order is None or place.order[0] != given:  # remembered with the visit, and gone with it
        place.order = given, _wanted.__wrapped__(*given)
    return place.order[1]


def _number(text: str) -> float | None:
    return float(text) if text else None


@lru_cache(maxsize=REMEMBERED)
def _wanted(
    catalogue: Catalogue, market: Market | None, fruit: Demand, names: tuple[str, ...], basis: Basis, fill: float, worst: float,
    acres: float | None, per_acre: float, bears: float | None, price: float | None, as_much: bool, money: float | None,
    place: MySite | None, most_share: float, second: Market | None, also: Demand | None,
) -> OrderWanted:  # fmt: skip
    return OrderWanted(
        catalogue, market, fruit, names, basis, "any", fill, worst, acres, per_acre,
        bears=None if bears is None else bears * KG_PER_POUND, price=price, as_much=as_much, money=money, place=place, most_share=most_share, second=second, also=also,
    )  # fmt: skip
