"""``nice -n 15 python -m tests.benchmarks.proving MARKET [MARKET …] [--season any] [--certainty 8] [--minutes 10]``: how few cultivars there
are at the least, by a longer proof than a page can wait for; of several markets, by the candidates of all. It takes a C compiler, ``cc``.

A cut of a day gives each candidate a weight, such that every set that covers the day weighs 1 at least. Were cultivars picked
independently, -log(1 - chance) over -log(1 - certainty) would do. Drawn seasons are luckier than that, so these weights are divided by what
the lightest set weighs, found by trying every set (``lightest.c``); others come from linear programs, each with the sets that weighed less than 1
under the one before, and are divided the same, so a cut holds whatever the programs did. Under the cuts of all days and
seasons (``fewest``) HiGHS then shows that no set is as small as the one before the bound, or finds one, which a further cut forbids. It is
also told that of those picked before each candidate a whole number is taken, and may branch there."""

from __future__ import annotations

import argparse
import ctypes
import subprocess
import tempfile
import time
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
from scipy import sparse
from scipy.optimize import Bounds, LinearConstraint, linprog, milp

from dashboard.answers import catalogue as catalogues
from dashboard.answers.filters import Filters
from dashboard.answers.planning import plan
from dashboard.answers.planting import Pool
from dashboard.answers.selling import Wanted, filling
from dashboard.places import demo_data
from dashboard.ripening import day_of
from dashboard.ripening.fewest import broken_cuts, relaxed_by_seasons
from dashboard.ripening.filling import Filling

MAINSTAY = 0.06  # chance on the day from which a candidate is taken whole or not at all
FEW = 0.1, 200  # the same where there are more candidates than so many
FLOOR, BESIDE = (
    0.7,
    1.5,
)  # of its first weight, a mainstay's at least; seasons in parts weigh so much more than their share
HEAVIEST = 3.0  # that the lightest set is, by weights as if all were picked independently
ROUNDS, AT_ONCE, VISITS = 12, 60, 2 * 10**8
PART = 0.4  # of the time, for cuts; what is left is for whole numbers
SLOW = 5, 0.01  # rounds of cuts that together lift the bound by no more end them
BROKEN = 2e-3  # by so much at least, else a cut is not worth having
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
        self.task, often = task, task.often[:, day]
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
        self.sets = np.zeros((0, len(some)))
        self.first = np.where(whole, alone, BESIDE * chance)
        told = self.lightest(self.first, HEAVIEST)
        self.proven = told is not None
        self.first = np.minimum(self.first / (told[1] if told else 1.0), 1.0)
        self.low = np.where(whole, FLOOR, 1 / BESIDE) * self.first

    def lightest(self, weights: np.ndarray, limit: float, room: int = 0) -> tuple[np.ndarray, float] | None:
        """(sets, candidates) up to ``room`` lighter than the limit; without room, what the lightest weighs. None where not all were tried."""
        sets, parts = np.zeros((max(room, 1), DEEPEST), dtype=np.int32), np.zeros((max(room, 1), DEEPEST))
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
            row[one[: np.argmin(one)]] = part[: np.argmin(one)]
        return rows, told.value

    def first_cut(self) -> np.ndarray | None:
        """(candidates of the task,) the weights there would be were all picked independently, by what the lightest set weighs; None where not all were tried."""
        return self._told(self.first) if self.proven else None

    def cut(self, parts: np.ndarray) -> np.ndarray | None:
        """(candidates of the task,) weights, by which ``parts`` of candidates weigh as little as may be; None where none is proven that they break."""
        weights = self.first
        for _ in range(ROUNDS):
            if len(self.sets):
                weights = linprog(
                    parts[self.at] + 8e-4, -sparse.csr_matrix(self.sets), -np.ones(len(self.sets)),
                    bounds=np.c_[self.low, np.ones(len(self.low))], method="highs",
                ).x  # fmt: skip
                if parts[self.at] @ weights > 1 - BROKEN:
                    return None
                self.sets = self.sets[self.sets @ weights < 1 + FAR]
            found = self.lightest(weights, 1 - CLOSE, AT_ONCE)
            if found is None or not len(found[0]):
                break
            self.sets = np.vstack([self.sets, found[0]])
        proven = self.lightest(weights, 1.0)
        if proven is None:
            return None
        row = self._told(np.minimum(weights / proven[1], 1.0))
        return None if row @ parts > 1 - BROKEN else row

    def _told(self, weights: np.ndarray) -> np.ndarray:
        row = np.zeros(len(self.task.fruit))
        row[self.at] = weights * (1 + MARGIN)
        return row


def relaxed(task: Filling, until: float) -> tuple[np.ndarray, float]:
    """Cuts (rows, candidates), and how many in parts of cultivars they take, as far as they get ``until`` (``time.monotonic``)."""
    days = [Day(task, int(day)) for day in np.flatnonzero(task.asked)]
    more = [row for row in (one.first_cut() for one in days) if row is not None]
    more.extend(relaxed_by_seasons(task)[0])
    rows, parts, value, values = (
        np.zeros((0, len(task.fruit))),
        np.zeros(len(task.fruit)),
        0.0,
        [0.0] * SLOW[0],
    )
    while more:
        rows = np.vstack([rows[rows @ parts < 1.08], *more])
        told = linprog(np.ones(len(parts)), -rows, -np.ones(len(rows)), bounds=(0, 1), method="highs")
        parts, value = told.x, float(told.fun)
        print(f"{value:.3f} in parts under {len(rows)} cuts, {time.process_time():.0f} CPU s", flush=True)
        values.append(value)
        if time.monotonic() > until or value - values[-1 - SLOW[0]] < SLOW[1]:
            break
        more = [row for row in (one.cut(parts) for one in days) if row is not None]
        more.extend(row for row in broken_cuts(task, parts) if row @ parts < 1 - BROKEN)
    return rows, value


def none_of(task: Filling, rows: np.ndarray, size: int, until: float) -> bool:
    """Whether it is proven that no set of ``size`` or fewer covers every possible day."""
    days, count = {}, rows.shape[1]
    order = np.argsort(task.middles, kind="stable")
    ones, steps = sparse.eye(count, format="csr"), sparse.eye(count) - sparse.eye(count, k=-1)
    running = LinearConstraint(sparse.hstack([-ones, steps], format="csr"), 0, 0)
    price = np.r_[np.zeros(2 * count - 1), 1.0]
    while (left := until - time.monotonic()) > 0:
        cuts = sparse.csr_matrix(rows[:, order])
        wide = sparse.hstack([cuts, sparse.csr_matrix(cuts.shape)], format="csr")
        found = milp(
            price, integrality=np.ones(2 * count), bounds=Bounds(0, np.r_[np.ones(count), np.full(count, size)]),
            constraints=[LinearConstraint(wide, 1, np.inf), running], options={"time_limit": left},
        )  # fmt: skip
        if found.status == 2:  # none
            return True
        if found.x is None:
            return False
        chosen = order[found.x[:count] > 0.5]
        bare = np.flatnonzero(task.reached(chosen) < task.asked)
        if not len(bare):
            print(f"There is a set of {len(chosen)}.")
            return False
        days.update({int(day): Day(task, int(day)) for day in bare if int(day) not in days})
        parts = np.isin(np.arange(count), chosen).astype(float)
        more = [days[int(day)].cut(parts) for day in bare]
        rows = np.vstack(
            [
                rows,
                *(row for row in more if row is not None),
                *(one_more(task, chosen, int(day)) for day in bare),
            ]
        )
    return False


def one_more(task: Filling, chosen: np.ndarray, day: int) -> np.ndarray:
    """(candidates,) the cut that asks for one beside the ``chosen``, who leave the day bare, and beside whoever else may join them in vain."""
    inside, fruit = list(chosen), np.bitwise_or.reduce(task.fruit[chosen, day], axis=0)
    for at in np.argsort(task.often[:, day], kind="stable"):
        if np.bitwise_count(fruit | task.fruit[at, day]).sum() < task.asked[day]:
            inside.append(int(at))
            fruit = fruit | task.fruit[at, day]
    row = np.ones(len(task.fruit))
    row[inside] = 0.0
    return row


def joined(tasks: list[Filling]) -> Filling:
    """Of tasks that ask for the same days and seasons, one with everybody's candidates: what is too few for it is too few for each."""
    if len({task.asked.tobytes() for task in tasks}) > 1:
        raise ValueError("These markets cannot cover the same days; prove them one by one.")
    fruit = np.unique(np.concatenate([task.fruit for task in tasks]), axis=0)
    return replace(tasks[0], fruit=fruit, worth=None)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("markets", nargs="+")
    parser.add_argument("--season", choices=("ordinary", "any"), default="ordinary")
    parser.add_argument("--certainty", type=int, default=8)
    parser.add_argument("--minutes", type=float, default=10.0)
    asked = parser.parse_args()
    demo = catalogues.load(demo_data())
    pool = Pool(Filters(flesh_colour=("yellow", "white")))
    wanted = [
        Wanted(
            demo, (demo.markets[key],), day_of(6, 10), day_of(8, 31), pool,
            season_kind=asked.season, certainty=asked.certainty,
        )
        for key in asked.markets
    ]  # fmt: skip
    for key, one in zip(asked.markets, wanted, strict=True):
        print(f"{key}: {len(plan(one).names)} proposed out of {len(one.candidates)}", flush=True)
    task = joined([filling(one) for one in wanted])
    begun, seconds = time.monotonic(), 60 * asked.minutes
    rows, value = relaxed(task, begun + PART * seconds)
    least = int(np.ceil(value - 1e-6))
    while none_of(task, rows, least, begun + seconds):
        least += 1
        print(f"{least} or more, {time.process_time():.0f} CPU s", flush=True)
    told = f"{' and '.join(asked.markets)}, {asked.season} season, {asked.certainty} in 10"
    print(f"{told}: {least} at the least, {time.process_time():.0f} CPU s")


if __name__ == "__main__":
    main()
