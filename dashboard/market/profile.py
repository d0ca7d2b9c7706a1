"""A market in its own words: what fruit it takes at all (limits) and what it would rather have (wishes)."""

from __future__ import annotations

from dataclasses import dataclass

from dashboard.site.winters import Winters

SHAPES = ("larger", "smaller", "target")


@dataclass(frozen=True)
class Limit:
    """Something that must hold: a class of fruit, a bound on a trait (SI units, bounds included), or winters of ten with enough chill.

    With ``share`` the bound is about the fruit: at least that share of the measured fruit clears it, over all seasons taken
    together or, with ``seasons``, in that many seasons of ten. Without, it is about the mean.
    """

    kind: str  # "class", "trait" or "place"
    key: str
    any_of: tuple[str, ...] = ()
    at_least: float | None = None
    at_most: float | None = None
    share: float | None = None
    source: str = ""
    seasons: float | None = None  # above 0 and below 10
    winters: Winters | None = (
        None  # of the place it is asked of; None for no place, or where it asks for none
    )


@dataclass(frozen=True)
class Wish:
    """How welcome a value is, from 0 to 1 between ``low`` and ``high`` (SI units), and what the wish weighs.

    larger: 0 up to low, 1 from high. smaller: 1 up to low, 0 from high. target: 1 at target only, 0 outside.
    """

    key: str
    shape: str  # one of SHAPES
    low: float
    target: float
    high: float
    weight: float = 1.0
    exponent: float = 1.0
    source: str = ""


@dataclass(frozen=True)
class Market:
    key: str
    name: str
    summary: str
    limits: tuple[Limit, ...] = ()
    wishes: tuple[Wish, ...] = ()
    source_path: str = ""

    @property
    def parts(self) -> tuple[Limit | Wish, ...]:
        """Its limits, then its wishes."""
        return (*self.limits, *self.wishes)


class MarketError(ValueError):
    """Why a profile cannot be used, in one sentence: file, key, value, rule and what to write instead."""

    def __init__(self, file: str, key: str, value: str, rule: str, suggestion: str = "") -> None:
        self.file, self.key, self.value = file, key, value
        self.rule, self.suggestion = rule, suggestion
        shown = f"{key} = {value}" if key and value else key or value
        place = f"{file}, {shown}" if shown else file
        sentence = f"{place}: {rule}; {suggestion}" if suggestion else f"{place}: {rule}"
        super().__init__(sentence if sentence.endswith("?") else f"{sentence}.")
