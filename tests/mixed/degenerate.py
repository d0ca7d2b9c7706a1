"""Small data sets at the edge of what can be fitted: few levels, lost cells, ties, outliers, no variation."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd

TERMS = ("cultivar", "cs", "cy", "csy", "env")


def degenerate(seed: int) -> dict[str, Any]:
    """Keyword arguments of ``fit`` for one random data set: 3-24 cultivars, 1-3 sites, 1-4 seasons."""
    random = np.random.default_rng(seed)
    cultivars, sites, seasons = (
        int(random.integers(3, 25)),
        int(random.integers(1, 4)),
        int(random.integers(1, 5)),
    )
    cells = pd.MultiIndex.from_product(
        [range(cultivars), range(sites), range(seasons)], names=["cultivar", "site", "season"]
    ).to_frame(index=False)
    cells = cells[random.random(len(cells)) < random.uniform(0.2, 1.0)]
    frame = cells.loc[cells.index.repeat(random.integers(1, 4, len(cells)))].reset_index(drop=True)
    for name, parts in {
        "cs": ["cultivar", "site"],
        "cy": ["cultivar", "season"],
        "env": ["site", "season"],
    }.items():
        frame[name] = frame.groupby(parts).ngroup()
    frame["csy"] = frame.groupby(["cultivar", "site", "season"]).ngroup()
    y = np.zeros(len(frame))
    for name in TERMS:
        if len(frame) and random.random() < 0.6:  # the other spreads are truly zero
            y += random.normal(0, random.choice([0.01, 0.3, 1, 5]), int(frame[name].max()) + 1)[frame[name]]
    y += random.choice([0.0, 0.1, 1.0], p=[0.05, 0.25, 0.7]) * random.normal(size=len(frame))
    if random.random() < 0.2:
        y = np.round(y)  # massive ties
    if random.random() < 0.05 and len(y):
        y[0] = 1e6
    y += random.choice([0.0, 100.0])
    kept = [name for name in TERMS if random.random() < 0.7] or ["cultivar"]
    if random.random() < 0.9:
        kept = _separate(frame, kept)
    asked: dict[str, Any] = {
        "y": y,
        "X": np.ones((len(y), 1)),
        "groups": {name: frame[name] for name in kept},
    }
    if random.random() < 0.3 and len(y):
        asked["X"] = np.column_stack([np.ones(len(y)), random.integers(0, 3, len(y))])
    if random.random() < 0.5 and len(y):
        asked["n"] = random.integers(1, 11, len(y)).astype(float)
        asked["within_ss"] = float(random.choice([0.0, 1e-6, 1.0])) * float(
            random.chisquare(asked["n"].sum())
        )
    return asked


def _separate(frame: pd.DataFrame, names: list[str]) -> list[str]:
    """Those of the terms that split the records, and not as another one or the records themselves do."""
    kept: list[str] = []
    for name in names:
        levels = frame[name].nunique()
        alike = any(
            levels == frame[other].nunique() == len(frame[[name, other]].drop_duplicates()) for other in kept
        )
        if 1 < levels < len(frame) and not alike:
            kept.append(name)
    return kept
