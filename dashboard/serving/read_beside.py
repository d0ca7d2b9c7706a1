"""New records of a store, read by a process beside the server, which answers its visitors meanwhile."""

from __future__ import annotations

from dashboard.answers.catalogue import Catalogue, read_catalogue
from dashboard.page.parts.workshop import Workshop
from dashboard.records.problems import Problem, RecordError
from dashboard.records.store.opening import Place

STANDS_BACK = 10  # how far it stands back behind whoever answers visitors


def read_beside(place: Place) -> Catalogue:
    """As ``catalogue.read_catalogue``. Within the server where no process can be started, which is logged."""
    workshop = Workshop("new records are read", STANDS_BACK)
    workshop.open()
    try:
        found = workshop.done(_read, place)
    finally:
        workshop.close()
    if found is None:
        return read_catalogue(place)
    if isinstance(found, Catalogue):
        return found
    raise RecordError(found)


def _read(place: Place) -> Catalogue | tuple[Problem, ...]:
    """In the process: a fault travels as what is wrong, for it is not put together again from its words."""
    try:
        return read_catalogue(place)
    except RecordError as fault:
        return fault.problems
