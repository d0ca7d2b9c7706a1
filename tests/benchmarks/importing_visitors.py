"""What an import of many fruit costs a visitor of the same machine: ``python -m tests.benchmarks.importing_visitors``.

A server shows a store with the demo's records. Three visitors tick boxes, a fourth opens the page again and again: first with nothing else, then while
a file comes into that store by the command, in a process of its own, then while the server takes up what came in, until a new page shows it.
"""

from __future__ import annotations

import asyncio
import json
import subprocess
import sys
import tempfile
import time
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from dashboard.places import PACKAGE, demo_data
from dashboard.records.store.bringing import bring
from tests.benchmarks.tables import markdown
from tests.serving import Served
from tests.visitor import Visitor

FRUIT, A_SAMPLE = 100_000, 10
TICKING, IDLE_S, BETWEEN_S, LONGEST_S = 3, 15.0, 0.1, 240.0
NEW, TITLE = (
    "Quellmar",
    "After the import",
)  # a cultivar; and what tells whether the page shows the new records
FIELD, CHOSEN = "flesh_colour", (["white"], [])


def coming(folder: Path) -> Path:
    """A cultivar, its samples at the demo's first site, and their fruit; the same each time."""
    site = (demo_data() / "sites.csv").read_text().splitlines()[1].split(",")[0]
    chance = np.random.default_rng(5)
    count = FRUIT // A_SAMPLE
    folder.mkdir()
    (folder / "datapackage.json").write_text(json.dumps({"title": TITLE}))
    (folder / "cultivars.csv").write_text(f"cultivar,fruit_type\n{NEW},peach\n")
    days = [f"{2019 + one % 6}-07-{1 + one // 6 % 28:02d}" for one in range(count)]
    samples = [f"Q{one},{NEW},{site},{day},{1 + one // 168 % 4}" for one, day in enumerate(days)]
    (folder / "samples.csv").write_text("\n".join(["sample,cultivar,site,date,pick", *samples, ""]))
    figures = np.round(chance.normal([65, 65, 45, 45, 12], [3, 3, 6, 6, 1], (FRUIT, 5)), 1).tolist()
    fruit = [
        f"Q{one // A_SAMPLE},{one % A_SAMPLE + 1},{','.join(map(str, row))}"
        for one, row in enumerate(figures)
    ]
    heads = "sample,fruit,suture_mm,cross_mm,firmness_1_n,firmness_2_n,ssc_brix"
    (folder / "fruit.csv").write_text("\n".join([heads, *fruit, ""]))
    return folder


@dataclass
class Waited:
    """Seconds, by what was asked."""

    changes: list[float] = field(default_factory=list)
    openings: list[float] = field(default_factory=list)

    def row(self, while_: str, seconds: float) -> dict[str, str]:
        found = {"meanwhile": while_, "seconds": f"{seconds:.1f}"}
        for what, times in (("a change", self.changes), ("an opening", self.openings)):
            told = np.percentile(1000 * np.array(times), [50, 95, 100]) if times else (np.nan,) * 3
            found |= {
                f"{what}, {name}": f"{ms:.0f}"
                for name, ms in zip(("median ms", "p95 ms", "longest ms"), told, strict=True)
            } | {f"{what}, n": f"{len(times)}"}
        return found


class Visitors:
    def __init__(self, url: str):
        self.url, self.waited, self.sees_new = url, Waited(), False
        self.chance = np.random.default_rng(1)

    async def ticking(self) -> None:
        visitor = Visitor(self.url, patience=LONGEST_S)
        await visitor.open()
        number = 0
        while True:
            number += 1
            since = time.perf_counter()
            await visitor.tick(FIELD, CHOSEN[number % 2])
            self.waited.changes.append(time.perf_counter() - since)
            await asyncio.sleep(BETWEEN_S * self.chance.uniform(0.5, 1.5))  # not all at the same moment

    async def opening(self) -> None:
        while True:
            visitor = Visitor(self.url, patience=LONGEST_S)
            since = time.perf_counter()
            await visitor.open()
            self.waited.openings.append(time.perf_counter() - since)
            self.sees_new = TITLE in json.dumps(visitor.document)
            visitor.leave()
            await asyncio.sleep(1)

    async def phase(self, name: str, rows: list[dict[str, str]], ended) -> None:
        self.waited = Waited()
        since = time.perf_counter()
        while not ended() and time.perf_counter() - since < LONGEST_S:
            await asyncio.sleep(0.1)
        rows.append(self.waited.row(name, time.perf_counter() - since))
        print(rows[-1], file=sys.stderr, flush=True)


async def measured(url: str, store: Path, folder: Path) -> list[dict[str, str]]:
    visitors, rows = Visitors(url), []
    everybody = [*[visitors.ticking] * TICKING, visitors.opening]
    at_work = [asyncio.ensure_future(one()) for one in everybody]
    await asyncio.sleep(5)  # what a start leaves to be done
    since = time.perf_counter()
    await visitors.phase("nothing", rows, lambda: time.perf_counter() - since > IDLE_S)
    command = [
        sys.executable,
        "-m",
        "dashboard",
        "store",
        "bring",
        str(folder),
        "--into",
        str(store),
        "--changes",
    ]
    process = subprocess.Popen(
        command, cwd=PACKAGE.parent, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    await visitors.phase("the file comes in", rows, lambda: process.poll() is not None)
    await visitors.phase("the server reads it", rows, lambda: visitors.sees_new)
    since = time.perf_counter()
    await visitors.phase("nothing, afterward", rows, lambda: time.perf_counter() - since > IDLE_S / 2)
    for one in at_work:
        one.cancel()
        with suppress(asyncio.CancelledError):
            await one
    return rows


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        store = Path(name) / "trial.store"
        bring(store, demo_data(), "benchmark", despite_faults=True)
        folder = coming(Path(name) / "coming")
        with Served(store, "--warm") as server:
            print(markdown(asyncio.run(measured(server.url, store, folder))))


if __name__ == "__main__":
    main()
