"""All that the pages of this room share: whose records, who is in, what is being done."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from dashboard.records.problems import RecordError
from dashboard.records.trays import folders
from dashboard.records.trays.desk import Desk, held
from dashboard.serving.bringing.password import Password
from dashboard.serving.bringing.sessions import Sessions
from dashboard.serving.bringing.work import Work

log = logging.getLogger(__name__)


@dataclass
class Room:
    """``title``: of the records; ``named``: further names of the server, as its pages give them; ``anew``: works out what is shown of
    records that came into a folder; ``sites``: short name and name of those there are."""

    desk: Desk
    title: str = ""
    named: tuple[str, ...] = ()
    anew: Callable[[], None] | None = None
    sites: Callable[[], Sequence[tuple[str, str]]] = tuple
    sessions: Sessions = field(init=False)
    work: Work = field(init=False)

    def __post_init__(self) -> None:
        self.sessions = Sessions(Password(self.desk.password))
        self.work = Work(self.desk, self._came_in)

    def open(self) -> None:
        """Go on with what was killed midway, and be ready. OSError where the desk cannot be written."""
        if not self.desk.store:
            with held(self.desk):
                folders.finish(self.desk)
        self.work.open()

    def _came_in(self) -> None:
        if self.anew is not None and not self.desk.store:  # a store is followed as it is
            threading.Thread(target=self._show, daemon=True).start()

    def _show(self) -> None:
        try:
            assert self.anew is not None
            self.anew()
        except RecordError as fault:
            log.warning("the newest records cannot be shown: %s", fault)
        except Exception:
            log.exception("the newest records cannot be shown")
