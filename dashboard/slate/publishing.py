"""Writes the published slate of records and a market."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.question import Question
from dashboard.handout.asking import selling, with_second
from dashboard.handout.standings import ranked
from dashboard.places import put
from dashboard.ripening.cover import CERTAINTY
from dashboard.slate.page import published

KEPT = ("market", "second", "own", "units", "site", "station", "higher", "ripeness", "season_kind", "least", "certainty", "opens", "closes", "columns")  # fmt: skip
OF_A_PLACE = ("winter_chill", "winters")  # columns
LARGEST = 3_000_000  # bytes that mail lets through without a thought


def html(asked: Question) -> bytes:
    """The slate for whoever buys in ``asked``, with its days and figures, whatever its filters; a market has to be chosen. Where a place
    was chosen, the chill it brings stands in the list, whether or not the columns were asked for."""
    of_buyer = Question(
        asked.catalogue, weather=asked.weather, **{field: getattr(asked, field) for field in KEPT}
    )
    if of_buyer.chosen_winters is not None:
        of_buyer = replace(of_buyer, columns=tuple(dict.fromkeys((*of_buyer.columns, *OF_A_PLACE))))
    return published(of_buyer, asked.catalogue.records_title or "Orchard Slate").encode("utf-8")


def publish(
    catalogue: Catalogue,
    market: str | Path,
    out: str | Path,
    *,
    second: str = "",
    site: str = "",
    units: str = "us",
    columns: str = "",
    first: str = "",
    last: str = "",
    certainty: int = CERTAINTY,
) -> int:
    """Write the slate to ``out`` (.html) and return its size in bytes.

    ``second`` is another buyer of the same slate; ``first`` and ``last`` selling day as typed ("" for the season's). ValueError, one sentence, for a market, site, day or further
    column that cannot be used or another ending; OSError where it cannot be written.
    """
    place = Path(out)
    if place.suffix.lower() not in (".html", ".htm"):
        raise ValueError(f"{place}: a slate is a page; give it a name that ends in .html.")
    asked = with_second(ranked(catalogue, market, site, units, columns), second)
    asked = selling(asked, first, last, certainty)
    page = html(asked)
    put(place, page)
    return len(page)
