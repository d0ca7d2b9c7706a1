"""What is shown of records: worked out once, and of a store once for each version of its data.

Where a server ``follows`` a store, a thread looks for new imports; whoever comes meanwhile gets what is ready, and whoever is here keeps what
they began with. Elsewhere the newest is worked out when it is asked for.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from dashboard.places import place_of
from dashboard.records.problems import RecordError
from dashboard.records.store.opening import Place, StoreError, as_record_error, is_store

EVERY_S = 2.0  # between two looks, each one small query

Shown = TypeVar("Shown")
Make = Callable[[Place], Shown]
log = logging.getLogger(__name__)

_SHOWN: dict[Place, tuple[str, Any]] = {}  # with the version of the data
_FOLLOWED: set[Place] = set()
_WORKING = threading.Lock()  # one is worked out at a time, and once


def newest(said: Place, make: Make[Shown]) -> Shown:
    """What ``make`` makes of the records at a place: the same object for as long as the process lasts, of a store for the same version of
    its data. RecordError where nothing can be loaded."""
    place = _resolved(said)
    known = _SHOWN.get(place)
    if known is not None and (place in _FOLLOWED or not is_store(place)):
        return known[1]
    return _made(place, make)


def follow(said: Place, make: Make[Any], every: float = EVERY_S) -> Callable[[], None]:
    """Keep up with a store from now on, in a thread; gives back what ends it. Of other records nothing is looked for."""
    place = _resolved(said)
    ended = threading.Event()
    if not is_store(place):
        return ended.set
    _FOLLOWED.add(place)

    def look() -> None:
        told: str | None = None
        while not ended.wait(every):
            try:
                _made(place, make)
                told = None
            except (RecordError, StoreError) as fault:  # what is ready is shown on
                if str(fault) != told:
                    log.warning("the newest records of the store cannot be shown: %s", fault)
                told = str(fault)
            except Exception:
                log.exception("the newest records of the store cannot be shown")
        _FOLLOWED.discard(place)

    threading.Thread(target=look, name="store", daemon=True).start()
    return ended.set


def renew(said: Place, make: Make[Any]) -> None:
    """Of records that are no store: from now on what ``make`` makes of them as they are. RecordError where nothing can be loaded; then what
    was shown is shown on."""
    place = _resolved(said)
    with _WORKING:
        _SHOWN[place] = "", make(place)


def _resolved(said: Place) -> Place:
    place = place_of(said)
    return place.resolve() if isinstance(place, Path) else place


def _made(place: Place, make: Make[Shown]) -> Shown:
    with _WORKING:
        version = _version(place)
        known = _SHOWN.get(place)
        if known is None or known[0] != version:
            # What comes in while it is made may be in it or not; then it is made once more than needed.
            known = _SHOWN[place] = version, make(place)
        return known[1]


def _version(place: Place) -> str:
    if not is_store(place):
        return ""
    from dashboard.records.store.kept import version_at

    try:
        return version_at(place)
    except StoreError as fault:
        raise as_record_error(place, fault) from None
