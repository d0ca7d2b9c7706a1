"""Files that visitors take home, made beside the server: in a process of its own where one can be started, one after the other.

A handout of a hundred pages takes a processor seconds; within the server they would be everybody's. The process reads the
records once, from the same folder, and makes nothing from other records than the page shows. What a notebook brought along it does
not know: then they are made within.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from functools import partial

from dashboard.answers.question import Question
from dashboard.handout import booklet, tables, workbook
from dashboard.page.parts.workshop import Sent, Workshop
from dashboard.slate import publishing

# By the name under which a file is kept: what is made.
FILES: Mapping[str, Callable[[Question], bytes]] = {
    "orchard-slate-shortlist.csv": partial(tables.csv, part="shortlist"),
    "orchard-slate-shortlist.xlsx": partial(tables.xlsx, part="shortlist"),
    "orchard-slate-ranking.csv": partial(tables.csv, part="ranking"),
    "orchard-slate-ranking.xlsx": partial(tables.xlsx, part="ranking"),
    "orchard-slate-handout.pdf": booklet.pdf,
    "orchard-slate-handout.xlsx": workbook.xlsx,
    "orchard-slate-weeks.csv": tables.weeks_csv,
    "orchard-slate-page.html": publishing.html,
}
MOST = {
    "pdf": 100,
    "xlsx": 5_000,
    "csv": 5_000,
    "html": 5_000,
}  # cultivars; a page each on paper takes a processor 0.05 s: a choice of ours
MOST_WAITING = 20  # files asked for and not made yet, of all visitors
FAILED = (
    "The file could not be made; the reason is in the server's log. Try again, or ask for fewer cultivars."
)
CROWDED = "Many files are being made just now; try again in a minute."

NO_BUYER = "This page is made for a buyer: choose who you sell to first."

_PLACES = threading.BoundedSemaphore(MOST_WAITING)

log = logging.getLogger(__name__)


class MakingError(Exception):
    """Why a file is not made, in a sentence for whoever asked."""


def ordered(asked: Question, file: str) -> Callable[[], bytes]:
    """What makes the file, in its turn; MakingError where too many wait already."""
    if not _PLACES.acquire(blocking=False):
        raise MakingError(CROWDED)

    def make() -> bytes:
        try:
            return made(asked, file)
        finally:
            _PLACES.release()

    return make


def made(asked: Question, file: str) -> bytes:
    """The file of that name in FILES; MakingError, one sentence. Waits for it: not to be called where others wait, too."""
    _refuse_too_many(asked, file)
    try:
        sent = Sent.of(asked)
        content = None if sent is None else _WORKSHOP.done(_make, sent, file)
        return FILES[file](asked) if content is None else content
    except Exception as fault:
        log.error("%s could not be made", file, exc_info=fault)
        raise MakingError(FAILED) from fault


def _refuse_too_many(asked: Question, file: str) -> None:
    kind = file.rpartition(".")[2]
    if "weeks" in file:  # a row a class
        return
    if kind == "html":
        if asked.profile is None:
            raise MakingError(NO_BUYER)
        count, where = len(asked.catalogue.cultivars), "are in these records"
    elif "ranking" in file:
        count, where = len(asked.ranking), "pass your filters"
    else:
        count, where = len(asked.shortlist), "are on my slate"
    if count > MOST[kind]:
        raise MakingError(
            f"{count:,} cultivars {where}, and this file holds at most {MOST[kind]:,}; choose fewer."
        )


def _make(sent: Sent, file: str) -> bytes | None:
    """In the process: None where its records or markets are not those of the page."""
    asked = sent.question()
    return None if asked is None else FILES[file](asked)


_WORKSHOP = Workshop("files are made")
open_workshop = _WORKSHOP.open
close_workshop = _WORKSHOP.close
QUEUE = ThreadPoolExecutor(max_workers=1, thread_name_prefix="taken home")  # who waits for the process
