"""How every cultivar stands in the market of a file: the page's table, from the command."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from dashboard.catalogue import Catalogue
from dashboard.comparison import Comparison, known_values
from dashboard.handout import tables
from dashboard.market import read_market


def ranked(catalogue: Catalogue, market: str | Path, site: str = "", units: str = "us") -> Comparison:
    """The question the page asks when the market of the file is chosen and nothing else is.

    MarketError (a ValueError) for a profile that cannot be read, ValueError for a site without readings.
    """
    profile = read_market(market)
    sites = known_values(catalogue)["site"]
    if site not in sites:
        told = ", ".join(one for one in sites if one) or "no site"
        raise ValueError(f"No reading at a site {site!r}; there are readings at {told}.")
    with_it = replace(catalogue, markets={**catalogue.markets, profile.key: profile})
    return Comparison(with_it, market=profile.key, site=site, units=units)


def text(asked: Comparison) -> str:
    """The table that the page offers as .csv."""
    return tables.csv(asked, "ranking").decode("utf-8-sig")


def remarks(asked: Comparison) -> list[str]:
    """What the figures stand for, and why chances are missing where they are."""
    return [f"{name}: {meaning}" for name, meaning in tables.meanings(asked) if name in _TOLD]


_TOLD = ("Market", "Estimates", "Records", "Data version", "No chances", "Caution")
