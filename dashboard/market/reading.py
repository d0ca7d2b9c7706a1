"""Market profiles from TOML files; whatever is wrong with one is said in a sentence (MarketError)."""

from __future__ import annotations

import os
import stat
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from dashboard.market.entries import Entries, nearest_word
from dashboard.market.profile import SHAPES, Limit, Market, MarketError, Wish
from dashboard.market.toml_text import LARGEST, TomlError, toml_table
from dashboard.terms.traits import CLASSES, PLACED, TRAITS, UNKNOWN, trait_called

_TOP = ("name", "summary", "limit", "wish")
_CLASS_LIMIT = ("class", "any_of", "source")
_TRAIT_LIMIT = ("trait", "at_least", "at_most", "unit", "share", "seasons", "source")
_WISH = ("trait", "shape", "from", "to", "ideal", "unit", "weight", "exponent", "source")


def read_market(path: str | Path, own: Sequence[str] = ()) -> Market:
    """The profile in a TOML file.

    Parameters
    ----------
    path : str or Path
        The file; its name without the ending is the market's key.
    own : sequence of str
        Traits that it may name beside the measured ones.

    Returns
    -------
    Market
        Bounds in SI units.

    Raises
    ------
    MarketError
        One sentence with file, key, value, rule and suggestion, for the first fault found.
    """
    path = Path(path)
    return replace(market_of(_content(path), path.name, own), source_path=str(path))


def market_of(content: bytes, file: str, own: Sequence[str] = ()) -> Market:
    """The profile that the bytes of a file named ``file`` hold, as ``read_market`` gives it; without a path."""
    right_size(len(content), file)
    return market_in(_parsed(content, file), file, own)


def market_in(table: Mapping[str, Any], file: str, own: Sequence[str] = ()) -> Market:
    """The profile that a table of the words of a file called ``file`` states; MarketError as ``read_market``."""
    entries = Entries(file, "", table, own)
    entries.only(_TOP)
    name = entries.text("name")
    if not name:
        entries.fail("name", "", "a market has a name", 'write name = "…" at the top')
    limits = tuple(_limit(item) for item in entries.tables("limit"))
    wishes = tuple(_wish(item) for item in entries.tables("wish"))
    if not limits and not wishes:
        entries.fail("", "", "no limit and no wish", "add at least one [[limit]] or [[wish]]")
    return Market(Path(file).stem, name, entries.text("summary"), limits, wishes)


def right_size(size: int, file: str) -> None:
    """MarketError where a file of so many bytes is too large for a profile."""
    if size > LARGEST:
        rule = f"larger than the {LARGEST // 1000} kB a market profile may be"
        raise MarketError(file, "", f"{size} bytes", rule, "is it the right file?")


def limit_of(table: Mapping[str, Any], place: str, own: Sequence[str] = ()) -> Limit:
    """The limit that one table of a profile states; MarketError naming ``place``. ``own``: traits beside the measured ones."""
    return _limit(Entries(place, "", table, own))


def wish_of(table: Mapping[str, Any], place: str, own: Sequence[str] = ()) -> Wish:
    """The wish that one table of a profile states; MarketError naming ``place``."""
    return _wish(Entries(place, "", table, own))


def read_markets(*folders: str | Path) -> tuple[dict[str, Market], list[str]]:
    """The markets in the folders' TOML files.

    Parameters
    ----------
    *folders : str or Path
        A file in a later folder takes the place of one of the same name before it; a second market under a name already given is
        set aside.

    Returns
    -------
    dict of str to Market
        By key, in order of file name.
    list of str
        A sentence for each fault.
    """
    markets: dict[str, Market] = {}
    problems: list[str] = []
    for folder in map(Path, folders):
        if not folder.is_dir():
            problems.append(f"{folder}: no such folder of market profiles.")
            continue
        for path in sorted(folder.glob("*.toml")):
            try:
                market = read_market(path)
            except MarketError as fault:
                problems.append(str(fault))
                continue
            twin = next((m for m in markets.values() if m.name == market.name and m.key != market.key), None)
            if twin:
                rule = f"{Path(twin.source_path).name} already has that name"
                problems.append(str(MarketError(path.name, "name", market.name, rule, "give each its own")))
                continue
            markets[market.key] = market
    return markets, problems


def _content(path: Path) -> bytes:
    try:
        about = os.stat(path)
        if not stat.S_ISREG(about.st_mode):
            raise MarketError(path.name, "", "", "not a file")
        right_size(about.st_size, path.name)
        return path.read_bytes()
    except OSError as fault:
        raise MarketError(path.name, "", "", f"cannot be read ({fault.strerror})") from None


def _parsed(content: bytes, file: str) -> dict[str, Any]:
    try:
        return toml_table(content)
    except TomlError as fault:
        raise MarketError(file, "", "", fault.rule, fault.suggestion) from None


def _limit(entries: Entries) -> Limit:
    if ("class" in entries) == ("trait" in entries):
        entries.fail("", "", "a limit is about one class or one trait", "write class = … or trait = …")
    if "class" in entries:
        entries.only(_CLASS_LIMIT)
        return _class_limit(entries)
    entries.only(_TRAIT_LIMIT)
    key = entries.word("trait", (*TRAITS, *PLACED, *entries.own))
    unit = entries.unit(key)
    if key in PLACED:
        return _place_limit(entries, key)
    if "at_least" not in entries and "at_most" not in entries:
        entries.fail("", "", f"the limit on {key} has no bound", "write at_least = … or at_most = …")
    at_least = unit.to_si(entries.bound("at_least", key)) if "at_least" in entries else None
    at_most = unit.to_si(entries.bound("at_most", key)) if "at_most" in entries else None
    if at_least is not None and at_most is not None and at_least > at_most:
        entries.fail("at_least", entries.table["at_least"], "is above at_most", "exchange them")
    share = _share(entries, key) if "share" in entries else None
    seasons = _seasons(entries) if "seasons" in entries else None
    return Limit("trait", key, (), at_least, at_most, share, entries.text("source"), seasons)


def _place_limit(entries: Entries, key: str) -> Limit:
    for word in ("at_most", "share", "seasons"):
        if word in entries:
            entries.fail(word, entries.table[word], f"has no meaning for {key}", "write at_least = 9 alone")
    least = entries.number("at_least")
    if not 0 < least <= 10:
        entries.fail("at_least", least, "must be above 0 and at most 10", "9 asks for 9 winters of 10")
    return Limit("place", key, (), least, source=entries.text("source"))


def _class_limit(entries: Entries) -> Limit:
    key = entries.word("class", CLASSES)
    words = (*CLASSES[key][1], UNKNOWN)
    chosen = entries.table.get("any_of")
    if not isinstance(chosen, list) or not chosen:
        entries.fail("any_of", chosen or "", "must be a list of words", f'write any_of = ["{words[0]}"]')
    for word in chosen:
        if word not in words:
            entries.fail("any_of", word, f"not a {key}", nearest_word(str(word), words))
    return Limit("class", key, tuple(chosen), source=entries.text("source"))


def _share(entries: Entries, key: str) -> float:
    share = entries.number("share")
    if not trait_called(key).on_fruit:
        entries.fail("share", share, f"{key} is judged once a sample, not on each fruit", "leave share out")
    if not 0 < share <= 1:
        hint = f"write {share / 100:g}" if 1 < share <= 100 else "0.8 asks for 80 % of the fruit"
        entries.fail("share", share, "must be above 0 and at most 1", hint)
    return share


def _seasons(entries: Entries) -> float:
    seasons = entries.number("seasons")
    if "share" not in entries:
        entries.fail(
            "seasons", seasons, "is about a share of the fruit", "write share = … too, or leave seasons out"
        )
    if not 0 < seasons < 10:
        hint = "leave it out to take all seasons together"
        entries.fail(
            "seasons", seasons, "must be above 0 and below 10", f"8 asks for 8 seasons of 10, {hint}"
        )
    return seasons


def _wish(entries: Entries) -> Wish:
    entries.only(_WISH)
    key = entries.word("trait", (*TRAITS, *entries.own))
    shape = entries.word("shape", SHAPES)
    unit = entries.unit(key)
    low, high = entries.number("from"), entries.number("to")
    if not low < high:
        entries.fail(
            "from", low, f"must be below to = {high:g}", "smaller runs down from 1 at from to 0 at to"
        )
    if shape == "target":
        target = entries.number("ideal")
        if not low < target < high:
            entries.fail("ideal", target, f"must lie between from = {low:g} and to = {high:g}")
    elif "ideal" in entries:
        entries.fail("ideal", entries.table["ideal"], f"has no meaning for {shape}", 'write shape = "target"')
    else:
        target = high if shape == "larger" else low
    weight = _above_zero(entries, "weight", "leave the wish out to ignore it")
    exponent = _above_zero(entries, "exponent", "1 is a straight line")
    source = entries.text("source")
    return Wish(key, shape, unit.to_si(low), unit.to_si(target), unit.to_si(high), weight, exponent, source)


def _above_zero(entries: Entries, key: str, hint: str) -> float:
    if key not in entries:
        return 1.0
    number = entries.number(key)
    if number <= 0:
        entries.fail(key, number, "must be above 0", hint)
    return number
