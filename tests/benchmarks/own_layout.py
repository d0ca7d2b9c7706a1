"""A million fruit in our own layout into a folder: ``python -m tests.benchmarks.own_layout [FRUIT]``.

The trial has the samples already; ``import`` reads the file, checks every cell, writes the table and looks at the trial as it is then. The
fruit are such as one picks, so that hardly any is flagged. A process of its own; its peak memory with all libraries.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

from tests.benchmarks.many_fruit import A_SAMPLE, _peak_mb
from tests.benchmarks.tables import markdown

FRUIT = 1_000_000
HEADINGS = "sample,fruit,suture_mm,cross_mm,firmness_1_n,firmness_2_n,ssc_brix\n"


def trial(folder: Path, fruit: int) -> None:
    """Samples, and one fruit, as a trial has to have some."""
    folder.mkdir()
    (folder / "cultivars.csv").write_text("cultivar\n" + "".join(f"C{one}\n" for one in range(200)))
    (folder / "sites.csv").write_text("site\nhome\n")
    rows = (f"S{one:07d},C{one % 200},home,{2000 + one % 25}-07-{1 + one % 28:02d}\n" for one in range(fruit // A_SAMPLE))  # fmt: skip
    (folder / "samples.csv").write_text("sample,cultivar,site,date\n" + "".join(rows))
    (folder / "fruit.csv").write_text(f"{HEADINGS}S0000000,{A_SAMPLE + 1},66.6,65.0,29.1,21.8,13.2\n")


def picked(file: Path, fruit: int) -> None:
    chance = np.random.default_rng(5)
    suture = chance.normal(65, 4, fruit).clip(45, 85)
    cross = suture * chance.normal(1, 0.03, fruit).clip(0.93, 1.07)
    blush = chance.normal(50, 12, fruit).clip(20, 88)
    shade = (blush + chance.normal(0, 5, fruit).clip(-15, 15)).clip(5, 88)
    sugar = chance.normal(12.5, 1.2, fruit).clip(8, 17)
    readings = zip(*(one.tolist() for one in (suture, cross, blush, shade, sugar)), strict=True)
    with file.open("w") as text:
        text.write(HEADINGS)
        for at, row in enumerate(readings):
            text.write(f"S{at // A_SAMPLE:07d},{1 + at % A_SAMPLE}," + ",".join(f"{one:.1f}" for one in row) + "\n")  # fmt: skip


def timed(file: Path, folder: Path, fruit: int) -> dict[str, float]:
    from dashboard.records.importing.incoming import bring_in

    begun, spent = time.perf_counter(), time.process_time()
    outcome = bring_in([file], folder)
    assert outcome.came["fruit"] == fruit, outcome.text
    return {"seconds": time.perf_counter() - begun, "cpu_s": time.process_time() - spent, "peak_mb": _peak_mb()}  # fmt: skip


def main(fruit: int) -> None:
    with tempfile.TemporaryDirectory() as name:
        place = Path(name)
        trial(place / "trial", fruit)
        picked(place / "fruit.csv", fruit)
        command = [sys.executable, "-m", "tests.benchmarks.own_layout", str(fruit), str(place)]
        told = json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
        print(markdown([{"fruit": f"{fruit:,}"} | {one: f"{figure:.1f}" for one, figure in told.items()}]))


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else FRUIT
    if len(sys.argv) > 2:
        at = Path(sys.argv[2])
        print(json.dumps(timed(at / "fruit.csv", at / "trial", count)))
    else:
        main(count)
