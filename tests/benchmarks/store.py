"""A million fruit into a store, beside pandas' own reading of the file: ``python -m tests.benchmarks.store [ADDRESS]``.

Each is done by processes of their own, in turns, so that a busy machine slows both. The samples stand in the store before; what is timed is
reading the file of fruit, checking every cell and every name, storing, and the commit. ADDRESS: of an empty PostgreSQL in place of a file.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from dashboard.places import place_of
from tests.benchmarks.many_fruit import A_SAMPLE, _peak_mb, write

FRUIT, TURNS = 1_000_000, 3


def samples(folder: Path) -> None:
    folder.mkdir()
    (folder / "cultivars.csv").write_text("cultivar\n" + "".join(f"C{one}\n" for one in range(200)))
    (folder / "sites.csv").write_text("site\nhome\n")
    rows = (
        f"S{one:07d},C{one % 200},home,{2000 + one % 25}-07-{1 + one % 28:02d}\n"
        for one in range(FRUIT // A_SAMPLE)
    )
    (folder / "samples.csv").write_text("sample,cultivar,site,date\n" + "".join(rows))


def timed(what: str, *places: str) -> dict[str, float]:
    if what == "pandas":
        import pandas as pd

        begun, spent = time.perf_counter(), time.process_time()
        pd.read_csv(Path(places[0]) / "fruit.csv")
    else:
        from dashboard.records.store.bringing import bring

        begun, spent = time.perf_counter(), time.process_time()
        done = bring(place_of(places[1]), Path(places[0]), "benchmark")
        assert done.new == {"fruit": FRUIT}, done.why
    return {
        "seconds": time.perf_counter() - begun,
        "cpu_s": time.process_time() - spent,
        "peak_mb": _peak_mb(),
    }


def main() -> None:
    from dashboard.records.store.bringing import bring
    from dashboard.records.store.undoing import undo

    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "fruit").mkdir()
        write(folder / "fruit" / "fruit.csv", FRUIT)
        samples(folder / "samples")
        store = sys.argv[1] if len(sys.argv) > 1 else str(folder / "trial.store")
        bring(place_of(store), folder / "samples", "benchmark")
        found: dict[str, list[dict[str, float]]] = {"pandas": [], "store": []}
        for turn in range(TURNS):
            for what, told in found.items():
                command = [sys.executable, "-m", "tests.benchmarks.store", what, str(folder / "fruit"), store]
                told.append(
                    json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
                )
            undo(place_of(store), 2 + 2 * turn, "benchmark")
        for what, told in found.items():
            print(what, {name: round(median(one[name] for one in told), 2) for name in told[0]})
        for name in ("seconds", "cpu_s"):
            print(
                f"{name}: {median(one[name] for one in found['store']) / median(one[name] for one in found['pandas']):.1f} times pandas"
            )


if __name__ == "__main__":
    if len(sys.argv) > 2:
        print(json.dumps(timed(*sys.argv[1:])))
    else:
        main()
