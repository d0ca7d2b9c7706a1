"""Whether estimates stay fair where the truth is not our model: ``python -m tests.estimates.robust [SCENARIO …] [--sets N]``."""

from __future__ import annotations

import argparse

from tests.estimates.robust import (
    ages,
    by_shape,
    exact,
    families,
    fruit_by_season,
    gauge_ends,
    harvests,
    levels,
    picked_at,
    sampled,
    several_traits,
    shares,
    small_trials,
    unequal,
    visits,
)

SCENARIOS = {
    "small": small_trials.rows,
    "harvests": harvests.rows,
    "levels": levels.rows,
    "visits": visits.rows,
    "traits": several_traits.rows,
    "firmness": picked_at.rows,
    "fruit": fruit_by_season.rows,
    "ages": ages.rows,
    "sampled": sampled.rows,
    "gauge": gauge_ends.rows,
    "unequal": unequal.rows,
    "shares": shares.rows,
    "exact": exact.rows,
    "shapes": by_shape.rows,
    "families": families.rows,
}


def main() -> None:
    asked = argparse.ArgumentParser(prog="python -m tests.estimates.robust")
    asked.add_argument("scenarios", nargs="*", metavar="SCENARIO", help=", ".join(SCENARIOS))
    asked.add_argument("--sets", type=int, default=400, help="data sets a row")
    told = asked.parse_args()
    for name in told.scenarios or SCENARIOS:
        print(f"== {name}")
        for row in SCENARIOS[name](told.sets):
            print(row, flush=True)


if __name__ == "__main__":
    main()
