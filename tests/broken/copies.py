"""So many broken copies by rule and seed, and what a reading of one came to."""

from __future__ import annotations

import contextlib
import re
import resource
import sys
import traceback
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, field
from pathlib import Path
from random import Random

from dashboard.records import Problem, RecordError, read
from tests.broken import base, others, tables

# Rules whose files are so large that writing them takes longer than reading them: not in the short form.
LARGE = (
    "table very_long",
    "descriptor too large",
    "workbook many cells",
    "workbook strings unpacked",
    "table far_too_wide",
)


_ASIDE = re.compile(r"(?:the row is|([\d,]+)(?: more)? rows are) set aside")


@dataclass
class Copy:
    """A broken copy: where it lies and the rows each table held before it was broken, as far as they are still there."""

    name: str
    path: Path
    held: base.Held = field(default_factory=dict)


def kinds() -> list[str]:
    return [
        *(f"table {name}" for name in tables.RULES),
        *(f"descriptor {name}" for name in others.DESCRIPTORS),
        *(f"workbook {name}" for name in others.WORKBOOKS),
        *(f"file {name}" for name in others.FILES),
    ]


def names(count: int, large: bool = True) -> Iterator[tuple[int, str]]:
    """Seed and kind of each, every kind in turn."""
    chosen = [kind for kind in kinds() if large or kind not in LARGE]
    return ((seed, chosen[seed % len(chosen)]) for seed in range(count))


def broken(place: Path, seed: int, kind: str, samples: int | None = None) -> Copy:
    """The copy of a kind and seed below ``place``; the same each time."""
    chance = Random(seed)
    what, _, name = kind.partition(" ")
    if what in ("workbook", "file"):
        book = base.workbook(place / f"{seed}")
        if what == "file":
            others.FILES[name](book, chance)
        else:
            others.rewritten(book, *others.WORKBOOKS[name], chance)
        return Copy(kind, book)
    folder = place / f"{seed}"
    held = base.folder(folder, samples)
    if what == "descriptor":
        (folder / "datapackage.json").write_bytes(others.DESCRIPTORS[name](chance))
        return Copy(kind, folder, held)
    table = chance.choice(("fruit", "fruit", *base.NAMES))
    left = tables.RULES[name](folder / f"{table}.csv", chance)
    return Copy(f"{kind}, {table}", folder, held if left is None else held | {table: left})


@dataclass
class Outcome:
    """What a reading came to. ``lost``: tables with more rows that are not loaded than its lines speak of."""

    fault: str = ""
    lines: list[str] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)


def outcome(copy: Copy) -> Outcome:
    try:
        records = read(copy.path)
    except RecordError as refused:
        return Outcome(lines=[problem.sentence for problem in refused.problems])
    except BaseException:
        return Outcome(fault=traceback.format_exc())
    lost = [
        name
        for name, rows in copy.held.items()
        if (loaded := len(records.tables[name])) < rows
        and not _spoken_of(name, records.problems, rows - loaded, bool(loaded))
    ]
    return Outcome(lines=[problem.sentence for problem in records.problems], lost=lost)


def _spoken_of(name: str, problems: Sequence[Problem], rows: int, some_loaded: bool) -> bool:
    """Whether lines say of so many rows of a table that they are set aside; of a table lost whole one line is enough."""
    said = [one for one in problems if name in f"{one.file} {one.sheet}".lower()]
    if not some_loaded:
        return bool(said)
    return rows <= sum(
        int(found[1].replace(",", "") if found[1] else 1)
        for one in said
        if (found := _ASIDE.search(one.sentence))
    )


def main() -> None:
    """One copy read in a process of its own, for what it costs; as JSON."""
    import json

    place, seed, kind = Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
    held = json.loads(sys.argv[4])
    found = outcome(Copy(kind, place, held))
    used = resource.getrusage(resource.RUSAGE_SELF)
    peak = next(
        int(line.split()[1])
        for line in Path("/proc/self/status").read_text().splitlines()
        if line.startswith("VmHWM")
    )
    with contextlib.suppress(BrokenPipeError):
        print(
            json.dumps(
                asdict(found)
                | {
                    "lines": len(found.lines),
                    "first": found.lines[:1],
                    "seconds": used.ru_utime + used.ru_stime,
                    "peak_mb": peak / 1024,
                    "seed": seed,
                }
            )
        )


if __name__ == "__main__":
    main()
