"""Values that somebody said are wrong: a sheet that still has one of them is not asked about again, and takes nothing back."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from pathlib import Path

from dashboard.records.all_or_none import OWN, pending

OVERRULED = f"{OWN}/overruled.json"

Place = tuple[str, str, str]  # table, key and column
Values = Mapping[Place, Iterable[str]]


def as_kept(value: object) -> str:
    """A value as it is compared, in SI: six figures, so that what was written in another unit is the same one."""
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def overruled_in(folder: Path) -> dict[Place, set[str]]:
    """By place what was said to be wrong there; none where nobody said so, or the file is none any more."""
    try:
        lines = json.loads(pending(folder).place(folder, OVERRULED).read_text(encoding="utf-8"))
        return {(str(table), str(key), str(column)): set(map(str, values)) for table, key, column, values in lines}  # fmt: skip
    except (OSError, ValueError, TypeError):
        return {}


def with_overruled(folder: Path, more: Values) -> bytes:
    """What is known of a trial, and these values beside it."""
    found = overruled_in(folder)
    for place, values in more.items():
        found.setdefault(place, set()).update(values)
    lines = [[*place, sorted(values)] for place, values in sorted(found.items())]
    return ("[\n" + ",\n".join(json.dumps(line, ensure_ascii=False) for line in lines) + "\n]\n").encode(
        "utf-8"
    )
