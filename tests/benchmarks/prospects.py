"""``python -m tests.benchmarks.prospects``: a market's ranking of 2,000 cultivars over 1,000 joint draws, beside the making of
these draws; and one weight moved. One BLAS thread, in turn.

The cultivars are those of a simulated trial of 2,000 × 8 sites × 20 seasons; all traits have the errors fitted to one of it.
"""

from __future__ import annotations

import statistics
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pandas as pd

from dashboard.answers.prospects import FEW_DRAWS
from dashboard.estimates import worth
from dashboard.estimates.draws import errors, long_run_draws
from dashboard.estimates.shares import means_for_share
from dashboard.market import Limit, Market, Wish
from dashboard.market.prospects import among_first, expected, log_welcome, outlook
from dashboard.market.weighing import places, shaken
from dashboard.mixed.threads import one_thread
from tests.benchmarks.cover import timed
from tests.benchmarks.tables import markdown
from tests.estimates.study import summaries
from tests.simulate import simulate

ROUNDS = 5
TRAITS = ("size", "firmness", "sugar", "red", "cheek_difference")


@one_thread
def main() -> None:
    found = worth(summaries(simulate("L", "size", 1), "size"), "size")
    level, spread = found.values["estimate"].mean(), found.values["estimate"].std()
    worths = {trait: replace(found, trait=trait) for trait in TRAITS}
    alike = np.tile(np.full((5, 5), 0.2) + 0.8 * np.eye(5), (len(found.values), 1, 1))
    large = Limit("trait", "size", at_least=level - spread, share=0.8)
    limits = (
        large,
        Limit("trait", "firmness", at_least=level - spread),
        Limit("trait", "sugar", at_least=level - 2 * spread),
    )
    wishes = tuple(
        Wish(trait, "larger", level - 3 * spread, level + 3 * spread, level + 3 * spread, 1.0 + place)
        for place, trait in enumerate(TRAITS)
    )
    market, known = Market("m", "M", "", limits, wishes), pd.DataFrame(index=found.values.index)
    everyone = np.ones(len(known), dtype=bool)
    held: dict = {}

    def draw() -> None:
        drawn = errors(worths, alike)
        # The scale of ratings and the like does not bind here: every trait is told as a size.
        held["draws"] = {trait: long_run_draws(found, drawn[trait]) for trait in TRAITS}

    def welcome() -> None:
        held["logs"] = [log_welcome(wish, held["draws"][wish.key]) for wish in wishes]

    def rank() -> None:
        spans = {large: means_for_share(found, large.at_least, None, 0.8)}
        seen = outlook(market, known, held["draws"], spans, held["logs"])
        told = expected(seen, known.index)
        among_first(seen, everyone, 5)
        few = [log[:FEW_DRAWS] for log in held["logs"]]
        moved = shaken([wish.weight for wish in wishes], few, told["expected"].to_numpy())
        places(moved, told["expected"].to_numpy(), everyone)

    def whole() -> None:
        welcome()
        rank()

    ways: dict[str, Callable[[], None]] = {
        "joint draws of five traits": draw, "the whole ranking": whole, "the ranking, one weight moved": rank,
    }  # fmt: skip
    spent: dict[str, list[float]] = {name: [] for name in ways}
    for _ in range(ROUNDS):
        for name, act in ways.items():
            spent[name].append(timed(act))
    floor = statistics.median(spent["joint draws of five traits"])
    print(f"{len(known):,} cultivars × {len(held['logs'][0]):,} draws × {len(TRAITS)} wishes")
    print(
        markdown(
            [
                {
                    "what": name,
                    "CPU ms": f"{statistics.median(each):.0f}",
                    "× the draws": f"{statistics.median(each) / floor:.2f}",
                }
                for name, each in spent.items()
            ]
        )
    )


if __name__ == "__main__":
    main()
