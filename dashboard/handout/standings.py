"""How every cultivar stands in a market: the page's table, from the command."""

from __future__ import annotations

from pathlib import Path

from dashboard.answers.catalogue import Catalogue, with_market
from dashboard.answers.question import Question, known_values
from dashboard.handout import tables
from dashboard.wording.columns import called


def ranked(
    catalogue: Catalogue, market: str | Path, site: str = "", units: str = "us", columns: str = ""
) -> Question:
    """The question the page asks when this market (a key, a title or a profile's file) is chosen and nothing else is.

    MarketError (a ValueError) for a profile that cannot be read, ValueError for a market, a site or
    one of the further ``columns``, parted by commas, that is not there.
    """
    known, key = with_market(catalogue, market)
    sites = known_values(catalogue)["site"]
    if site not in sites:
        told = ", ".join(one for one in sites if one) or "no site"
        raise ValueError(f"No reading at a site {site!r}; there are readings at {told}.")
    return Question(known, market=key, site=site, units=units, columns=called(columns))


def text(asked: Question) -> str:
    """The table that the page offers as .csv."""
    return tables.csv(asked, "ranking").decode("utf-8-sig")


def remarks(asked: Question) -> list[str]:
    """What the figures stand for, and why chances are missing where they are."""
    return [f"{name}: {meaning}" for name, meaning in tables.meanings(asked) if name in _TOLD]


_TOLD = ("Market", "Estimates", "Records", "Data version", "No chances", "Caution")
