"""Five spellings of a name among forty, and names that are near twins and must stay two."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from tests.ways.names import SITES, cultivars
from tests.ways.samples import sampled, weekly
from tests.ways.sheets import fruit_rows, text_file
from tests.ways.truth import of_samples
from tests.ways.way import Made, Way

TWINS = (
    ("Ostermell", "Ostermill"),
    ("Tavenne", "Tavenna"),
    ("Ruddgold", "Ruddgold Two"),
    ("K18-256", "K18-257"),
)
_SPELLED = 9  # of the names have five spellings

NOTE = f"""{SITES[2]}, 2022, mm and N, 8 mm tip, refractometer corrects itself. Names were typed by whoever had the tablet.
Two cultivars each, though they look alike: {"; ".join(f"{one} and {other}" for one, other in TWINS)}.
Whatever else looks like a slip is one: capitals, blanks, a hyphen, a letter twice or left out.
"""


def spellings(name: str) -> tuple[str, ...]:
    """As it is, and four slips of it."""
    middle = len(name) // 2
    return (name, name.upper(), f"{name[:middle]}-{name[middle:]}", f"{name[:middle]}{name[middle - 1]}{name[middle:]}", name[:-2] + name[-1])  # fmt: skip


def make(folder: Path, size: float) -> Made:
    plain = cultivars(max(4, round(32 * size)), 505)
    names = [*plain, *(name for pair in TWINS for name in pair)]
    weeks = weekly(2022, max(4, round(6 * min(1.0, 2 * size))))
    samples = [sample for name in plain for sample in sampled([name], SITES[2:3], weeks[:3], 5)]
    samples += sampled([name for pair in TWINS for name in pair], SITES[2:3], weeks, 5)
    called = {name: name for name in (*names, SITES[2])}
    chance, rows = np.random.default_rng(55), []
    for name in names:
        slips = spellings(name) if name in plain[:_SPELLED] else (name,)
        called |= dict.fromkeys(slips, name)
        own = fruit_rows([sample for sample in samples if sample.cultivar == name])
        for row in own:  # each slip in few rows, the name in most
            slip = slips[int(chance.choice(len(slips), p=[0.8, *[0.05] * 4]))] if len(slips) > 1 else name
            rows.append([slip, *row[1:]])
    rows.sort(key=lambda row: (row[2], called[row[0]], row[3]))
    text_file(folder / "all picks.csv", ("Variety", "Site", "Date", "Fruit", "Suture (mm)", "Cross (mm)", "Firmness 1 (N)", "Firmness 2 (N)", "Brix"), rows)  # fmt: skip
    return Made(of_samples(samples), called)


WAY = Way(
    "w05", "five spellings of a name", NOTE,
    (),
    make,
)  # fmt: skip
