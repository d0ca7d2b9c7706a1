"""Tries a seeded sample of the mutants of each area, and tells which share is noticed and which are not.

python -m tests.mutation [AREA …] [--sample 100] [--seed 1] [--jobs 2] [--least 0.85]; ``--sample 0`` tries all. It ends with 1 when
an area has a smaller share than the least. ``--known FILE`` tries the fixed few instead and writes what became of each.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import time
from collections.abc import Callable
from pathlib import Path

from scipy.stats import binomtest

from tests.mutation.known import KNOWN, NOTHING
from tests.mutation.mutants import AREAS, changed, sample
from tests.mutation.trying import Outcome, tried

SAMPLE, SEED = 100, 1


def main(words: list[str] | None = None) -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("areas", nargs="*", metavar="AREA", help=", ".join(AREAS))
    parser.add_argument("--sample", type=int, default=SAMPLE)
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--least", type=float, default=0.0)
    parser.add_argument("--known", type=Path, metavar="FILE")
    parser.add_argument("--every", type=int, default=1, help="of the known, one in so many")
    asked = parser.parse_args(words)
    told = _teller()
    if asked.known:
        asked.known.write_text(json.dumps(known(asked.jobs, told, asked.every)), encoding="utf-8")
        return
    too_few = []
    for area in asked.areas or AREAS:
        began = time.monotonic()
        chosen, count = sample(area, asked.sample, asked.seed)
        outcomes = tried(chosen, AREAS[area][1:], asked.jobs, told)
        told(f"{area}: {summary(outcomes, count)}, {time.monotonic() - began:.0f} s")
        if sum(bool(one.by) for one in outcomes) < asked.least * len(outcomes):
            too_few.append(area)
    if too_few:
        told(f"under {100 * asked.least:.0f} %: {', '.join(too_few)}")
        sys.exit(1)


def known(jobs: int, told: Callable[[str], None], every: int = 1) -> list[str]:
    """The test that failed for each, or one in ``every``, of KNOWN and then of NOTHING, "" for none."""
    some = KNOWN[::every]
    mutants = [changed(*fault) for *fault, _ in some] + [changed(*same) for same in NOTHING]
    return [one.by for one in tried(mutants, [*dict.fromkeys(test for *_, test in some)], jobs, told)]


def summary(outcomes: list[Outcome], count: int) -> str:
    """The share that was noticed, with its 95 % interval where only a sample was tried."""
    noticed = sum(bool(one.by) for one in outcomes)
    low, high = binomtest(noticed, len(outcomes)).proportion_ci(method="wilson")
    unreached = sum(not one.asked for one in outcomes)
    late = sum(one.by == "time" for one in outcomes)
    between = f" ({100 * low:.0f}–{100 * high:.0f})" if len(outcomes) < count else ""
    return (
        f"{noticed} of {len(outcomes)} noticed, {100 * noticed / len(outcomes):.1f} %{between}; {late} never ended, "
        f"{unreached} reached by no test; of {count} mutants in all"
    )


def _teller() -> Callable[[str], None]:
    """Writes to where the output went at first; the tests' own goes nowhere."""
    out = os.fdopen(os.dup(1), "w", encoding="utf-8")
    sys.stdout.flush()
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    return lambda line: print(line, file=out, flush=True)


if __name__ == "__main__":
    main()
