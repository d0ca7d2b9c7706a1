"""What is read off the fruit: every sample of one season drawn from the truth, rounded as instruments read."""

from __future__ import annotations

import numpy as np
import pandas as pd

from generator.truth import FRUIT_RIPENESS, POUND_FORCE, SAMPLE_RIPENESS, SPREADS, USUAL_PICK

RATINGS = {"red": 0.5, "attractiveness": 0.5, "shape": 0.5, "fuzz": 1.0}
NOTES = (
    "hail marks",
    "bird pecks",
    "short crop",
    "picked after rain",
    "light crop, large fruit",
    "brown rot seen",
)


class Surroundings:
    """Everything that moves a cultivar at a site in a season away from its true value, drawn once."""

    def __init__(self, rng: np.random.Generator, count: int, sites: int, seasons: int):
        self.moves = {}
        for trait, spread in SPREADS.items():
            environment = rng.normal(0, spread.sd("site:season"), (1, sites, seasons))
            self.moves[trait] = (
                (environment - environment.mean())
                + rng.normal(0, spread.sd("cultivar:site"), (count, sites, 1))
                + rng.normal(0, spread.sd("cultivar:season"), (count, 1, seasons))
                + rng.normal(0, spread.sd("cultivar:site:season"), (count, sites, seasons))
            )
        self.uneven = rng.lognormal(-0.0032, 0.08, (count, sites, seasons))
        bad = rng.lognormal(-0.06, 0.35, (1, sites, seasons))
        self.defects = bad / bad.mean()


def _rounded(values: np.ndarray, step: float, low: float = 0.0, high: float = np.inf) -> np.ndarray:
    return np.clip((values / step).round() * step, low, high).round(1)


def _above_nothing(values: np.ndarray) -> np.ndarray:
    """Firmness kept above zero: very ripe fruit still reads something."""
    return np.where(values < 5, 5 * np.exp(np.minimum(values, 5) / 5 - 1), values)


def _share_of_fruit(rng: np.random.Generator, percent: np.ndarray, fruit: np.ndarray) -> np.ndarray:
    """Per cent of the sample's fruit with a defect whose true share is ``percent``; defects come in clusters."""
    share = np.clip(percent / 100, 0.001, 0.9)
    found = rng.binomial(fruit, rng.beta(12 * share, 12 * (1 - share)))
    return (100 * found / fruit).round()


def measured(rng: np.random.Generator, picks: pd.DataFrame, truth: pd.DataFrame, around: Surroundings):
    """(samples, fruit) of one season's picks.

    ``picks`` has a row a sample: number (row of ``truth``), site_number, season_number, pick, late_days (how far
    the picking ran behind the fruit), and columns that are kept as they are.
    """
    count = len(picks)
    cell = (picks["number"].to_numpy(), picks["site_number"].to_numpy(), picks["season_number"].to_numpy())
    ripe = rng.normal(0, 1, count) + 0.10 * picks["late_days"].to_numpy()
    level = {}
    for trait, spread in SPREADS.items():
        weight = SAMPLE_RIPENESS.get(trait, 0.0)
        own = weight * ripe + np.sqrt(1 - weight**2) * rng.normal(0, 1, count)
        level[trait] = (
            truth[trait].to_numpy()[cell[0]]
            + around.moves[trait][cell]
            + spread.pick * (picks["pick"].to_numpy() - USUAL_PICK)
            + spread.sd("sample") * own
        )
    level["fuzz"] = np.where(truth["fuzz"].to_numpy()[cell[0]] == 10, 10.0, level["fuzz"])
    fruit_count = np.where(rng.random(count) < 0.08, rng.integers(3, 10, count), 10)
    samples = picks.reset_index(drop=True)
    for rating, step in RATINGS.items():
        samples[rating] = _rounded(level[rating], step, 0, 10)
        samples.loc[rng.random(count) < 0.04, rating] = np.nan
    for defect in ("split_pit", "cracked_tip"):
        expected = truth[defect].to_numpy()[cell[0]] * around.defects[0][cell[1:]]
        samples[f"{defect}_pct"] = _share_of_fruit(rng, expected, fruit_count)
        samples.loc[rng.random(count) < 0.04, f"{defect}_pct"] = np.nan
    samples["photo"] = None
    samples["note"] = None
    noted = rng.random(count) < 0.03
    samples.loc[noted, "note"] = rng.choice(NOTES, noted.sum())
    uneven = (
        truth["cheek_difference"].to_numpy()[cell[0]]
        * around.uneven[cell]
        * rng.lognormal(-0.005, 0.10, count)
    )
    return samples, _fruit(rng, level, uneven, fruit_count)


def _fruit(
    rng: np.random.Generator, level: dict, uneven: np.ndarray, fruit_count: np.ndarray
) -> pd.DataFrame:
    """One row a fruit: row (of the sample), fruit, two diameters, two firmness readings, soluble solids."""
    row = np.repeat(np.arange(len(fruit_count)), fruit_count)
    ripe = rng.normal(0, 1, len(row))
    value = {}
    for trait, weight in FRUIT_RIPENESS.items():
        own = weight * ripe + np.sqrt(1 - weight**2) * rng.normal(0, 1, len(row))
        value[trait] = level[trait][row] + SPREADS[trait].sd("fruit") * own
    # The two cheeks of a fruit differ by a triangular amount: neither can be much ahead of the other.
    apart = (rng.random(len(row)) - rng.random(len(row))) * 3 * uneven[row]
    firm = _above_nothing(value["firmness"])
    size, roundness = value["size"], value["roundness"]
    fruit = pd.DataFrame({"row": row})
    fruit["fruit"] = fruit.groupby("row").cumcount() + 1
    fruit["suture_mm"] = (2 * size * roundness / (1 + roundness)).round(1)
    fruit["cross_mm"] = (2 * size / (1 + roundness)).round(1)
    fruit["firmness_1_n"] = np.maximum(_above_nothing(firm + apart / 2), 0.2 * POUND_FORCE).round(1)
    fruit["firmness_2_n"] = np.maximum(_above_nothing(firm - apart / 2), 0.2 * POUND_FORCE).round(1)
    fruit["ssc_brix"] = np.clip(value["sugar"], 4.5, None).round(1)
    for column in ("suture_mm", "cross_mm", "firmness_1_n", "firmness_2_n", "ssc_brix"):
        fruit.loc[rng.random(len(row)) < 0.006, column] = np.nan
    return fruit
