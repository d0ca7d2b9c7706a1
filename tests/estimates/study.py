"""How often the intervals hold and what the model gains, on simulated trials with a known truth.

    python -m tests.estimates.study

A case is a size of trial (cultivars × sites × seasons), a trait, and how strongly newer cultivars are better than older
ones. The truth of a value is what the cultivar would give on average over the site-seasons of the records at the usual
pick, its effects lasting ones only; a limit is cleared in the long run when that mean clears it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd
from scipy import stats

from dashboard.estimates import worth
from dashboard.estimates.averages import average_values
from dashboard.estimates.chances import FRUIT, LONG_RUN, NEXT_SEASON, chances
from dashboard.estimates.comparisons import difference
from dashboard.estimates.one_season import long_run
from dashboard.estimates.readings import readings
from tests.simulate import Simulated, simulate

BINS = np.array([0.0, 0.1, 0.25, 0.5, 0.75, 0.9, 1.0])
CASES = tuple(
    (size, seasons, trait, trend)
    for size, seasons in (("S", 2), ("S", 3), ("S", 4), ("S", 5), ("H", 5), ("M", 10))
    for trait in ("size", "sugar")
    for trend in (1.0, 3.0)
)


@dataclass(frozen=True)
class Result:
    """Counts over the data sets of a case; checks are left out."""

    value_held: np.ndarray  # bool, one a cultivar and data set: is the truth in its 90 % interval
    check_held: np.ndarray  # the same of the difference from each check
    model_error: np.ndarray
    raw_error: np.ndarray
    predicted: np.ndarray  # chance of clearing the limit in the long run
    cleared: np.ndarray  # whether it truly does
    predicted_next: np.ndarray  # chance that next season's mean at the first site clears it
    cleared_next: np.ndarray
    predicted_fruit: np.ndarray  # share of that season's fruit that clears it
    fruit: np.ndarray
    fits: int  # how many of the data sets the model was fitted to

    def shares(self, of: str = LONG_RUN) -> pd.DataFrame:
        """By bin of the predicted chance (LONG_RUN, NEXT_SEASON, FRUIT): mean predicted, share cleared, how many."""
        predicted, cleared = {
            LONG_RUN: (self.predicted, self.cleared),
            NEXT_SEASON: (self.predicted_next, self.cleared_next),
            FRUIT: (self.predicted_fruit, self.fruit),
        }[of]
        place = np.clip(np.digitize(predicted, BINS) - 1, 0, len(BINS) - 2)
        frame = pd.DataFrame({"bin": place, "predicted": predicted, "cleared": cleared})
        return frame.groupby("bin").agg(
            predicted=("predicted", "mean"), cleared=("cleared", "mean"), count=("cleared", "size")
        )

    @property
    def gain(self) -> float:
        return rms(self.raw_error) / rms(self.model_error)


def rms(errors: np.ndarray) -> float:
    return float(np.sqrt(np.mean(np.square(errors))))


def summaries(made: Simulated, trait: str) -> pd.DataFrame:
    """The simulated samples as the summaries of one trait."""
    key = "attractiveness" if trait == "rating" else trait
    rows = made.samples
    frame = pd.DataFrame({"cultivar": named(rows["cultivar"]), "site": "site " + rows["site"].astype(str)})
    frame = frame.assign(season=rows["season"] + 2000, pick=rows["pick"] + 1.0, **{key: rows["mean"]})
    return frame if trait == "rating" else frame.assign(**{f"{key}_n": rows["n"], f"{key}_ss": rows["ss"]})


def named(codes: pd.Series | np.ndarray) -> list[str]:
    return [f"C{code:04d}" for code in codes]


def truths(made: Simulated) -> pd.Series:
    """What each cultivar truly gives on average over the site-seasons of the records, at the usual pick."""
    usual = made.trait.pick * made.samples["pick"].mean()
    return pd.Series((made.truth["here"] + usual).to_numpy(), named(made.truth.index))


def coming(made: Simulated) -> pd.Series:
    """Each cultivar's mean at the first site in the season after the records, at the usual pick."""
    usual = made.trait.pick * made.samples["pick"].mean()
    return pd.Series((made.truth["coming"] + usual).to_numpy(), named(made.truth.index))


def studied(
    size: str, seasons: int, trait: str, trend: float, seeds: range, ratio: float | None = None
) -> Result:
    parts: list[tuple] = []
    fits = 0
    key = "attractiveness" if trait == "rating" else trait
    for seed in seeds:
        made = simulate(size, trait, seed, trend=trend, seasons=seasons)
        frame, seen = summaries(made, trait), truths(made)
        checks = named(made.truth.index[made.truth["check"]])
        found = worth(frame, key, frozenset(checks))
        if not found.modelled:
            continue
        fits += 1
        values = found.values if ratio is None else long_run(found, ratio)
        limit = made.trait.mean + made.trait.pick * made.samples["pick"].mean()
        chance = chances(found, limit, ratio=ratio)[LONG_RUN].by_cultivar
        raw = average_values(readings(frame, key))["estimate"]
        rest = [name for name in values.index if name not in checks]
        held = (values["low"] <= seen[values.index]) & (seen[values.index] <= values["high"])
        pairs = [(name, check) for name in rest for check in checks if check in values.index]
        between = [difference(found, *pair) for pair in pairs]
        apart = [seen[name] - seen[check] for name, check in pairs]
        # A limit as far from the level of the seasons seen as the other is from the usual level: a limit that stands at
        # the usual level of all seasons would tell, by how far the seasons seen lie from it, how the next will go.
        ahead = limit + float((made.truth["here"] - made.truth["value"]).iloc[0])
        at_first = chances(found, ahead, site="site 0") if ratio is None else None
        stood = [name for name in rest if at_first is None or np.isfinite(at_first[FRUIT].by_cultivar[name])]
        next_mean = coming(made)[stood].to_numpy()
        spread = np.hypot(made.trait.sd["sample"], made.trait.sd["fruit"])
        step = made.trait.pick * made.samples["pick"].std(ddof=0)
        parts.append(
            (
                held[rest].to_numpy(),
                np.array([one.low <= true <= one.high for one, true in zip(between, apart, strict=True)]),
                (values["estimate"] - seen[values.index])[rest].to_numpy(),
                (raw - seen[raw.index])[rest].to_numpy(),
                chance[rest].to_numpy(),
                (seen[rest] >= limit).to_numpy(),
                at_first[NEXT_SEASON].by_cultivar[stood].to_numpy() if at_first else np.empty(0),
                next_mean >= ahead if at_first else np.empty(0),
                at_first[FRUIT].by_cultivar[stood].to_numpy() if at_first else np.empty(0),
                stats.norm.cdf((next_mean - ahead) / np.hypot(spread, step)) if at_first else np.empty(0),
            )
        )
    return Result(*(np.concatenate(column) for column in zip(*parts, strict=True)), fits)


def sets(size: str) -> range:
    """Which data sets a full study draws: fixed here, before anything is looked at."""
    return range(5000, 5000 + {"S": 300, "H": 200, "M": 100}[size])


def main() -> None:
    print(
        "cultivars seasons trait trend sets | 90 % holds: value, difference from a check | RMSE model, raw, raw/model | "
        "worst bin: long run, next season, fruit"
    )
    for size, seasons, trait, trend in CASES:
        found = studied(size, seasons, trait, trend, sets(size))
        worst = [
            float((found.shares(of)["predicted"] - found.shares(of)["cleared"]).abs().max()) for of in (LONG_RUN, NEXT_SEASON, FRUIT)
        ]  # fmt: skip
        bins = " ".join(f"{row.predicted:.2f}/{row.cleared:.2f}" for row in found.shares().itertuples())
        print(
            f"{size} {seasons:2d} {trait:6s} x{trend:g} {found.fits:4d} | {found.value_held.mean():.3f} {found.check_held.mean():.3f} | "
            f"{rms(found.model_error):.4f} {rms(found.raw_error):.4f} {found.gain:.2f} | {' '.join(f'{w:.3f}' for w in worst)}  {bins}",
            flush=True,
        )  # fmt: skip
    for trait in ("size", "sugar"):
        one, three = (studied("M", seasons, trait, 1.0, sets("M")) for seasons in (1, 3))
        print(
            f"M {trait}: one season with the model {rms(one.model_error):.4f}, three seasons of raw averages {rms(three.raw_error):.4f}, one of raw {rms(one.raw_error):.4f}",
            flush=True,
        )


if __name__ == "__main__":
    main()
