"""``python -m tests.benchmarks.cover``: gaps of 350 cultivars over 120 days and 1,000 joint draws, beside NumPy's product of
matrices of those sizes, one BLAS thread, in turn."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

import numpy as np
import pandas as pd

from dashboard.mixed.threads import one_thread
from dashboard.ripening.cover import Cover, Draws
from tests.benchmarks.tables import markdown

CULTIVARS, DAYS, DRAWS, ROUNDS = 350, 120, 1000, 15


def timed(act: Callable[[], object]) -> float:
    start = time.process_time()
    act()
    return 1000 * (time.process_time() - start)


@one_thread
def main() -> None:
    random = np.random.default_rng(1)
    names = tuple(f"C{number}" for number in range(CULTIVARS))
    first = (
        random.uniform(0, DAYS, CULTIVARS)
        + random.normal(0, 6, (DRAWS, 1))
        + random.normal(0, 3, (DRAWS, CULTIVARS))
    )
    found = Draws(pd.Index(names), first, first + random.uniform(3, 12, CULTIVARS))
    a, b = random.random((DRAWS, CULTIVARS)), random.random((CULTIVARS, DAYS))
    ways: dict[str, Callable[[], object]] = {
        "matrix product": lambda: a @ b,
        "gaps of all": lambda: Cover(found, names, (0.0, DAYS - 1.0)).gaps,
        "gaps of every tenth": lambda: Cover(found, names[::10], (0.0, DAYS - 1.0)).gaps,
        "what each loss would lay bare": lambda: Cover(found, names, (0.0, DAYS - 1.0)).losses,
    }
    spent: dict[str, list[float]] = {name: [] for name in ways}
    for _ in range(ROUNDS):
        for name, act in ways.items():
            spent[name].append(timed(act))
    floor = statistics.median(spent["matrix product"])
    rows = [
        {
            "what": name,
            "CPU ms": f"{statistics.median(each):.1f}",
            "× the product": f"{statistics.median(each) / floor:.1f}",
        }
        for name, each in spent.items()
    ]
    print(markdown(rows))


if __name__ == "__main__":
    main()
