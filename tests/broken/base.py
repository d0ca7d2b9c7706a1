"""A copy of the demo records, whole or its first samples, to be broken."""

from __future__ import annotations

import shutil
from pathlib import Path

from dashboard.places import demo_data
from dashboard.records.schema import TABLES

Held = dict[str, int]  # rows by table
NAMES = tuple(name for name in TABLES if (demo_data() / f"{name}.csv").is_file())  # what the demo has


def folder(place: Path, samples: int | None = None) -> Held:
    """The demo's tables in a folder, with the rows of each; with ``samples`` only so many and their fruit."""
    place.mkdir(parents=True)
    for name in NAMES:
        lines = (demo_data() / f"{name}.csv").read_text(encoding="utf-8").splitlines(keepends=True)
        if samples is not None and name in ("samples", "fruit", "weather", "yields", "bloom"):
            lines = lines[: 1 + samples * (10 if name == "fruit" else 1)]
        (place / f"{name}.csv").write_text("".join(lines), encoding="utf-8")
    shutil.copy(demo_data() / "datapackage.json", place)
    return {name: rows(place / f"{name}.csv") for name in NAMES}


def rows(file: Path) -> int:
    """Lines below the headings with anything but commas in them."""
    return sum(
        bool(line.strip(" ,;\t\0\ufeff")) for line in file.read_text(encoding="utf-8").splitlines()[1:]
    )


def workbook(place: Path) -> Path:
    place.mkdir(parents=True)
    return Path(shutil.copy(demo_data() / "workbook.xlsx", place / "workbook.xlsx"))
