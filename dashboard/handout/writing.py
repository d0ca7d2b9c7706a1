"""A handout from records into a file, as the command writes it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from dashboard.answers.catalogue import load
from dashboard.handout import booklet, workbook
from dashboard.handout.asking import asking, selling
from dashboard.places import put, unwritten
from dashboard.ripening.cover import CERTAINTY

ENDINGS = (".pdf", ".xlsx")


def write_handout(
    source: str | Path, out: str | Path, *, market: str = "", shortlist: str = "", site: str = "", units: str = "us",
    paper: str = "", columns: str = "", first: str = "", last: str = "", certainty: int = CERTAINTY,
    progress: Callable[[int, int], None] = lambda page, pages: None,
) -> str:  # fmt: skip
    """What was written, in one line. RecordError, or ValueError with one sentence, for what cannot be followed or written."""
    place = Path(out)
    ending = place.suffix.lower()
    if ending not in ENDINGS:
        raise ValueError(
            f"{place}: a handout's name ends in .pdf (paper) or .xlsx (workbook), for example handout.pdf."
        )
    if place.resolve() == Path(source).resolve():
        raise ValueError(f"{place}: are the records themselves; name another file.")
    if not place.parent.is_dir():
        raise ValueError(f"{place}: there is no folder {place.parent}; name one that is there.")
    asked = selling(asking(load(source), market, shortlist, site, units, columns), first, last, certainty)
    made = booklet.pdf(asked, paper, progress) if ending == ".pdf" else workbook.xlsx(asked)
    try:
        put(place, made)
    except OSError as fault:
        raise ValueError(unwritten(place, fault)) from None
    return f"{place} written: {len(made) / 1000:,.0f} kB\n"
