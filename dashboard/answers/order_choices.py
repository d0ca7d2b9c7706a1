"""What may be asked of an order of trees, each typed in and so held by a link as text: pounds a week, land, spacing, what a tree bears, what is promised."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.choosing import choice
from dashboard.ripening.days import day_keys

SQUARE_FEET = 43_560  # in an acre
SPACING = "18x18"
# Of each week's fruit, the share there on average and in bad years, the worst fifth of seasons: choices of ours.
PROMISES = {
    "85-50": "mostly: 85 %, in bad years 50 %",
    "95-70": "surely: 95 %, in bad years 70 %",
    "98-85": "nearly always: 98 %, in bad years 85 %",
    "most": "as far as my money and land allow",
}
PROMISE, AS_MUCH = "95-70", "most"
MOST_LB, MOST_ACRES, MOST_BORNE, MOST_PRICE, MOST_MONEY = 1e7, 1e5, 2_000.0, 1_000.0, 9e7
_DAYS = frozenset(day_keys())


def amount(text: str, most: float, least: float = 0.0) -> float | None:
    """The number that is written so, where it lies within; None for another."""
    if not re.fullmatch(r"\d{1,8}(\.\d{1,2})?", text):
        return None
    return float(text) if least <= float(text) <= most else None


def shares(promise: str) -> tuple[float, float] | None:
    """Of "95-70" 0.95 and 0.70; None for what is no promise."""
    told = re.fullmatch(r"(\d{1,3})-(\d{1,3})", promise)
    if told is None or not 1 <= int(told[1]) <= 100 or int(told[2]) > int(told[1]):
        return None
    return int(told[1]) / 100, int(told[2]) / 100


def trees_per_acre(spacing: str) -> float:
    """Of "18x24", feet between rows by feet in the row. ValueError, one sentence, for another."""
    told = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)\s*", spacing.casefold())
    feet = [float(one) for one in told.groups()] if told else [math.nan]
    if not all(2 <= one <= 60 for one in feet):
        raise ValueError(f"A spacing of {spacing[:20]!r} cannot be read: write feet between rows by feet between trees, each 2 to 60, for example 18x24.")  # fmt: skip
    return SQUARE_FEET / (feet[0] * feet[1])


def _spaced(_catalogue: Catalogue, text: str) -> bool:
    try:
        return len(text) <= 20 and trees_per_acre(text) > 0
    except ValueError:
        return False


def _week(_catalogue: Catalogue, text: str) -> bool:
    """ "06-17 1200": the week that holds this day, and its pounds."""
    day, _, pounds = text.partition(" ")
    return day in _DAYS and amount(pounds, MOST_LB) is not None


def _number(most: float, least: float = 0.01):
    return lambda _catalogue, text: amount(text, most, least) is not None


@dataclass(frozen=True, kw_only=True)
class OrderChoices:
    """What is asked of an order beside my slate, its buyer and its selling days."""

    weekly: str = choice("", ("",), further=_number(MOST_LB, 1))  # pounds wanted each week
    weeks: tuple[str, ...] = choice((), (), further=_week)  # those of other weeks
    second_weekly: str = choice("", ("",), further=_number(MOST_LB, 1))  # pounds the second buyer wants
    second_weeks: tuple[str, ...] = choice((), (), further=_week)
    acres: str = choice("", ("",), further=_number(MOST_ACRES))  # land; "" for what the order takes
    spacing: str = choice(SPACING, (SPACING,), further=_spaced)  # feet between rows by feet in the row
    bears: str = choice("", ("",), further=_number(MOST_BORNE, 1))  # pounds a tree, where mine bear otherwise
    money: str = choice(
        "", ("",), further=_number(MOST_MONEY, 1)
    )  # dollars for trees, where as much as can be is asked
    tree_price: str = choice("", ("",), further=_number(MOST_PRICE))  # dollars, where nobody's offer says
    most_share: str = choice("", ("",), further=_number(100, 1))  # per cent of the trees, of one cultivar
    promise: str = choice(
        PROMISE, tuple(PROMISES), "Each week is filled", write=lambda _catalogue, said: PROMISES.get(said, said),
        further=lambda _catalogue, said: shares(said) is not None,
    )  # fmt: skip
