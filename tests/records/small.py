"""A small set of records in which nothing is wrong, to be damaged one thing at a time."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import xlsxwriter

from dashboard.records.template import write_template
from dashboard.records.workbooks import read_grids

DECLARED = {
    "title": "Small trial",
    "region": "Nowhere",
    "invented": True,
    "tip_mm": 8,
    "temperature_compensated": True,
    "full_bloom_open_pct": 50,
    "seasons": [2023, 2024],
}

Grid = list[list[str]]


def tables() -> dict[str, Grid]:
    """Headings and rows of every table, as text; three cultivars, two sites, four samples of three fruit."""
    fruit = [
        [
            sample,
            str(number),
            f"{60 + number}.5",
            f"{62 + number}",
            f"{40 + number}",
            f"{38 + number}",
            f"{11 + number}.{2 + place}",
        ]
        for place, sample in enumerate(("S1", "S2", "S3", "S4"))
        for number in (1, 2, 3)
    ]
    return {
        "cultivars": [
            ["cultivar", "fruit_type", "flesh_colour", "stone", "chill_requirement_h", "protected", "check", "note"],
            ["Alvane", "peach", "yellow", "free", "750", "no", "yes", "the main check"],
            ["Brintel", "nectarine", "white", "cling", "", "yes", "no", ""],
            ["T 12-034", "peach", "", "semi-free", "600", "", "", ""],
        ],
        "sites": [["site", "name", "latitude_deg", "host"], ["low", "Low field", "39.5", "station"], ["high", "High field", "39.7", "grower"]],
        "samples": [
            ["sample", "cultivar", "site", "date", "pick", "shape", "red", "split_pit_pct", "note"],
            ["S1", "Alvane", "low", "2023-07-01", "1", "8", "6.5", "10", ""],
            ["S2", "Alvane", "high", "2024-07-05", "1", "7", "6", "", "some bruised"],
            ["S3", "Brintel", "low", "2024-07-20", "1", "9", "8", "0", ""],
            ["S4", "T 12-034", "low", "2024-07-28", "2", "5", "4", "30", ""],
        ],
        "fruit": [["sample", "fruit", "suture_mm", "cross_mm", "firmness_1_n", "firmness_2_n", "ssc_brix"], *fruit],
        "bloom": [["cultivar", "site", "year", "full_bloom"], ["Alvane", "low", "2024", "2024-04-05"]],
        "weather": [["site", "date", "tmin_f", "tmax_f"], ["low", "2024-01-01", "23", "41"]],
    }  # fmt: skip


def row(grid: Grid, number: int) -> list[str]:
    """The row a spreadsheet numbers so."""
    return grid[number - 1]


def write_folder(
    folder: Path, grids: dict[str, Grid], declared: dict | None = DECLARED, delimiter: str = ","
) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    for name, grid in grids.items():
        text = io.StringIO(newline="")
        csv.writer(text, delimiter=delimiter, lineterminator="\n").writerows(grid)
        (folder / f"{name}.csv").write_text(text.getvalue(), encoding="utf-8", newline="")
    if declared is not None:
        (folder / "datapackage.json").write_text(json.dumps({"orchard_slate": declared}), encoding="utf-8")
    return folder


def write_workbook(path: Path, grids: dict[str, Grid], about: dict | None = DECLARED) -> Path:
    """Cells that are numbers are written as numbers, as a person typing them would have it."""
    with xlsxwriter.Workbook(path, {"strings_to_numbers": True, "strings_to_formulas": False}) as book:
        if about is not None:
            sheet = book.add_worksheet("about")
            sheet.write_row(0, 0, ["item", "value"])
            items = {name: value for name, value in about.items() if name != "seasons"}
            if "seasons" in about:
                items |= {"first_season": about["seasons"][0], "last_season": about["seasons"][1]}
            for line, item in enumerate(items.items(), 1):
                sheet.write_row(line, 0, item)
        for name, grid in grids.items():
            sheet = book.add_worksheet(name)
            for line, cells in enumerate(grid):
                sheet.write_row(line, 0, cells)
    return path


def filled(path: Path, grids: dict[str, Grid], about: dict | None = DECLARED) -> Path:
    """The empty workbook in SI units, filled in by somebody: each cell under its heading."""
    write_template(path, "si")
    sheets = {name: grid for name, grid in read_grids(path)[0].items() if name != "about"}
    for name, grid in grids.items():
        for cells in grid[1:]:
            told = dict(zip(grid[0], cells, strict=True))
            sheets[name].append([told.pop(head, "") for head in sheets[name][0]])
            assert told == {}  # every column found its place
    return write_workbook(path, sheets, about)


def told(problems, column: str | None = None, severity: str | None = None) -> list:
    """The problems at a column, of one severity."""
    return [
        problem
        for problem in problems
        if (column is None or problem.column == column) and (severity is None or problem.severity == severity)
    ]
