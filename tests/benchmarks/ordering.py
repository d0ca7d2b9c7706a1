"""``python -m tests.benchmarks.ordering``: how near the least cost an order of trees is proven to be, how soon, and what a greedy order costs."""

from __future__ import annotations

import argparse
import os
import time

import numpy as np

from dashboard.answers import catalogue as catalogues
from dashboard.answers.demand import each_week
from dashboard.answers.ordering import OrderWanted, task
from dashboard.order import Task, ordering
from dashboard.order.exchanging import Exchange
from dashboard.order.task import AS_KEPT
from dashboard.places import demo_data


def made_up(cultivars: int, weeks: int, seasons: int, scale: float = 1.0, seed: int = 1, **asked) -> Task:
    """Cultivars spread over the weeks, a shift of all and of each, good seasons and bad; bundles of ten."""
    random = np.random.default_rng(seed)
    middle, length = random.uniform(-3, 7 * weeks + 3, cultivars), random.uniform(6, 14, cultivars)
    shift = 5 * random.standard_normal((seasons, 1)) + 2.5 * random.standard_normal((seasons, cultivars))
    first = middle + shift - length / 2
    last = first + np.maximum(length + 1.5 * random.standard_normal((seasons, cultivars)), 2)
    good = np.exp(
        0.25 * random.standard_normal((seasons, 1)) + 0.2 * random.standard_normal((seasons, cultivars))
    )
    fruit = random.uniform(30, 60, cultivars) * good * random.uniform(0.5, 0.9, cultivars)
    edges = 7.0 * np.arange(weeks + 1)
    days = np.minimum(last[..., None], edges[1:]) - np.maximum(first[..., None], edges[:-1])
    supply = fruit[..., None] * np.clip(days, 0, None) / (last - first)[..., None]
    wanted, price = scale * random.uniform(600, 1500, weeks), random.uniform(7.5, 11, cultivars)
    every = np.arange(cultivars)
    return Task(supply, wanted, every, price, np.full(cultivars, 10), np.full(cultivars, 10**6), np.zeros(cultivars), **asked)  # fmt: skip


def greedy(asked: Task) -> float:
    """What it costs to buy, one at a time, the bundle that lessens most what is missing of all promises for its money, until they are kept."""
    bundles = np.zeros(len(asked.of), dtype=int)
    kept = Exchange(asked).filled(bundles, asked.brought(bundles.astype(float)))
    return float(asked.cost @ bundles) if kept else np.nan


def by_hand(asked: Task) -> float:
    """What it costs as a careful grower would buy: from the first week to the last, while a week lacks of its promise, the bundle that lessens most what is
    unmet there, in a mean season, for its money."""
    bundles, weeks = np.zeros(len(asked.of), dtype=int), len(asked.weeks)
    brought, wanted = asked.brought(bundles.astype(float)), asked.wanted[asked.weeks]
    for week in range(weeks):
        while (asked.promises(brought) < asked.promised - AS_KEPT)[week::weeks].any():
            then = np.minimum(brought[:, week] + asked.by_bundle[:, :, week], wanted[week]).mean(axis=1)
            more = (then - np.minimum(brought[:, week], wanted[week]).mean()) / asked.cost
            best = int(np.where(bundles < asked.useful, more, 0).argmax())
            if more[best] <= 0:
                return np.nan
            bundles[best] += 1
            brought = brought + asked.by_bundle[best]
    return float(asked.cost @ bundles)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--of", default="", help="only tasks whose name holds this")
    wanted = parser.parse_args().of
    stand = catalogues.load(demo_data())
    demo = task(OrderWanted(stand, stand.markets["roadside_stand"], each_week("2000 lb", "Jun 10", "Aug 31")))
    rows = (
        ("40 cultivars, 14 weeks, 200 seasons", made_up(40, 14, 200), 0.01, 30),
        ("the same, other cultivars", made_up(40, 14, 200, seed=2), 0.01, 30),
        ("the same, ten times the fruit", made_up(40, 14, 200, 10.0), 0.01, 30),
        ("350 cultivars, 14 weeks, 100 seasons", made_up(350, 14, 100), 0.03, 120),
        ("the same, other cultivars", made_up(350, 14, 100, seed=2), 0.03, 120),
        ("the same, ten times the fruit", made_up(350, 14, 100, 10.0), 0.03, 120),
        ("40, at most 16, least lot 10", made_up(40, 14, 200, most_cultivars=16, least_lot=10), 0.1, 120),
        ("demo, roadside stand, 2,000 lb a week", demo, 0.01, 60),
    )
    print(f"load {os.getloadavg()[0]:.1f}")
    print("| task | trees | cost, $ | gap asked | proven gap | seconds | processor, s | beside greedy | beside by hand |\n|---|---|---|---|---|---|---|---|---|")  # fmt: skip
    for name, asked, gap, seconds in rows:
        if wanted not in name:
            continue
        began = time.process_time()
        *_, found = ordering(asked, seconds, gap)
        trees = 0 if found.bundles is None else int(asked.bundle @ found.bundles)
        spent = time.process_time() - began
        beside = ("–", "–") if asked.most_cultivars else (f"{found.cost / other(asked):.2f}" for other in (greedy, by_hand))  # fmt: skip
        print(f"| {name} | {trees:,} | {found.cost:,.0f} | {100 * gap:.0f} % | {100 * found.gap:.2f} % | {found.seconds:.0f} | {spent:.0f} | {' | '.join(beside)} |", flush=True)  # fmt: skip


if __name__ == "__main__":
    main()
