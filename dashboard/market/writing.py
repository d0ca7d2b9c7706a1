"""A market written down as a profile, in the reader's units: what ``reading`` reads back as the same market."""

from __future__ import annotations

import re
from dataclasses import replace

from dashboard.market.profile import Limit, Market, Wish
from dashboard.market.statements import statements
from dashboard.market.written import short, short_row
from dashboard.terms.traits import trait_called

CHANGED = "changed on the page, no source"
_UNNAMED = "market"
_LONGEST_FILE = 60  # characters of a file's name
_PLAIN = ("rating", "ratio", "pct", "winters")  # units that a profile need not name: there is no other


def toml(market: Market, system: str) -> str:
    """The profile's text. Bounds are in the units of ``system``, with as few decimals as say them."""
    head = [f"name = {_text(market.name)}"]
    if market.summary:
        head.append(f"summary = {_text(market.summary)}")
    parts = [
        *(["[[limit]]", *_limit(limit, system)] for limit in market.limits),
        *(["[[wish]]", *_wish(wish, system)] for wish in market.wishes),
    ]
    return "\n\n".join("\n".join(lines) for lines in (head, *parts)) + "\n"


def sourced(market: Market, *known: Market | None) -> Market:
    """``market`` with the sources of ``known`` where a limit or wish is theirs, unchanged; the first one counts."""
    sources: dict[str, str] = {}
    for other in known:
        if other is not None:
            lines = zip(statements(other), other.parts, strict=True)
            sources = {**{line: part.source for line, part in lines}, **sources}
    told = iter([sources.get(line, CHANGED) for line in statements(market)])
    return replace(
        market,
        limits=tuple(replace(limit, source=next(told)) for limit in market.limits),
        wishes=tuple(replace(wish, source=next(told)) for wish in market.wishes),
    )


def file_name(name: str) -> str:
    """A file's name that every system takes: ``roadside_stand.toml``."""
    plain = re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")[:_LONGEST_FILE].strip("_")
    return f"{plain or _UNNAMED}.toml"


def _limit(limit: Limit, system: str) -> list[str]:
    if limit.kind == "class":
        words = ", ".join(_text(word) for word in limit.any_of)
        return [f"class = {_text(limit.key)}", f"any_of = [{words}]", *_source(limit)]
    unit = trait_called(limit.key).unit(system)
    bounds = {"at_least": limit.at_least, "at_most": limit.at_most}
    there = {word: bound for word, bound in bounds.items() if bound is not None}
    told = [f"{word} = {text}" for word, text in zip(there, short_row([*there.values()], unit), strict=True)]
    share = [f"share = {short(limit.share)}"] if limit.share is not None else []
    seasons = [f"seasons = {short(limit.seasons)}"] if limit.seasons is not None else []
    return [f"trait = {_text(limit.key)}", *told, *_unit(unit.suffix), *share, *seasons, *_source(limit)]


def _wish(wish: Wish, system: str) -> list[str]:
    unit = trait_called(wish.key).unit(system)
    ends = {"from": wish.low, "ideal": wish.target, "to": wish.high}
    if wish.shape != "target":
        del ends["ideal"]
    told = [f"{word} = {text}" for word, text in zip(ends, short_row([*ends.values()], unit), strict=True)]
    head = [f"trait = {_text(wish.key)}", f"shape = {_text(wish.shape)}"]
    weight = [f"weight = {short(wish.weight)}"]
    exponent = [f"exponent = {short(wish.exponent)}"] if wish.exponent != 1 else []
    return [*head, *told, *_unit(unit.suffix), *weight, *exponent, *_source(wish)]


def _unit(suffix: str) -> list[str]:
    return [] if suffix in _PLAIN else [f"unit = {_text(suffix)}"]


def _source(part: Limit | Wish) -> list[str]:
    return [f"source = {_text(part.source)}"] if part.source else []


def _text(text: str) -> str:
    """A basic string of TOML: on one line, and whatever could not be seen in an editor is written as its code."""
    return '"' + "".join(_letter(letter) for letter in " ".join(text.split())) + '"'


def _letter(letter: str) -> str:
    if letter in '"\\':
        return f"\\{letter}"
    if letter.isprintable():
        return letter
    code = ord(letter)
    if 0xD800 <= code <= 0xDFFF:  # half a character: no text in UTF-8 has it
        return "\ufffd"
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"
