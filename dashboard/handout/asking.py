"""The question that a handout answers, from the words of a command."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import replace

from dashboard.answers.catalogue import Catalogue, with_market
from dashboard.answers.question import Question, known_values
from dashboard.handout.ripening import site_key
from dashboard.records.names import alike, nearest
from dashboard.ripening.cover import CERTAINTY
from dashboard.ripening.days import day_key
from dashboard.ripening.typed_days import day_typed
from dashboard.wording.columns import called

FIRST = 30  # of the ranking, where nobody was put on a shortlist


def asking(
    catalogue: Catalogue,
    market: str = "",
    shortlist: str = "",
    site: str = "",
    units: str = "us",
    columns: str = "",
) -> Question:
    """``market`` is a key, a title or a profile's file; ``shortlist`` names parted by commas, one with a comma in it in quotation marks;
    ``site`` a key or a name; ``columns`` further ones, parted by commas.

    MarketError or ValueError, one sentence, for what is not there.
    """
    if market:
        catalogue, market = with_market(catalogue, market)
    names, key = names_of(catalogue, shortlist), known_site(catalogue, site)
    further = called(columns)
    return Question(catalogue, market=market, shortlist=names, site=key, units=units, columns=further)


def selling(asked: Question, first: str = "", last: str = "", certainty: int = CERTAINTY) -> Question:
    """The same question from one typed day to another ("" for the season's own), covered in so many seasons of ten.

    ValueError, one sentence, for what is no day, or a last one before the first.
    """
    south = asked.catalogue.south
    opens, closes = (day_key(day_typed(said, south), south) if said else "" for said in (first, last))
    found = replace(asked, opens=opens, closes=closes, certainty=certainty)
    if found.wrong_way:
        raise ValueError(found.wrong_way)
    return found


def with_second(asked: Question, said: str = "") -> Question:
    """The same slate for another buyer, too, named as a market is ("" for none).

    MarketError or ValueError, one sentence, for what is not there, or is the first once more.
    """
    if not said:
        return asked
    catalogue, key = with_market(asked.catalogue, said)
    if key == asked.market:
        raise ValueError(f"{catalogue.markets[key].name} is named twice; name another second buyer.")
    return replace(asked, catalogue=catalogue, second=key)


def known_site(catalogue: Catalogue, said: str) -> str:
    """The key of a site named by key or name, "" for none; ValueError, one sentence, for one without readings."""
    sites = known_values(catalogue)["site"]
    key = site_key(catalogue, said) if said else ""
    if key not in sites:
        told = ", ".join(one for one in sites if one) or "no site"
        raise ValueError(f"No reading at a site {said!r}; there are readings at {told}.")
    return key


def names_of(catalogue: Catalogue, said: str) -> tuple[str, ...]:
    """Cultivars named in a row, parted by commas; ValueError, one sentence, for one that is not there."""
    known = known_values(catalogue)["shortlist"]
    return tuple(dict.fromkeys(cultivar_named(name, known) for name in parted(said)))


def cultivar_named(name: str, known: Sequence[str]) -> str:
    """The cultivar of that name, whatever the case, hyphens and spaces, where only one is so called."""
    same = [name] if name in known else alike(name, known)
    if len(same) == 1:
        return same[0]
    near = " or ".join(same) or nearest(name, known)
    hint = f"did you mean {near}?" if near else "see the names in the sheet cultivars."
    raise ValueError(f"There is no cultivar {name[:60]!r} in these records; {hint}")


def with_shortlist(asked: Question) -> Question:
    """The same question with its shortlist or, while that is empty, with the first of the ranking on it."""
    if asked.shortlist:
        return asked
    return replace(asked, shortlist=tuple(str(name) for name in asked.ranking.index[:FIRST]))


def from_ranking(asked: Question) -> bool:
    """Whether the shortlist is what the ranking begins with, and not somebody's choice."""
    first = tuple(str(name) for name in asked.ranking.index[: len(asked.shortlist)])
    return asked.shortlist == first


def parted(shortlist: str) -> list[str]:
    lines = csv.reader([" ".join(shortlist.split())], skipinitialspace=True)
    return [name.strip() for line in lines for name in line if name.strip()]
