"""A million fruit into a store, beside pandas' own reading of the file: ``python -m tests.benchmarks.store [ADDRESS]``.

Each is done by processes of their own, in turns, so that a busy machine slows both. The samples stand in the store before; what is timed is
reading the file of fruit, checking every cell and every name, storing, and the commit. ADDRESS: of an empty PostgreSQL in place of a file.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

from dashboard.places import place_of
from tests.benchmarks.many_fruit import A_SAMPLE, _peak_mb, write
from tests.benchmarks.tables import markdown

FRUIT, TURNS, FAULTS = 1_000_000, 3, 40


def samples(folder: Path) -> None:
    folder.mkdir()
    (folder / "cultivars.csv").write_text("cultivar\n" + "".join(f"C{one}\n" for one in range(200)))
    (folder / "sites.csv").write_text("site\nhome\n")
    rows = (
        f"S{one:07d},C{one % 200},home,{2000 + one % 25}-07-{1 + one % 28:02d}\n"
        for one in range(FRUIT // A_SAMPLE)
    )
    (folder / "samples.csv").write_text("sample,cultivar,site,date\n" + "".join(rows))


def quoted(text: str) -> str:
    """Names and headings between quotation marks, as many programs write text."""
    first, _, rest = text.partition("\n")
    head = ",".join(f'"{one}"' for one in first.split(","))
    return head + "\n" + re.sub(r"^([^,\n]+)", r'"\1"', rest, flags=re.MULTILINE)


def at_fault(text: str) -> str:
    """A word in the place of 40 readings."""
    lines = text.split("\n")
    step = FRUIT // FAULTS
    for row in range(step, FRUIT, step):
        lines[row] = lines[row].rpartition(",")[0] + ",sweet"
    return "\n".join(lines)


FORMS: dict[str, Callable[[str], str]] = {
    "plain": str,
    "names quoted": quoted,
    f"{FAULTS - 1} faults": at_fault,
}


def timed(what: str, *places: str) -> dict[str, float]:
    if what == "pandas":
        import pandas as pd

        begun, spent = time.perf_counter(), time.process_time()
        pd.read_csv(Path(places[0]) / "fruit.csv")
    else:
        from dashboard.records.store.bringing import bring

        begun, spent = time.perf_counter(), time.process_time()
        done = bring(place_of(places[1]), Path(places[0]), "benchmark", despite_faults=True)
        assert done.new == {"fruit": FRUIT}, done.why
    return {
        "seconds": time.perf_counter() - begun,
        "cpu_s": time.process_time() - spent,
        "peak_mb": _peak_mb(),
    }


def measured(folder: Path, store: str, number: int) -> tuple[dict[str, list[dict[str, float]]], int]:
    """Each in turns; the number of the last import."""
    from dashboard.records.store.undoing import undo

    found: dict[str, list[dict[str, float]]] = {"pandas": [], "store": []}
    for _ in range(TURNS):
        for what, told in found.items():
            if hasattr(os, "sync"):
                os.sync()  # what was written before is none of its business
            command = [sys.executable, "-m", "tests.benchmarks.store", what, str(folder), store]
            told.append(
                json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
            )
        undo(place_of(store), number + 1, "benchmark")
        number += 2
    return found, number


def main() -> None:
    from dashboard.records.store.bringing import bring

    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        samples(folder / "samples")
        write(folder / "fruit.csv", FRUIT)
        text = (folder / "fruit.csv").read_text()
        number, rows = 0, []
        for form, made in FORMS.items():
            (folder / form).mkdir()
            (folder / form / "fruit.csv").write_text(made(text))
            store = sys.argv[1] if len(sys.argv) > 1 else str(folder / f"{form}.store")
            if not number or len(sys.argv) == 1:  # a store for each form; in a database one for all
                number = bring(place_of(store), folder / "samples", "benchmark").number
            found, number = measured(folder / form, store, number)
            row = {"file": form}
            for what, told in found.items():
                row |= {f"{what}, {one}": f"{median(turn[one] for turn in told):.2f}" for one in told[0]}
            for one in ("seconds", "cpu_s"):
                times = [median(turn[one] for turn in found[what]) for what in ("store", "pandas")]
                row[f"times, {one}"] = f"{times[0] / times[1]:.1f}"
            rows.append(row)
        print(markdown(rows))


if __name__ == "__main__":
    if len(sys.argv) > 2:
        print(json.dumps(timed(*sys.argv[1:])))
    else:
        main()
