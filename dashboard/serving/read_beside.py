"""New records of a store, read by a process beside the server, which answers its visitors meanwhile."""

from __future__ import annotations

import logging

from dashboard.answers.catalogue import Catalogue, read_catalogue
from dashboard.page.parts.workshop import started
from dashboard.records.problems import Problem, RecordError
from dashboard.records.store.opening import Place

STANDS_BACK = 10  # how far it stands back behind whoever answers visitors

log = logging.getLogger(__name__)


def read_beside(place: Place) -> Catalogue:
    """As ``catalogue.read_catalogue``. Within the server where no process can be started, which is logged."""
    try:
        process = started(STANDS_BACK)
    except Exception as fault:  # every system has its own way to refuse a process
        log.warning("no process can be started (%s): new records are read within the server, which answers more slowly meanwhile", fault)  # fmt: skip
        return read_catalogue(place)
    with process:
        found = process.submit(_read, place).result()
    if isinstance(found, Catalogue):
        return found
    raise RecordError(found)


def _read(place: Place) -> Catalogue | tuple[Problem, ...]:
    """In the process: a fault travels as what is wrong, for it is not put together again from its words."""
    try:
        return read_catalogue(place)
    except RecordError as fault:
        return fault.problems
