"""One way to name a market, for every command, link and notebook: its key, or its title as it stands on the page; where files may
be read, a profile's path too."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from dashboard.market.profile import Market
from dashboard.market.reading import read_market
from dashboard.records.names import nearest


def spellings(markets: Mapping[str, Market]) -> dict[str, str]:
    """The key of each market by every way it is written, in small letters too; a key goes before another's title."""
    ways: dict[str, str] = {}
    for write in (str, str.casefold):
        for key in markets:
            ways.setdefault(write(key), key)
        for key, market in markets.items():
            ways.setdefault(write(market.name), key)
    return ways


def market_called(markets: Mapping[str, Market], said: str | Path, own: Sequence[str] = ()) -> Market:
    """One of ``markets``, or the profile in the file ``said``, which may name ``own`` traits beside the measured ones.

    MarketError for a profile that cannot be read; ValueError, one sentence with the nearest, for a market that is not there.
    """
    ways, words = spellings(markets), " ".join(str(said).split())
    key = ways.get(words, ways.get(words.casefold()))
    if key is not None:
        return markets[key]
    place = Path(said)
    if place.suffix.lower() == ".toml" or place.is_file():
        return read_market(place, own)
    close = nearest(words, ways)
    known = [ways[close]] if close else list(markets)
    told = ", ".join(f"{key} ({markets[key].name})" for key in known)
    hint = (
        f"did you mean {told}?"
        if close
        else f"there are {told or 'none'}; or name a profile ending in .toml."
    )
    raise ValueError(f"There is no market {words[:60]!r}; {hint}")
