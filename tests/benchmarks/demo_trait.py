"""The size of every demo cultivar with all prediction errors: this solver, mixedlm (PyPI) and, where R is, lme4.

python -m tests.benchmarks.demo_trait [RUNS]
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median

import mixedlm
import numpy as np
import pandas as pd

from dashboard.answers.catalogue import load
from dashboard.mixed import fit
from dashboard.places import demo_data
from tests.benchmarks.mixed_models import timed

TERMS = ("cultivar", "cs", "cy", "csy", "env")


def records() -> tuple[pd.DataFrame, float, pd.DataFrame]:
    """Samples with mean, n and labels of every term; their pooled within sum of squares; the single fruit."""
    known = load(demo_data())
    d = known.summaries.dropna(subset=["size"]).astype({"season": str})
    d = d.assign(
        pick=d["pick"].fillna(1.0), cs=d["cultivar"] + "|" + d["site"], cy=d["cultivar"] + "|" + d["season"]
    )
    d = d.assign(env=d["site"] + "|" + d["season"], csy=d["cs"] + "|" + d["season"])
    fruit = known.fruit.dropna(subset=["size"])[["sample", "size"]].merge(
        d[["sample", "pick", *TERMS]], on="sample"
    )
    return d, float(d["size_ss"].sum()), fruit.rename(columns={"size": "y"})


def ours(d: pd.DataFrame, within: float) -> float:
    X = pd.DataFrame({"one": 1.0, "pick": d["pick"].astype(float)})
    found = fit(d["size"], X, {name: d[name] for name in TERMS}, n=d["size_n"], within_ss=within)
    found.predict([1.0, 0.0], {"cultivar": found.effect["cultivar"].index}).covariance()
    return found.criterion if found.effect_sd and found.effect_se else np.nan


def theirs(fruit: pd.DataFrame) -> float:
    names = [*TERMS, "sample"]
    formula = "y ~ pick + " + " + ".join(f"(1|{name})" for name in names)
    found = mixedlm.lmer(formula, data=fruit.astype(dict.fromkeys(names, str)))
    found.ranef(condVar=True)
    return float(found.REMLcrit())


def lme4(fruit: pd.DataFrame, runs: int) -> list[tuple[float, float, float]]:
    if not shutil.which("Rscript"):
        return []
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "fruit.csv"
        fruit.to_csv(path, index=False)
        script = Path(__file__).with_name("lme4_peer.R")
        said = subprocess.run(
            ["Rscript", str(script), str(path), str(runs)], capture_output=True, text=True, check=True
        )
    lines = [line.split() for line in said.stdout.splitlines() if line.strip()]
    return [(float(wall), float(cpu), float(criterion)) for wall, cpu, criterion in lines]


def main(runs: int) -> None:
    d, within, fruit = records()
    found = {
        "ours": [timed(ours, d, within) for _ in range(runs)],
        "mixedlm": [timed(theirs, fruit) for _ in range(runs)],
        "lme4": lme4(fruit, runs),
    }
    own = median(cpu for _, cpu, _ in found["ours"])
    print(f"{len(d):,} samples, {len(fruit):,} fruit; {runs} runs each, medians")
    for name, times in found.items():
        if not times:
            print(f"  {name:8} not installed")
            continue
        wall, cpu = median(t[0] for t in times), median(t[1] for t in times)
        print(
            f"  {name:8} wall {wall:7.3f} s   processor {cpu:7.3f} s   x{cpu / own:6.1f}   criterion {times[0][2]:.5f}"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
