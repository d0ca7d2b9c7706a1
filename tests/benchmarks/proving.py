"""``nice -n 15 python -m tests.benchmarks.proving MARKET [--certainty 8] [--minutes 20]``: how few cultivars there are at the least, by a longer
proof than a page can wait for. It takes a C compiler, ``cc``.

A cut of a day gives each candidate a weight, such that every set that covers the day weighs 1 at least. Were cultivars picked
independently, -log(1 - chance) over -log(1 - certainty) would do; drawn seasons are a little luckier, so the weights come from linear
programs, each with the sets that weighed less than 1 under the one before, found by trying every set (``lightest.c``). Last a cut is
divided by what the lightest set of all weighs, so it holds whatever the programs did. Under the cuts of all days HiGHS then shows
that no set is as small as the one before the bound, or finds one, which a further cut forbids."""

from __future__ import annotations

import argparse
import ctypes
import subprocess
import tempfile
import time
from functools import cache
from pathlib import Path

import numpy as np
from scipy import sparse
from scipy.optimize import Bounds, LinearConstraint, linprog, milp

from dashboard.answers import catalogue as catalogues
from dashboard.answers.filters import Filters
from dashboard.answers.planting import Pool
from dashboard.answers.selling import Wanted, filling
from dashboard.places import demo_data
from dashboard.ripening import day_of
from dashboard.ripening.filling import Filling

MAINSTAY = 0.06  # chance on the day from which a candidate is taken whole or not at all
FEW = 0.1, 200  # the same where there are more candidates than so many
ROUNDS, AT_ONCE, VISITS = 12, 60, 2 * 10**8
WORDS, DEEPEST = 16, 64  # as in ``lightest.c``
CLOSE, FAR = 0.012, 0.25  # how much lighter than 1 a set is worth a row, and how much heavier it is let go
MARGIN = 1e-7


@cache
def _library() -> ctypes.CDLL:
    made = Path(tempfile.mkdtemp()) / "lightest.so"
    source = Path(__file__).with_name("lightest.c")
    subprocess.run(
        ["cc", "-O3", "-march=native", "-shared", "-fPIC", str(source), "-o", str(made)], check=True
    )
    return ctypes.CDLL(str(made))


class Day:
    """One day: candidates picked on it, most often first, and the sets found that weighed too little."""

    def __init__(self, task: Filling, day: int) -> None:
        often = task.often[:, day]
        some = np.flatnonzero(often)
        self.at = some[np.argsort(-often[some], kind="stable")]
        self.fruit = np.zeros((len(some), WORDS), dtype=np.uint64)
        self.fruit[:, : task.fruit.shape[2]] = task.fruit[self.at, day]
        self.asked = int(task.asked[day])
        chance, certainty = often[self.at] / task.seasons, self.asked / task.seasons
        few = FEW[0] if len(task.fruit) > FEW[1] else MAINSTAY
        self.mainstays = int((chance >= few).sum())
        alone = np.log(np.maximum(1 - chance, 1e-4)) / np.log(1 - certainty)
        whole = np.arange(len(chance)) < self.mainstays
        self.low = np.minimum(np.where(whole, np.minimum(0.6 * chance / certainty, alone), chance), 1.0)
        self.sets = np.zeros((0, len(some)))

    def lightest(self, weights: np.ndarray, limit: float, room: int = 0) -> tuple[np.ndarray, float] | None:
        """(sets, candidates) up to ``room`` lighter than the limit; without room, what the lightest weighs. None where not all were tried."""
        sets, parts = np.zeros((max(room, 1), DEEPEST), dtype=np.int32), np.zeros(max(room, 1))
        told, weights = ctypes.c_double(limit), np.ascontiguousarray(weights)
        place = ctypes.c_void_p
        found = _library().lightest(
            len(self.at), self.mainstays, place(self.fruit.ctypes.data), place(weights.ctypes.data), self.asked, ctypes.byref(told),
            int(not room), ctypes.c_long(VISITS), len(sets), place(sets.ctypes.data), place(parts.ctypes.data),
        )  # fmt: skip
        if found < 0:
            return None
        rows = np.zeros((found, len(self.at)))
        for row, one, part in zip(rows, sets, parts, strict=False):
            row[one[: np.argmin(one)]] = 1.0
            row[one[np.argmin(one) - 1]] = part
        return rows, told.value

    def cut(self, parts: np.ndarray) -> np.ndarray | None:
        """(candidates of the task,) weights, by which ``parts`` of candidates weigh as little as may be; None where none is proven."""
        weights = self.low
        for _ in range(ROUNDS):
            if len(self.sets):
                weights = linprog(
                    parts[self.at] + 8e-4, -sparse.csr_matrix(self.sets), -np.ones(len(self.sets)),
                    bounds=np.c_[self.low, np.ones(len(self.low))], method="highs",
                ).x  # fmt: skip
                self.sets = self.sets[self.sets @ weights < 1 + FAR]
            found = self.lightest(weights, 1 - CLOSE, AT_ONCE)
            if found is None or not len(found[0]):
                break
            self.sets = np.vstack([self.sets, found[0]])
        proven = self.lightest(weights, 1.0)
        if proven is None:
            return None
        row = np.zeros(len(parts))
        row[self.at] = np.minimum(weights / proven[1], 1.0) * (1 + MARGIN)
        return row


def relaxed(task: Filling, until: float) -> tuple[np.ndarray, float]:
    """Cuts (rows, candidates), and how many in parts of cultivars they take, as far as they get ``until`` (``time.monotonic``)."""
    days = [Day(task, int(day)) for day in np.flatnonzero(task.asked)]
    parts, value = np.zeros(len(task.fruit)), 0.0
    rows = np.zeros((0, len(parts)))
    while True:
        more = [row for row in (one.cut(parts) for one in days) if row is not None and row @ parts < 1 - 2e-3]
        if not more:
            return rows, value
        rows = np.vstack([rows[rows @ parts < 1.08], *more])
        told = linprog(np.ones(len(parts)), -rows, -np.ones(len(rows)), bounds=(0, 1), method="highs")
        parts, value = told.x, float(told.fun)
        print(f"{value:.3f} in parts under {len(rows)} cuts, {time.process_time():.0f} CPU s", flush=True)
        if time.monotonic() > until:
            return rows, value


def none_of(task: Filling, rows: np.ndarray, size: int, until: float) -> bool:
    """Whether it is proven that no set of ``size`` or fewer covers every possible day."""
    ones, days = np.ones(rows.shape[1]), {}
    while (left := until - time.monotonic()) > 0:
        found = milp(
            ones, integrality=ones, bounds=Bounds(0, 1), options={"time_limit": left},
            constraints=[LinearConstraint(rows, 1, np.inf), LinearConstraint(ones, 0, size)],
        )  # fmt: skip
        if found.status == 2:  # none
            return True
        if found.x is None:
            return False
        chosen = np.flatnonzero(found.x > 0.5)
        bare = np.flatnonzero(task.reached(chosen) < task.asked)
        if not len(bare):
            print("A set:", chosen.tolist())
            return False
        days.update({int(day): Day(task, int(day)) for day in bare if int(day) not in days})
        more = [days[int(day)].cut(found.x) for day in bare]
        rows = np.vstack([rows, *(row for row in more if row is not None)])
    return False


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("market")
    parser.add_argument("--certainty", type=int, default=8)
    parser.add_argument("--minutes", type=float, default=20.0)
    asked = parser.parse_args()
    demo = catalogues.load(demo_data())
    pool = Pool(Filters(flesh_colour=("yellow", "white")))
    market = (demo.markets[asked.market],)
    task = filling(Wanted(demo, market, day_of(6, 10), day_of(8, 31), pool, certainty=asked.certainty))
    begun, seconds = time.monotonic(), 60 * asked.minutes
    rows, value = relaxed(task, begun + seconds / 2)
    least = int(np.ceil(value - 1e-6))
    while none_of(task, rows, least, begun + seconds):
        least += 1
        print(f"{asked.market}: {least} or more, {time.process_time():.0f} CPU s", flush=True)
    print(f"{asked.market} at {asked.certainty} in 10: {least} at the least, {time.process_time():.0f} CPU s")


if __name__ == "__main__":
    main()
