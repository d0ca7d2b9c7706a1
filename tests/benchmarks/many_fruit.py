"""Memory and time to summarize millions of fruit: ``python -m tests.benchmarks.many_fruit [FRUIT]``.

The file is written and read by processes of their own; the folder is removed afterwards. Peak memory is what the system says of
the process that read, libraries included.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

A_SAMPLE = 10


def write(file: Path, fruit: int) -> None:
    """Ten fruit a sample, every fiftieth reading missing; the same file each time. Rows are streamed, not held."""
    import duckdb

    spread = "(hash(i * 7 + {}) % 1000) / 1000.0"
    reading = (
        "CASE WHEN hash(i + {place}) % 50 = 0 THEN NULL ELSE printf('%.1f', {low} + {span} * "
        + spread
        + ") END"
    )
    ranges = {
        "suture_mm": (50, 30),
        "cross_mm": (50, 30),
        "firmness_1_n": (20, 50),
        "firmness_2_n": (20, 50),
        "ssc_brix": (8, 9),
    }
    columns = ", ".join(
        f"{reading.format(place, place=place, low=low, span=span)} AS {name}"
        for place, (name, (low, span)) in enumerate(ranges.items(), 1)
    )
    rows = f"SELECT printf('S%07d', i // {A_SAMPLE}) AS sample, i % {A_SAMPLE} + 1 AS fruit, {columns} FROM range({fruit}) t(i)"
    with duckdb.connect(
        config={
            "memory_limit": "400MB",
            "threads": 2,
            "preserve_insertion_order": False,
        }
    ) as base:
        base.execute("SET enable_progress_bar = false")
        base.execute(f"COPY ({rows}) TO '{file}' (HEADER, DELIMITER ',')")


def _peak_mb() -> float:
    """Of this program alone: what the system counts of a process may begin with that of the one that started it."""
    import resource

    status = Path("/proc/self/status")
    if status.exists():
        return int(status.read_text().partition("VmHWM:")[2].split()[0]) / 1e3
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6


def summarize(file: Path, fruit: int) -> dict[str, float]:
    from dashboard.records.grouped import grouped

    samples = [f"S{number:07d}" for number in range(fruit // A_SAMPLE)]
    begun, spent = time.perf_counter(), time.process_time()
    frame = grouped(file, samples)
    seconds, cpu = time.perf_counter() - begun, time.process_time() - spent
    peak = _peak_mb()
    readings = float(frame["size_n"].sum())
    return {
        "fruit": fruit,
        "samples": len(frame),
        "sizes": readings,
        "seconds": round(seconds, 1),
        "cpu_s": round(cpu, 1),
        "peak_mb": round(peak),
    }


def measured(fruit: int, folder: Path) -> dict[str, float]:
    """What a process told that read ``fruit`` rows, written to ``folder`` by another."""
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / "fruit.csv"
    for act in ("write", "summarize"):
        code = f"import json; from pathlib import Path; from tests.benchmarks import many_fruit as m; print(json.dumps(m.{act}(Path({str(file)!r}), {fruit})))"
        done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return {**json.loads(done.stdout), "file_mb": round(file.stat().st_size / 1e6)}


if __name__ == "__main__":
    with tempfile.TemporaryDirectory(prefix="many-fruit-") as place:
        print(measured(int(sys.argv[1]) if len(sys.argv) > 1 else 20_000_000, Path(place)))
