"""One table of a market profile, read entry by entry: whatever is wrong with one is said in a sentence (MarketError)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from difflib import get_close_matches
from typing import Any, NoReturn

from dashboard.market.profile import MarketError
from dashboard.terms.traits import trait_called
from dashboard.terms.units import QUANTITIES, UNITS, Unit


class Entries:
    """One table of a profile, read entry by entry; knows what to call itself when something is wrong."""

    def __init__(self, file: str, place: str, table: Mapping[str, Any], own: Sequence[str] = ()) -> None:
        self.file, self.place, self.table, self.own = file, place, table, own

    def __contains__(self, key: str) -> bool:
        return key in self.table

    def fail(self, key: str, value: Any, rule: str, suggestion: str = "") -> NoReturn:
        place = ", ".join(filter(None, (self.place, one_line(key))))
        raise MarketError(self.file, place, one_line(value), rule, suggestion)

    def only(self, keys: Iterable[str]) -> None:
        keys = tuple(keys)
        for key in self.table:
            if key not in keys:
                self.fail(key, self.table[key], "not an entry of this table", nearest_word(key, keys))

    def text(self, key: str) -> str:
        value = self.table.get(key, "")
        if not isinstance(value, str):
            self.fail(key, value, "must be text in quotation marks")
        return " ".join(value.split())

    def number(self, key: str) -> float:
        value = self.table.get(key)
        if value is None:
            self.fail(key, "", "is missing", f"write {key} = a number")
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.fail(key, value, "must be a number", f"write {key} = a number, without quotation marks")
        try:
            number = float(value)
        except OverflowError:
            number = math.inf
        if not math.isfinite(number):
            self.fail(key, value, "must be a finite number")
        return number

    def bound(self, key: str, trait: str) -> float:
        """A bound of a trait; each that is measured is a length, a force, a share or a rating."""
        number = self.number(key)
        if number < 0 and trait not in self.own:
            self.fail(key, self.table[key], "no fruit is below 0", f"write {-number:g}, or remove the bound")
        return number

    def tables(self, key: str) -> list[Entries]:
        value = self.table.get(key, [])
        if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
            self.fail(key, value, "must be a list of tables", f"write [[{key}]] above each of them")
        return [Entries(self.file, f"{key} {at}", item, self.own) for at, item in enumerate(value, start=1)]

    def word(self, key: str, words: Iterable[str]) -> str:
        value, words = self.text(key), tuple(words)
        known = {name.replace("_", " "): name for name in words}
        if value not in words and value not in known:
            self.fail(key, value, f"not one of {', '.join(words)}", nearest_word(value, words))
        return known.get(value, value)

    def unit(self, trait: str) -> Unit:
        fitting = {suffix: UNITS[suffix] for suffix in QUANTITIES[trait_called(trait).quantity]}
        written = self.text("unit")
        if not written and len(fitting) == 1:
            return next(iter(fitting.values()))
        for suffix, unit in fitting.items():
            if written and written.casefold() in (suffix, unit.symbol.casefold()):
                return unit
        rule = f"does not measure {trait_called(trait).label.lower()}" if written else f"{trait} needs a unit"
        hint = "leave unit out" if trait in self.own else f"write one of {', '.join(fitting)}"
        self.fail("unit", written, rule, hint)


def one_line(value: Any) -> str:
    """A value as one line of a sentence."""
    try:
        shown = " ".join(str(value).split())
    except (ValueError, RecursionError):  # a number of thousands of digits, tables in tables without end
        return "…"
    return shown if len(shown) <= 60 else f"{shown[:59]}…"


def nearest_word(word: str, words: tuple[str, ...]) -> str:
    """What to write instead of a word that is none of those."""
    close = get_close_matches(word, words, n=1)
    return f"did you mean {close[0]}?" if close else f"use one of {', '.join(words)}"
