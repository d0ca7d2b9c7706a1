"""``python -m tests.benchmarks.planning [--seconds 60]``: a proposal for 350 candidates, 120 days and 1,000 seasons, its time on one core; what
would help where a plan leaves days bare, and its time; and for
the demo's five markets (yellow and white fruit, Jun 10 to Aug 31) how many cultivars it takes beside the plain greedy one and beside what
is proven to be the fewest: by the linear relaxation, and by sharper cuts and whole numbers within so many seconds a market."""

from __future__ import annotations

import argparse
import statistics
import time

import numpy as np
import pandas as pd

from dashboard.answers import catalogue as catalogues
from dashboard.answers.filters import Filters
from dashboard.answers.planning import easings, plan
from dashboard.answers.planting import Pool
from dashboard.answers.selling import Wanted, filling
from dashboard.mixed.threads import one_thread
from dashboard.places import demo_data
from dashboard.ripening import day_of
from dashboard.ripening.cover import Draws
from dashboard.ripening.exchanging import EXCHANGES, filled
from dashboard.ripening.fewest import fewest
from dashboard.ripening.filling import Filling, fruit_days, greedy, needed_seasons
from tests.benchmarks.tables import markdown

CULTIVARS, DAYS, DRAWS, ROUNDS = 350, 120, 1000, 5
EASED = (
    ("roadside_stand", 12, Pool(offered=True)),
    ("roadside_stand", 12, Pool(Filters(seasons=3), offered=True, may=False)),
    ("roadside_stand", 16, Pool(Filters(seasons=3), offered=True)),
    ("roadside_stand", 12, Pool()),
    ("pick_your_own", 12, Pool()),
)
LONGER = 10  # times as many exchanges, to see what more searching finds


@one_thread
def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=60.0)
    seconds = parser.parse_args().seconds
    print(markdown([_large(certainty) for certainty in (7, 8)]), end="\n\n")
    demo = catalogues.load(demo_data())
    print(markdown([_eased(demo, *one) for one in EASED]), end="\n\n")
    rows = [_market(demo, key, certainty, seconds) for key in demo.markets for certainty in (7, 8)]
    print(markdown(rows))


def _large(certainty: int) -> dict[str, str]:
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
    plain, bound = greedy(task), fewest(task)
    return {
        "candidates, days, seasons": f"{CULTIVARS}, {DAYS}, {DRAWS}",
        "seasons in 10": str(certainty),
        "days possible": str(int(task.possible.sum())),
        "proposal, CPU s": f"{statistics.median(spent):.2f}",
        "cultivars": str(len(chosen)),
        "plain greedy": str(len(plain)),
        "relaxation": f"{bound.relaxed:.1f}",
        "its s": f"{bound.seconds:.1f}",
    }


def _task(found: Draws, names: tuple[str, ...], certainty: int) -> Filling:
    fruit = fruit_days(found, names, (0.0, DAYS - 1.0))
    worth = np.random.default_rng(2).random(len(names))
    return Filling(fruit, DRAWS, np.full(DAYS, needed_seasons(certainty, DRAWS)), worth=worth)


def _eased(demo: catalogues.Catalogue, key: str, most: int, pool: Pool) -> dict[str, str]:
    asked = Wanted(demo, (demo.markets[key],), day_of(6, 10), day_of(8, 31), pool, most=most)
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


def _market(demo: catalogues.Catalogue, key: str, certainty: int, seconds: float) -> dict[str, str]:
    pool = Pool(Filters(flesh_colour=("yellow", "white")))
    asked = Wanted(demo, (demo.markets[key],), day_of(6, 10), day_of(8, 31), pool, certainty=certainty)
    task = filling(asked)
    start = time.process_time()
    chosen = filled(task)
    spent = time.process_time() - start
    longer = filled(task, exchanges=LONGER * EXCHANGES)
    relaxed = fewest(task)
    whole = fewest(task, seconds)
    return {
        "market": key,
        "seasons in 10": str(certainty),
        "candidates": str(len(asked.candidates)),
        "days possible": f"{int(task.possible.sum())} of {len(task.needed)}",
        "plain greedy": str(len(greedy(task))),
        "proposal": str(len(chosen)),
        "CPU s": f"{spent:.2f}",
        f"{LONGER} × the exchanges": str(len(longer)),
        "relaxation": f"{relaxed.relaxed:.1f} ({relaxed.seconds:.1f} s)",
        "proven fewest": f"{whole.least}{'' if whole.proven else ' or more'} ({whole.seconds:.0f} s)",
        "× proven": f"{len(chosen) / max(whole.least, 1):.2f}",
    }


if __name__ == "__main__":
    main()
