"""Ten years in one text file, with forty faults of a dozen kinds: each has its place, and the truth is what should have stood there."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd

from tests.ways.names import SITES, cultivars
from tests.ways.samples import FRUIT, READINGS
from tests.ways.sheets import HEAD, text_file
from tests.ways.truth import KEY
from tests.ways.way import Made, Way

NOTE = f"""Everything from 2009 to 2018 at four sites ({", ".join(SITES)}), as our old program wrote it out: mm, N, Brix; 8 mm tip, refractometer corrects itself.
Figures and names were typed by hand. A word where a number should be is not a reading. A row without a name or site belongs to nobody until we look.
Lowbnk is {SITES[0]}.
"""
# By kind of fault: the columns that are written otherwise, and what stands there then, of the row and of its true figures.
FAULTS = {
    "a word": {4: "sixty"},
    "a letter for a figure": {5: lambda row: str(row[5]).replace(".", "O", 1)},
    "a slipped point": {4: lambda row: f"{float(row[4]) * 10:g}"},
    "a point too far left": {5: lambda row: f"{float(row[5]) / 10:g}"},
    "out of range": {8: "99"},
    "a diameter and sugar exchanged": {4: lambda row: row[8], 8: lambda row: row[4]},
    "suture and cross exchanged": {4: lambda row: row[5], 5: lambda row: row[4]},
    "no name": {0: ""},
    "a number twice": {3: lambda row: row[3] - 1},
    "a day that is none": {2: lambda row: f"{row[2][:5]}06-31"},
    "no site": {1: ""},
    "a site misspelled": {1: "Lowbnk"},
    "a date for a number": {6: "2014-08-05"},
    "a comma": {4: lambda row: f'"{str(row[4]).replace(".", ",")}"'},
    "a limit": {7: "<40"},
    "a minus": {8: lambda row: f"-{row[8]}"},
}
UNSEEN = ("suture and cross exchanged",)
COUNT = 40
_WHOLE = 20_000  # samples


def make(folder: Path, size: float) -> Made:
    """Cultivars in turn, each day at a site; (sample, fruit, reading) figures."""
    count = max(200, round(_WHOLE * size))
    names, chance = cultivars(50, 1212), np.random.default_rng(12)
    middle = np.stack([chance.normal(63, 3, len(names)), chance.normal(58, 9, len(names)), chance.normal(12, 1, len(names))], axis=1)  # fmt: skip
    at = middle[np.arange(count) % len(names)] + chance.normal(0, 1, (count, 3)) * (1.5, 4, 0.5)
    si = np.empty((count, FRUIT, 5))
    fruit = at[:, None, :] + chance.normal(0, 1, (count, FRUIT, 3)) * (2.5, 5, 0.8)
    for place, (which, apart) in enumerate(((0, 1), (0, 1), (1, 2), (1, 2), (2, 0))):
        si[:, :, place] = fruit[:, :, which] + chance.normal(0, 1, (count, FRUIT)) * apart
    si = si.clip(5).round(1)
    whose = _whose(names, count)
    rows = [
        [*whose[sample], number + 1, *si[sample, number].tolist()]
        for sample in range(count)
        for number in range(FRUIT)
    ]
    truth = pd.DataFrame(
        {name: np.repeat(np.array([key[place] for key in whose], dtype=object), FRUIT * 5) for place, name in enumerate(KEY[:3])}
        | {"fruit": np.tile(np.repeat(np.arange(1, FRUIT + 1), 5), count), "quantity": np.tile(np.array(READINGS, dtype=object), count * FRUIT)}
        | {"value": si.ravel(), "word": ""}
    )  # fmt: skip
    kinds = list(FAULTS)
    lowbank = [sample for sample in range(count) if whose[sample][1] == SITES[0]]
    places = chance.permutation(count)[:COUNT]
    faulty: dict[bool, list[int]] = {
        False: [],
        True: [],
    }  # rows of the truth; of those that no reader can see
    for number in range(COUNT):
        kind = kinds[number % len(kinds)]
        sample = int(chance.choice(lowbank)) if kind == "a site misspelled" else int(places[number])
        at_row = sample * FRUIT + int(chance.integers(1, FRUIT))
        row = rows[at_row]
        faulty[kind in UNSEEN] += range(5 * at_row, 5 * at_row + 5)
        told = {column: made(row) if callable(made) else made for column, made in FAULTS[kind].items()}
        for column, cell in told.items():
            row[column] = cell
    text_file(folder / "ten years.csv", HEAD, rows)
    called = {name: name for name in (*names, *SITES)} | {"Lowbnk": SITES[0]}
    return Made(truth, called, may_wait=truth.iloc[faulty[False]], may_be_wrong=truth.iloc[faulty[True]])


def _whose(names: list[str], count: int) -> list[tuple[str, str, str]]:
    """Each cultivar at each site, then the next year, then the next week."""
    found = []
    for one in range(count):
        week, year = divmod(one // (len(names) * len(SITES)), 10)
        found.append((names[one % len(names)], SITES[one // len(names) % len(SITES)], f"{2009 + year}-{6 + week // 4:02d}-{3 + week % 4 * 7:02d}"))  # fmt: skip
    return found


WAY = Way(
    "w12", "200,000 rows with 40 faults", NOTE,
    (
        ("/words/sixty", "aside"), ("/empty", "set aside"), ("/decimals", ","),
    ),
    make,
)  # fmt: skip
