"""Work in forked processes: what is imported is there already, and what a mutant breaks is gone with its process."""

from __future__ import annotations

import os
import pickle
import resource
import signal
import sys
import tempfile
import traceback
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

MEMORY = 6 << 30  # bytes of addresses
PATIENCE = 20  # seconds on the clock for one of processor: the machine may be busy


def forked(
    work: Iterable[tuple[Any, Callable[[], object], float]], jobs: int
) -> Iterator[tuple[Any, object | None]]:
    """(key, what the work of that key returned), as they end; None for one that died or took over its processor seconds.

    ``work``: (key, function, seconds).
    """
    waiting = iter(work)
    running: dict[int, Any] = {}
    with tempfile.TemporaryDirectory() as folder:
        while True:
            while len(running) < jobs and (task := next(waiting, None)):
                key, act, seconds = task
                running[_started(act, seconds, Path(folder))] = key
            if not running:
                return
            pid, status = os.wait()
            answer = Path(folder, str(pid))
            yield running.pop(pid), pickle.loads(answer.read_bytes()) if status == 0 else None


def _started(act: Callable[[], object], seconds: float, folder: Path) -> int:
    sys.stdout.flush()
    sys.stderr.flush()
    pid = os.fork()
    if pid:
        return pid
    status = 1
    try:
        nowhere = os.open(os.environ.get("MUTATION_LOG", os.devnull), os.O_WRONLY | os.O_APPEND | os.O_CREAT)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        for kind, timer, limit in (
            (signal.SIGPROF, signal.ITIMER_PROF, seconds),
            (signal.SIGALRM, signal.ITIMER_REAL, seconds * PATIENCE),
        ):
            signal.signal(kind, signal.SIG_DFL)
            signal.setitimer(timer, limit)
        answer = act()
        Path(folder, str(os.getpid())).write_bytes(pickle.dumps(answer))
        status = 0
    except BaseException:
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(status)
