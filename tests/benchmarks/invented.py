"""An invented catalogue of any size, the same on every machine: what the peers are shown, too."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd

from dashboard.answers import catalogue as catalogues
from dashboard.answers.catalogue import Catalogue
from dashboard.charts import style
from dashboard.market import read_markets
from dashboard.places import MARKETS
from dashboard.terms.traits import CLASSES, FRUIT_TRAITS, TRAITS

DRAWN = ("size", "firmness", "sugar")
FRUIT_A_SAMPLE = 10
FIRST, LAST = 2016, 2025
SITES = pd.DataFrame(
    {"site": ["hill", "river", "flat"], "name": ["Hill", "River", "Flat"], "latitude_deg": [39.5, 39.3, 39.6]}
)


def catalogue(cultivars: int, seed: int = 1) -> Catalogue:
    rng = np.random.default_rng(seed)
    known = _cultivars(cultivars, rng)
    summaries = _summaries(known["cultivar"].to_numpy(), rng)
    fruit = _fruit(summaries, rng)
    markets, faults = read_markets(MARKETS)
    if faults:
        raise ValueError("; ".join(faults))
    return catalogues.catalogue(
        known, summaries, fruit, sites=SITES, markets=markets,
        records_title=f"{cultivars} invented cultivars", region="nowhere", invented=True, version=f"{cultivars}-{seed}",
    )  # fmt: skip


def rows(known: Catalogue) -> pd.DataFrame:
    """What every peer draws: one row a cultivar, traits in inches and pounds with their interval, classes, words."""
    classes = known.cultivars[[*CLASSES, "status"]].reset_index()
    looks = list(zip(classes["flesh_colour"], classes["shape_type"], strict=True))
    columns: dict[str, object] = {
        "fill": [style.fill(flesh) for flesh, _ in looks],
        "mark": [style.mark(flesh, shape) for flesh, shape in looks],
        "kind": classes["flesh_colour"] + "-fleshed " + classes["shape_type"] + " " + classes["fruit_type"],
    }
    for key in DRAWN:
        frame = known.values[key]
        written = {
            name: TRAITS[key].unit("us").from_si(frame[name].to_numpy())
            for name in ("estimate", "low", "high")
        }
        columns |= {key: written["estimate"], f"{key}_low": written["low"], f"{key}_high": written["high"]}
        columns[f"{key}_told"] = [
            f"{e:.2f} ({lo:.2f} to {hi:.2f})" for e, lo, hi in zip(*written.values(), strict=True)
        ]
    counts = known.values["size"]
    columns["evidence"] = [
        f"{n} seasons, {s} samples" for n, s in zip(counts["seasons"], counts["samples"], strict=True)
    ]
    return classes.assign(**columns)


def write_rows(known: Catalogue, path: Path) -> None:
    rows(known).to_csv(path, index=False)


def _cultivars(n: int, rng: np.random.Generator) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "cultivar": [f"Invented {number:04d}" for number in range(1, n + 1)],
            "fruit_type": rng.choice(["peach", "nectarine"], n),
            "flesh_colour": rng.choice(["yellow", "white", "red"], n, p=[0.67, 0.3, 0.03]),
            "acidity_class": rng.choice(["normal", "low"], n),
            "shape_type": rng.choice(["round", "flat"], n, p=[0.93, 0.07]),
            "stone": rng.choice(["cling", "semi-free", "free"], n),
            "flesh_texture": rng.choice(["melting", "non-melting"], n),
            "status": rng.choice(["released", "numbered selection"], n),
            "protected": rng.random(n) < 0.3,
            "check": np.arange(n) < 4,
        }
    )


def _summaries(names: np.ndarray, rng: np.random.Generator) -> pd.DataFrame:
    """One to nine seasons a cultivar, two to four weekly picks each, a fifth at every site."""
    middle = dict(zip(names, rng.normal(205, 26, len(names)).clip(146, 256), strict=True))
    keys = []
    for name in names:
        for season in sorted(rng.choice(np.arange(FIRST, LAST + 1), rng.integers(1, 10), replace=False)):
            for site in SITES["site"] if rng.random() < 0.2 else SITES["site"].iloc[:1]:
                start = middle[name] + rng.normal(0, 4)
                keys += [
                    (name, site, int(season), round(start + 7 * p), float(p))
                    for p in range(1, rng.integers(3, 6))
                ]
    frame = pd.DataFrame(keys, columns=["cultivar", "site", "season", "day", "pick"])
    n = len(frame)
    late = (frame["day"] - 205) * 0.05
    columns = {
        "sample": [f"S{number:05d}" for number in range(n)],
        "date": pd.to_datetime(frame["season"].astype(str) + "-01-01") + pd.to_timedelta(frame["day"] - 1, unit="D"),
        "size": rng.normal(64, 4, n) + late, "firmness": rng.normal(40, 10, n).clip(5), "sugar": rng.normal(12, 1.3, n),
        "cheek_difference": rng.gamma(2, 3, n), "roundness": rng.normal(1, 0.02, n),
        "split_pit": rng.integers(0, 30, n).astype(float), "cracked_tip": 0.0,
        **{key: rng.integers(2, 11, n).astype(float) for key in ("red", "attractiveness", "shape", "fuzz")},
        **{f"{trait}_n": float(FRUIT_A_SAMPLE) for trait in FRUIT_TRAITS},
        **{f"{trait}_ss": 90.0 for trait in FRUIT_TRAITS},
    }  # fmt: skip
    return frame.assign(day=frame["day"].astype(float), **columns)


def _fruit(summaries: pd.DataFrame, rng: np.random.Generator) -> pd.DataFrame:
    each = summaries.loc[summaries.index.repeat(FRUIT_A_SAMPLE), ["sample", "cultivar", "site", "season"]]
    means = summaries.loc[each.index, ["size", "firmness", "sugar"]].to_numpy()
    values = means + rng.normal(0, [3.0, 8.0, 1.0], means.shape)
    frame = each.reset_index(drop=True)
    frame[["size", "firmness", "sugar"]] = values
    return frame.assign(
        cheek_difference=rng.gamma(2, 3, len(frame)), roundness=rng.normal(1, 0.03, len(frame))
    )
