"""A market while it is being changed: texts as somebody types them in their unit, good or not, and the market they make.

A figure nobody touched stays exactly what it was, whatever its text in another unit rounds to.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import count
from typing import Any
from unicodedata import decomposition, normalize

from dashboard.market.profile import SHAPES, Limit, Market, MarketError, Wish
from dashboard.market.reading import limit_of, wish_of
from dashboard.market.starting import ideal_between, starting_limit, starting_wish
from dashboard.market.statements import stated, statements
from dashboard.market.written import short
from dashboard.terms.traits import CLASSES, PLACED, TRAITS, UNKNOWN, trait_called

FIELDS = {
    "at_least": "at least", "at_most": "at most", "share": "share of fruit", "seasons": "in so many seasons of 10", "from": "from", "ideal": "ideal", "to": "to",
    "weight": "weight", "shape": "which way", "any_of": "taken",
}  # fmt: skip
# By field, where the page can say better than a file what to do; "" is a limit without a bound.
_HINTS = {
    "": "write one of its two bounds, or remove the limit", "from": "let from be the smaller of the two",
    "weight": "remove the wish to ignore it",
}  # fmt: skip
_LONGEST = 60  # characters of a typed text
_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)", re.ASCII)
_FRACTION = re.compile(r"(?:(?P<whole>\d{1,4})\s+)?(?P<part>\d{1,3})/(?P<of>\d{1,3})")


@dataclass
class Part:
    """One limit or wish as it stands in the editor."""

    id: str
    what: str  # "limit" or "wish"
    kind: str  # "class" or "trait"
    key: str
    texts: dict[str, str] = field(default_factory=dict)
    words: tuple[str, ...] = ()  # of a class: those taken
    shape: str = ""
    exponent: float = 1.0
    exact: dict[str, tuple[str, float]] = field(
        default_factory=dict
    )  # a text as it was given, and its figure

    @property
    def label(self) -> str:
        return CLASSES[self.key][0] if self.kind == "class" else trait_called(self.key).label

    @property
    def fields(self) -> tuple[str, ...]:
        if self.kind == "class":
            return ()
        if self.kind == "place":
            return ("at_least",)
        if self.what == "limit":
            ends = ("at_least", "at_most")
            return (*ends, "share", "seasons") if trait_called(self.key).on_fruit else ends
        return ("from", "ideal", "to", "weight") if self.shape == "target" else ("from", "to", "weight")

    @property
    def place(self) -> str:
        return f"{'Limit on' if self.what == 'limit' else 'Wish for'} {self.label.lower()}"


class DraftFaultError(MarketError):
    """Why a draft makes no market, and in which field of which part ("" where it is about no one part)."""

    def __init__(self, part: str, where: str, *told: str) -> None:
        self.part, self.where = part, where
        super().__init__(*told)


class Draft:
    """Limits and wishes being changed in the units of ``system``; ``lines`` is what they say. ``own``: traits beside the measured."""

    def __init__(self, market: Market | None, system: str, own: Sequence[str] = ()) -> None:
        self.system, self.own = system, own
        self._ids = count(1)
        self.parts: list[Part] = []
        if market is not None:
            for one in market.parts:
                self._take(one)

    def put(self, part: str, name: str, text: str) -> None:
        """Type ``text`` into a field; a part or field that is not there is passed over."""
        one = self._part(part)
        if one is None:
            return
        if name == "shape" and one.what == "wish" and text in SHAPES:
            one.shape = text
            if text == "target" and not one.texts.get("ideal"):
                one.texts["ideal"] = self._ideal(one)
        elif name in one.fields:
            one.texts[name] = " ".join(text.split())[:_LONGEST]

    def tick(self, part: str, word: str, on: bool) -> None:
        """Take a word of a class, or leave it out."""
        one = self._part(part)
        if one is not None and one.kind == "class":
            taken = {*one.words, word} if on else {*one.words} - {word}
            one.words = tuple(known for known in class_words(one.key) if known in taken)

    def remove(self, part: str) -> None:
        self.parts = [one for one in self.parts if one.id != part]

    def add(self, what: str, key: str, estimates: Iterable[float]) -> str:
        """Add a limit or wish of ``key`` with starting figures; its id, "" where there is none to add."""
        if key not in self.missing(what):
            return ""
        kind = "class" if key in CLASSES else "place" if key in PLACED else "trait"
        if what == "limit":
            return self._take(starting_limit(kind, key, estimates, self.system))
        return self._take(starting_wish(key, estimates, self.system))

    def missing(self, what: str) -> dict[str, str]:
        """What there is no limit or wish of yet, by key, with its label."""
        every = {**({key: label for key, (label, _) in CLASSES.items()} if what == "limit" else {})}
        every |= {key: trait_called(key).label for key in (*TRAITS, *self.own, *(PLACED if what == "limit" else ()))}  # fmt: skip
        there = {one.key for one in self.parts if one.what == what}
        return {key: label for key, label in every.items() if key not in there}

    @property
    def lines(self) -> tuple[str, ...]:
        """The statements of the draft; DraftFaultError for the first text that cannot be followed."""
        read = [self._read(part) for part in self.parts]
        limits = tuple(one for one in read if isinstance(one, Limit))
        wishes = tuple(one for one in read if isinstance(one, Wish))
        lines = statements(Market("", "", "", limits, wishes))
        try:
            stated(lines, own=self.own)
        except MarketError as fault:
            raise DraftFaultError(
                "", "", "This market", fault.key, fault.value, fault.rule, fault.suggestion
            ) from None
        return lines

    def _part(self, key: str) -> Part | None:
        return next((part for part in self.parts if part.id == key), None)

    def _take(self, one: Limit | Wish) -> str:
        what = "limit" if isinstance(one, Limit) else "wish"
        # With the key: the page keeps the fields it has made by this name, also when another market takes the place of this.
        part = Part(f"{what}-{next(self._ids)}-{one.key}", what, "trait", one.key)
        if isinstance(one, Limit):
            part.kind, part.words = one.kind, one.any_of
            figures = {
                "at_least": one.at_least, "at_most": one.at_most, "share": one.share, "seasons": one.seasons,
            }  # fmt: skip
        else:
            part.shape, part.exponent = one.shape, one.exponent
            figures = {"from": one.low, "to": one.high, "weight": one.weight}
            if one.shape == "target":
                figures["ideal"] = one.target
        for name, figure in figures.items():
            if figure is not None:
                text = self._shown(part.key, name, figure)
                part.texts[name], part.exact[name] = text, (text, figure)
        self.parts.append(part)
        return part.id

    def _shown(self, key: str, name: str, figure: float) -> str:
        """A figure as the reader sees it: one decimal more than the trait's, so that 2 3/8 in is 2.375."""
        if name in ("share", "weight", "seasons"):
            return short(100 * figure if name == "share" else figure)
        trait = trait_called(key)
        written = float(trait.unit(self.system).from_si(figure))
        return short(round(written, trait.decimals(self.system) + 1))

    def _ideal(self, part: Part) -> str:
        """An ideal to start from: the middle of the two ends, "" while they are no figures."""
        unit = trait_called(part.key).unit(self.system)
        try:
            low, high = (
                float(unit.to_si(self._figure(part, name, part.texts[name]))) for name in ("from", "to")
            )
        except (MarketError, KeyError):
            return ""
        return short(ideal_between(part.key, low, high, self.system), unit)

    def _read(self, part: Part) -> Limit | Wish:
        if part.kind == "class":
            if not part.words:
                raise DraftFaultError(
                    part.id,
                    "any_of",
                    part.place,
                    "",
                    "",
                    "no word is ticked",
                    "tick what is taken, or remove the limit",
                )
            return Limit("class", part.key, part.words)
        table: dict[str, Any] = {"trait": part.key, "unit": trait_called(part.key).unit(self.system).suffix}
        if part.what == "wish":
            table |= {"shape": part.shape, "exponent": part.exponent}
        for name in part.fields:
            text = part.texts.get(name, "")
            if text:
                table[name] = self._figure(part, name, text)
            elif part.what == "wish":
                raise self._fault(part, name, "is missing", "write a figure, or remove the wish")
        if not 0 < table.get("share", 1) <= 100:
            rule = "must be above 0 and at most 100"
            raise self._fault(part, "share", rule, "80 asks for 80 of 100 fruit, none for the mean")
        if "share" in table:
            table["share"] /= 100
        try:
            read_by = limit_of if part.what == "limit" else wish_of
            read = read_by(table, part.place, self.own)
        except MarketError as fault:
            name = fault.key if fault.key in part.fields else part.fields[0]
            hint = _HINTS.get(fault.key, fault.suggestion)
            raise self._fault(part, name, fault.rule, hint) from None
        return self._with_exact(part, read)

    def _with_exact(self, part: Part, read: Limit | Wish) -> Limit | Wish:
        """Figures whose text nobody changed are what they were."""
        same = {name: si for name, (text, si) in part.exact.items() if part.texts.get(name) == text}
        if isinstance(read, Limit):
            return replace(read, **{name: same.get(name, getattr(read, name)) for name in ("at_least", "at_most", "share", "seasons")})  # fmt: skip
        low, high = same.get("from", read.low), same.get("to", read.high)
        target = {"larger": high, "smaller": low}.get(read.shape, same.get("ideal", read.target))
        return replace(read, low=low, high=high, target=target, weight=same.get("weight", read.weight))

    def _figure(self, part: Part, name: str, text: str) -> float:
        """The figure of a text, in the reader's unit; in full where the text is as it was given."""
        given, si = part.exact.get(name, ("", 0.0))
        if text != given:
            return self._number(part, name, text)
        if name in ("share", "weight", "seasons"):
            return 100 * si if name == "share" else si
        return float(trait_called(part.key).unit(self.system).from_si(si))

    def _number(self, part: Part, name: str, text: str) -> float:
        text = "".join(_spelled(sign) for sign in text).strip()
        if (fraction := _FRACTION.fullmatch(text)) and int(fraction["of"]):
            whole = float(fraction["whole"] or 0)  # 2 3/8, as diameters are told
            return whole + int(fraction["part"]) / int(fraction["of"])
        if _NUMBER.fullmatch(text) is None:
            hint = text.replace(",", ".", 1)
            good = _NUMBER.fullmatch(hint)
            raise self._fault(part, name, "must be a number", f"write {hint}" if good else "as in 12 or 12.5")
        return float(text)

    def _fault(self, part: Part, name: str, rule: str, hint: str) -> DraftFaultError:
        said = (text.replace("_", " ") for text in (rule, hint))
        return DraftFaultError(part.id, name, part.place, FIELDS[name], part.texts.get(name, ""), *said)


def _spelled(sign: str) -> str:
    """A fraction that is one sign, as ½, in figures; any other sign as it is."""
    return (
        f" {normalize('NFKC', sign).replace('⁄', '/')}"
        if decomposition(sign).startswith("<fraction>")
        else sign
    )


def class_words(key: str) -> tuple[str, ...]:
    """The words a class limit may take, "not recorded" last."""
    return (*CLASSES[key][1], UNKNOWN)
