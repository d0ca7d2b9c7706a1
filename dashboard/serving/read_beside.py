"""New records taken up while visitors are answered: read by a process beside the server, and what a first page asks of them worked out
before they are shown."""

from __future__ import annotations

import logging
import pickle
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

from dashboard.answers.at_hand import work_out
from dashboard.answers.catalogue import Catalogue, read_catalogue
from dashboard.page.parts.workshop import Workshop
from dashboard.records.problems import Problem, RecordError
from dashboard.records.store.opening import Place

STANDS_BACK = 10  # how far it stands back behind whoever answers visitors
SHARES_S = 0.0005  # for how long a thread may go on while the one that answers visitors waits
_AT_ONCE = 500  # problems unpacked while nobody is answered: some milliseconds
log = logging.getLogger(__name__)


def taken_up(place: Place) -> Catalogue:
    """As ``read_beside``; its first page is made as fast as every other."""
    with _in_small_steps():
        found = read_beside(place)
        try:
            work_out(found)
        except Exception:  # the page that asks for it tells of it
            log.exception("what a first page asks of new records could not be worked out")
    return found


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
    if isinstance(found, tuple):
        raise RecordError(found)
    whole, *problems = found
    return replace(
        pickle.loads(whole), problems=tuple(one for some in problems for one in pickle.loads(some))
    )


def _read(place: Place) -> list[bytes] | tuple[Problem, ...]:
    """In the process: the catalogue and then its problems, packed in pieces, for each is unpacked in one go. A fault travels as what is wrong,
    for it is not put together again from its words."""
    try:
        found = read_catalogue(place)
    except RecordError as fault:
        return fault.problems
    told = found.problems
    pieces = (told[at : at + _AT_ONCE] for at in range(0, len(told), _AT_ONCE))
    return [pickle.dumps(one, pickle.HIGHEST_PROTOCOL) for one in (replace(found, problems=()), *pieces)]


@contextmanager
def _in_small_steps() -> Iterator[None]:
    usual = sys.getswitchinterval()
    sys.setswitchinterval(SHARES_S)
    try:
        yield
    finally:
        sys.setswitchinterval(usual)
