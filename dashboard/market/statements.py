"""A market's limits and wishes as short lines, for a link: ``size at_least 63.5 share 0.8``, ``want sugar larger from 9 to 14 weight 4``.

The words are those of a profile's TOML file; figures are in SI. A line is read by the same rules as a file, so whatever is
wrong with it is said in the same sentence.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from dashboard.market.profile import Limit, Market, MarketError, Wish
from dashboard.market.reading import limit_of, wish_of
from dashboard.market.written import eight_digits
from dashboard.terms.traits import CLASSES, TRAITS
from dashboard.terms.units import shown_in

MOST = 40  # lines; more is no profile but an accident
LONGEST = 200  # characters a line
OWN = "Your own market"
_WANT = "want"


def statements(market: Market | None) -> tuple[str, ...]:
    """The market's limits, then its wishes, a line each; sources are left behind."""
    if market is None:
        return ()
    return (*(_limit_line(limit) for limit in market.limits), *(_wish_line(wish) for wish in market.wishes))


def stated(lines: Sequence[str], base: Market | None = None, own: Sequence[str] = ()) -> Market:
    """The market of ``lines``, named after ``base``; a line that ``base`` has too keeps its source. ``own``: traits beside the measured.

    MarketError for the first line that cannot be followed.
    """
    if len(lines) > MOST:
        raise MarketError("market", "", f"{len(lines)} lines", f"a market has at most {MOST}")
    known = dict(zip(statements(base), base.parts, strict=True)) if base else {}
    parts = [
        known.get(line) or statement(line, f"line {number}", own)
        for number, line in enumerate(lines, start=1)
    ]
    if not parts:
        raise MarketError("market", "", "", "no limit and no wish", "add at least one")
    return Market(
        key=base.key if base else "own",
        name=f"{base.name}, changed" if base else OWN,
        summary=base.summary if base else "",
        limits=tuple(part for part in parts if isinstance(part, Limit)),
        wishes=tuple(part for part in parts if isinstance(part, Wish)),
    )


def statement(line: str, place: str = "market", own: Sequence[str] = ()) -> Limit | Wish:
    """What one line says; MarketError naming ``place`` where it says nothing that can be followed."""
    if len(line) > LONGEST:
        raise MarketError(place, "", "", f"{len(line)} characters, more than {LONGEST}")
    words = line.split()
    if words[:1] == [_WANT]:
        key, shape, *rest = [*words[1:], "", ""][: max(2, len(words) - 1)]
        table: dict[str, Any] = {"trait": key, "shape": shape, **_figures(rest, place)}
        return wish_of(_united(table, key), place, own)
    key, *rest = words or [""]
    if key in CLASSES:
        if rest[:1] != ["any_of"]:
            raise MarketError(place, key, " ".join(rest), "a class limit says any_of and the words taken")
        return limit_of({"class": key, "any_of": [w.replace("_", " ") for w in rest[1:]]}, place)
    return limit_of(_united({"trait": key, **_figures(rest, place)}, key), place, own)


def _united(table: dict[str, Any], key: str) -> dict[str, Any]:
    """With the SI unit of the trait, where it has one; an unknown trait is told by the reader."""
    return {**table, "unit": shown_in(TRAITS[key].quantity, "si").suffix} if key in TRAITS else table


def _figures(words: Sequence[str], place: str) -> dict[str, Any]:
    if len(words) % 2:
        raise MarketError(place, "", " ".join(words), "words and figures take turns", "as in  at_least 63.5")
    figures: dict[str, Any] = {}
    for word, figure in zip(words[::2], words[1::2], strict=True):
        if word in figures:
            raise MarketError(place, word, figure, "said twice", "say it once")
        try:
            figures[word] = float(figure)
        except ValueError:
            raise MarketError(place, word, figure, "must be a number") from None
    return figures


def _limit_line(limit: Limit) -> str:
    if limit.kind == "class":
        return " ".join([limit.key, "any_of", *(word.replace(" ", "_") for word in limit.any_of)])
    bounds = {
        "at_least": limit.at_least,
        "at_most": limit.at_most,
        "share": limit.share,
        "seasons": limit.seasons,
    }
    return _line([limit.key], bounds)


def _wish_line(wish: Wish) -> str:
    ideal = wish.target if wish.shape == "target" else None
    exponent = wish.exponent if wish.exponent != 1 else None
    figures = {
        "from": wish.low, "ideal": ideal, "to": wish.high, "weight": wish.weight, "exponent": exponent,
    }  # fmt: skip
    ends = {eight_digits(wish.low), eight_digits(wish.target), eight_digits(wish.high)}
    exact = len(ends) < len({wish.low, wish.target, wish.high})  # ends closer than eight digits can tell
    return _line([_WANT, wish.key, wish.shape], figures, repr if exact else eight_digits)


def _line(
    words: list[str], figures: dict[str, float | None], written: Callable[[float], str] = eight_digits
) -> str:
    told = [f"{word} {written(value)}" for word, value in figures.items() if value is not None]
    return " ".join([*words, *told])


class Statements:
    """All lines that can be followed: what a link may ask for. ``own``: traits that they may name beside the measured ones."""

    most = MOST + 1  # one too many is told as such; no further one is read

    def __init__(self, own: Sequence[str] = ()) -> None:
        self.own = own

    def __contains__(self, line: object) -> bool:
        return isinstance(line, str) and not self.fault(line)

    def fault(self, line: str) -> str:
        """Why a line cannot be followed, in a sentence; "" where it can."""
        try:
            statement(line, own=self.own)
        except MarketError as fault:
            return str(fault)
        return ""
