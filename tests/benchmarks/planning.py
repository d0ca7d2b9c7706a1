"""``python -m tests.benchmarks.planning [--seconds 120]``: a proposal for 350 candidates, 120 days and 1,000 seasons, its time on one core; what
would help where a plan leaves days bare, and its time; and for
the demo's five markets (yellow and white fruit, Jun 10 to Aug 31) how many cultivars it takes beside the plain greedy one and beside what
is proven to be the fewest, within so many seconds a market."""

from __future__ import annotations

import argparse
import itertools
import statistics
import time

import numpy as np
import pandas as pd

from dashboard.answers import catalogue as catalogues
from dashboard.answers.filters import Filters
from dashboard.answers.planning import bound, easings, plan
from dashboard.answers.planting import Pool
from dashboard.answers.selling import Wanted, filling
from dashboard.mixed.threads import one_thread
from dashboard.places import demo_data
from dashboard.ripening import day_of
from dashboard.ripening.cover import Draws
from dashboard.ripening.exchanging import filled
from dashboard.ripening.fewest import Fewest, fewest
from dashboard.ripening.filling import Filling, fruit_days, greedy, needed_seasons
from tests.benchmarks.tables import markdown

CULTIVARS, DAYS, DRAWS, ROUNDS = 350, 120, 1000, 5
EASED = (  # with too few cultivars, out of all colors
    ("roadside_stand", 10, Pool(offered=True)),
    ("roadside_stand", 11, Pool(Filters(seasons=3), offered=True, may=False)),
    ("roadside_stand", 11, Pool(Filters(seasons=3), offered=True)),
    ("roadside_stand", 10, Pool()),
    ("pick_your_own", 10, Pool()),
)


@one_thread
def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=120.0)
    seconds = parser.parse_args().seconds
    print(markdown([_large(certainty, seconds) for certainty in (7, 8)]), end="\n\n")
    demo = catalogues.load(demo_data())
    print(markdown([_eased(demo, *one) for one in EASED]), end="\n\n")
    every = itertools.product((8, 7), ("ordinary", "any"), demo.markets)
    print(markdown([_market(demo, key, year, certainty, seconds) for certainty, year, key in every]))


def _large(certainty: int, seconds: float) -> dict[str, str]:
    random = np.random.default_rng(1)
    names = tuple(f"C{number}" for number in range(CULTIVARS))
    first = (
        random.uniform(-3, DAYS, CULTIVARS)
        + random.normal(0, 2, (DRAWS, 1))
        + random.normal(0, 3, (DRAWS, CULTIVARS))
    )
    found = Draws(pd.Index(names), first, first + random.uniform(4, 10, CULTIVARS))
    spent = []
    for _ in range(ROUNDS):
        start = time.process_time()
        task = _task(found, names, certainty)
        chosen = filled(task)
        spent.append(time.process_time() - start)
    start = time.process_time()
    told = fewest(task, seconds, chosen)
    proof = time.process_time() - start
    return {
        "candidates, days, seasons": f"{CULTIVARS}, {DAYS}, {DRAWS}",
        "seasons in 10": str(certainty),
        "days possible": str(int(task.possible.sum())),
        "proposal, CPU s": f"{statistics.median(spent):.2f}",
        "cultivars": str(len(chosen)),
        "plain greedy": str(len(greedy(task))),
        **_proven(len(chosen), told, proof),
    }


def _task(found: Draws, names: tuple[str, ...], certainty: int) -> Filling:
    fruit = fruit_days(found, names, (0.0, DAYS - 1.0))
    worth = np.random.default_rng(2).random(len(names))
    return Filling(fruit, DRAWS, np.full(DAYS, needed_seasons(certainty, DRAWS)), worth=worth)


def _eased(demo: catalogues.Catalogue, key: str, most: int, pool: Pool) -> dict[str, str]:
    asked = Wanted(
        demo, (demo.markets[key],), day_of(6, 10), day_of(8, 31), pool, season_kind="any", most=most
    )
    start = time.process_time()
    now = plan(asked)
    known = time.process_time()
    found = easings(asked)
    return {
        "market": key,
        "at most": str(most),
        "out of": f"{now.candidates}",
        "days bare": str(now.bare_days),
        "plan, CPU s": f"{known - start:.2f}",
        "easings, CPU s": f"{time.process_time() - known:.2f}",
        "days forgone": ", ".join(f"{one.what} {one.forgone}" for one in found),
    }


def _market(
    demo: catalogues.Catalogue, key: str, year: str, certainty: int, seconds: float
) -> dict[str, str]:
    pool = Pool(Filters(flesh_colour=("yellow", "white")))
    asked = Wanted(
        demo, (demo.markets[key],), day_of(6, 10), day_of(8, 31), pool, season_kind=year, certainty=certainty
    )
    task = filling(asked)
    start = time.process_time()
    size = len(plan(asked).picks)
    planned = time.process_time()
    told = bound(asked, seconds)
    proof = time.process_time() - planned
    return {
        "seasons in 10": str(certainty),
        "year": year,
        "market": key,
        "candidates": str(len(asked.candidates)),
        "days that can be covered": f"{int(task.possible.sum())} of {len(task.needed)}",
        "plain greedy": str(len(greedy(task))),
        "proposal": str(size),
        "CPU s": f"{planned - start:.1f}",
        **_proven(size, told, proof),
    }


def _proven(size: int, told: Fewest, seconds: float) -> dict[str, str]:
    return {
        "proven at least": f"{told.least}{', the fewest' if told.proven else ''}",
        "proof, CPU s": f"{seconds:.1f}",
        "×": f"{size / max(told.least, 1):.2f}",
    }


if __name__ == "__main__":
    main()
