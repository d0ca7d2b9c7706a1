"""Time and memory to work out all traits of a large trial: ``python -m tests.benchmarks.many_traits [S|H|M|L]``.

2,000 cultivars over 8 sites and 20 seasons (L) are about 45,000 samples of ten fruit. Every trait is read of every sample, as where one
person measures them. A process of its own; its peak memory is what the system says of it, libraries included.
"""

from __future__ import annotations

import sys
import time

import numpy as np
import pandas as pd

from dashboard.estimates import worths
from dashboard.terms.traits import TRAITS
from tests.benchmarks.many_fruit import _peak_mb
from tests.simulate import Simulated, simulate


def all_traits(made: Simulated, seed: int = 1) -> tuple[pd.DataFrame, list[str]]:
    """Summaries of the samples of ``made`` with every trait drawn for itself, in standard units about 6; and the checks."""
    rows, random = made.samples, np.random.default_rng(seed)
    frame = pd.DataFrame(
        {
            "cultivar": [f"C{code:04d}" for code in rows["cultivar"]],
            "site": "site " + rows["site"].astype(str),
            "season": rows["season"] + 2000,
            "pick": rows["pick"] + 1.0,
        }
    )
    spreads = {"cultivar": 0.6, "cs": 0.15, "cy": 0.25, "csy": 0.2, "env": 0.35}
    for key, trait in TRAITS.items():
        y = 6 - 0.1 * frame["pick"].to_numpy() + random.normal(0, 0.2, len(rows))
        for part, spread in spreads.items():
            y += random.normal(0, spread, int(rows[part].max()) + 1)[rows[part]]
        n = rows["n"].to_numpy()
        y += random.normal(0, 0.5, len(rows)) / np.sqrt(n)
        frame[key] = np.clip(y, 0.01, 10)
        if trait.on_fruit:
            frame[f"{key}_n"] = n
            frame[f"{key}_ss"] = 0.25 * random.chisquare(np.maximum(n - 1, 1)) * (n > 1)
    checks = sorted({name for name, check in zip(frame["cultivar"], rows["check"], strict=True) if check})
    return frame, checks


def measured(size: str) -> dict[str, float]:
    frame, checks = all_traits(simulate(size, "size", 1))
    before = _peak_mb()
    begun, spent = time.perf_counter(), time.process_time()
    found = worths(frame, checks)
    return {
        "samples": len(frame),
        "traits": len(found),
        "modelled": sum(one.modelled for one in found.values()),
        "seconds": round(time.perf_counter() - begun, 1),
        "processor": round(time.process_time() - spent, 1),
        "records_mb": round(before),
        "peak_mb": round(_peak_mb()),
    }


if __name__ == "__main__":
    print(measured(sys.argv[1] if len(sys.argv) > 1 else "L"))
