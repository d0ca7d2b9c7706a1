"""Processes that bring records in and take them back, again and again, until they are killed: ``python -m tests.records.store.killed``.
With a third word what comes in is laid straight into the file, and taken back by way of the log.

One process has all libraries loaded and splits off another for each line it is sent, which says its number, goes to work, and says of each
step that it is whole.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

from dashboard.places import place_of
from dashboard.records.store import bringing
from dashboard.records.store.bringing import bring
from dashboard.records.store.history import brought_in
from dashboard.records.store.undoing import undo

WHOLE = "whole\n"


def work(place, week: Path) -> None:
    while True:
        last = brought_in(place)[-1]
        if last.number > 1 and not last.undoes:
            undo(place, last.number, "killed")
        else:
            bring(place, week, "killed")
        sys.stdout.write(WHOLE)
        sys.stdout.flush()


if __name__ == "__main__":
    place, week = place_of(sys.argv[1]), Path(sys.argv[2])
    if len(sys.argv) > 3:
        bringing.MUCH = 0
    for _ in sys.stdin:
        child = os.fork()
        if not child:
            try:
                print(os.getpid(), flush=True)
                work(place, week)
            finally:
                os._exit(1)  # it ended by itself, which it should not
        _, how = os.waitpid(child, 0)
        print(how, flush=True)
