"""``python -m tests.benchmarks.handout``: a handout of 30 cultivars of the demo, for paper and as a workbook; the records are read
and every answer is worked out anew in the first round, the others are medians of five in turn."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

from dashboard.answers.catalogue import load
from dashboard.answers.question import Question
from dashboard.handout import booklet, workbook
from dashboard.handout.asking import asking
from dashboard.mixed.threads import one_thread
from dashboard.places import demo_data
from tests.benchmarks.tables import markdown

ROUNDS = 5


def timed(act: Callable[[], object]) -> tuple[float, float]:
    """Seconds of the clock and of the processor."""
    wall, spent = time.perf_counter(), time.process_time()
    act()
    return time.perf_counter() - wall, time.process_time() - spent


@one_thread
def main() -> None:
    catalogue = load(demo_data())
    asked = asking(catalogue, "roadside_stand")
    ways: dict[str, Callable[[Question], bytes]] = {
        "paper (.pdf)": booklet.pdf,
        "workbook (.xlsx)": workbook.xlsx,
    }
    first = {name: timed(lambda make=make: make(asked)) for name, make in ways.items()}  # type: ignore[misc]
    again: dict[str, list[tuple[float, float]]] = {name: [] for name in ways}
    for _ in range(ROUNDS):
        for name, make in ways.items():
            again[name].append(timed(lambda make=make: make(asked)))  # type: ignore[misc]
    rows = [
        {
            "handout of 30 cultivars": name,
            "first time, s": f"{first[name][0]:.2f}",
            "again, s": f"{statistics.median(wall for wall, _ in again[name]):.2f}",
            "CPU s": f"{statistics.median(spent for _, spent in again[name]):.2f}",
            "kB": f"{len(make(asked)) / 1000:,.0f}",
        }
        for name, make in ways.items()
    ]
    print(markdown(rows))


if __name__ == "__main__":
    main()
