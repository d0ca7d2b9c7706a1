"""``python -m tests.benchmarks.start [ROUNDS]``: from the command to the answering server, on the demo data, in turn.

With the adjusted values on disk from an earlier start, with nothing on disk, and without fitting at all (every trait's
values and the picking times are raw averages, found anew). The ripening model, a fifth of a second, is not kept on disk.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

from dashboard.estimates.stored import FOLDER
from tests.benchmarks.servers import Served, free_port
from tests.benchmarks.tables import markdown

UNFITTED = """
import sys
from dashboard.answers import catalogue
from dashboard import cli
from dashboard.estimates import worths
from dashboard.estimates import model
def unplanned(read, checks, equal):
    found = planned(read, checks, equal)
    return model.replace(found, refused="not asked for", kept=())
planned, model.plan = model.plan, unplanned
from dashboard.ripening.model import Ripening
catalogue.ripening = lambda picks, names: Ripening(names, (), {}, (), 0, picks, "not asked for")
catalogue.stored_worths = lambda version, *asked: worths(*asked)
sys.exit(cli.main(sys.argv[1:]))
"""


def started(*command: str) -> tuple[float, float]:
    """Seconds and seconds of CPU until the port answers."""
    port = free_port()
    set_out = time.monotonic()
    with Served(sys.executable, *command, "serve", "--port", str(port), port=port) as served:
        waited = time.monotonic() - set_out
        return waited, served.cpu_ms() / 1000


def main(rounds: int) -> None:
    ways: dict[str, tuple[str, ...]] = {
        "without fitting": ("-c", UNFITTED),
        "values on disk": ("-m", "dashboard"),
        "nothing on disk": ("-m", "dashboard"),
    }
    found: dict[str, list[tuple[float, float]]] = {name: [] for name in ways}
    with tempfile.TemporaryDirectory() as kept:
        os.environ[FOLDER] = kept
        started("-m", "dashboard")  # fills the folder, and the system's own memory of the files
        for _ in range(rounds):
            for name, command in ways.items():
                with tempfile.TemporaryDirectory() as empty:
                    os.environ[FOLDER] = str(Path(empty)) if name == "nothing on disk" else kept
                    found[name].append(started(*command))
    floor = [statistics.median(one) for one in zip(*found["without fitting"], strict=True)]
    rows = []
    for name, times in found.items():
        wall, cpu = (statistics.median(one) for one in zip(*times, strict=True))
        rows.append(
            {
                "start": name,
                "seconds": f"{wall:.2f}",
                "× without fitting": f"{wall / floor[0]:.2f}",
                "CPU seconds": f"{cpu:.2f}",
                "× in CPU": f"{cpu / floor[1]:.2f}",
            }
        )
    print(markdown(rows))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 7)
