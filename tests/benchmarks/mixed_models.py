"""Seconds of this solver and of mixedlm (PyPI) on the same simulated trials, one after the other.

python -m tests.benchmarks.mixed_models S M        (add L only with half an hour to spare)
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from typing import Any

import mixedlm
import pandas as pd

from dashboard.mixed import fit
from tests.simulate import Simulated, simulate

TERMS = {"S": ("cultivar", "cy", "env"), "M": ("cultivar", "cs", "cy", "csy", "env")}
TERMS["L"] = TERMS["H"] = TERMS["M"]


def ours(made: Simulated, terms: tuple[str, ...]) -> float:
    """Sample means, counts and within sum of squares; conditional and prediction errors of every effect."""
    d = made.samples
    X = pd.DataFrame({"one": 1.0, "pick": d["pick"].astype(float)})
    found = fit(d["mean"], X, {name: d[name] for name in terms}, n=d["n"], within_ss=made.within_ss)
    found.predict([1.0, 0.0], {"cultivar": found.effect["cultivar"].index}).covariance()
    return found.criterion if found.effect_sd and found.effect_se else 0.0


def theirs(made: Simulated, terms: tuple[str, ...]) -> float:
    """The single fruit; conditional errors of every effect."""
    fruit = made.fruit_frame
    fruit["sample"] = fruit.groupby(["csy", "pick"]).ngroup()
    names = [*terms, "sample"]
    found = mixedlm.lmer(
        "y ~ pick + " + " + ".join(f"(1|{name})" for name in names),
        data=fruit.astype(dict.fromkeys(names, str)),
    )
    found.ranef(condVar=True)
    return float(found.REMLcrit())


def timed(work: Callable[..., float], *asked: Any) -> tuple[float, float, float]:
    wall, cpu = time.perf_counter(), time.process_time()
    criterion = work(*asked)
    return time.perf_counter() - wall, time.process_time() - cpu, criterion


def main(sizes: list[str]) -> None:
    for size in sizes:
        made = simulate(size, "size", 1)
        print(f"{size}: {len(made.samples)} samples, {int(made.samples['n'].sum())} fruit")
        for name, work in (("ours", ours), ("mixedlm", theirs)):
            runs = [timed(work, made, TERMS[size]) for _ in range(3 if size in "SHM" else 1)]
            wall, cpu = (sorted(run[k] for run in runs)[len(runs) // 2] for k in (0, 1))
            print(f"  {name:8} wall {wall:8.3f} s   processor {cpu:8.3f} s   criterion {runs[0][2]:.6f}")


if __name__ == "__main__":
    main(sys.argv[1:] or ["S", "M"])
