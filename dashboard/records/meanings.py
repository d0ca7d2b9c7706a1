"""What each column means, in words: for the documentation and the empty workbook."""

from __future__ import annotations

from dashboard.records.problems import listed
from dashboard.records.schema import TABLES, Column, Table

ABOUT_ITEMS = (
    ("title", "Name of the trials", "shown at the head of the page"),
    ("region", "", "where the sites lie"),
    ("invented", "no", "yes for made-up records: said wherever they are shown"),
    ("tip_mm", 8, "penetrometer tip; firmness read with another than 8 mm (5/16 in) is not used"),
    ("temperature_compensated", "yes", "whether the refractometer compensates for temperature"),
    (
        "refractometer_zero",
        "not known",
        "where it does not, how its zero was set: at 20 C, water of the day or not known; with the first two sugar is brought to 20 °C by juice_temp",
    ),
    ("full_bloom_open_pct", 50, "share of flowers open that is called full bloom"),
    ("fruit_taken", "all", "which fruit were sampled: all, commercial (of commercial size only) or best"),
    (
        "smallest_taken_mm",
        "",
        "with commercial: the smallest diameter that was sampled; sizes are then worked back to all fruit",
    ),
    ("date_precision", "day", "how exactly the days of picking are known: day, week or year"),
    (
        "not_used",
        "",
        "headings, sheets and files that are left out on purpose, with ; between them: samples: color card; photo list",
    ),
    ("currency", "", "of every price: three letters, for example USD; empty is told as currency not stated"),
    ("first_season", "", "dates before this year are refused; empty for no limit"),
    ("last_season", "", "dates after this year are refused; empty for no limit"),
    ("shape_low", 0, "lowest rating in use; likewise fuzz_low, red_low and attractiveness_low"),
    ("shape_high", 10, "highest rating in use; likewise for the others"),
    ("shape_best", 10, "the end that is most desirable; likewise for the others"),
)


def written_as(column: Column) -> str:
    """How a cell is written: a date, one of some words, a number in one of some units."""
    if column.kind == "class":
        return listed(column.words, "or")
    if column.kind in ("text", "note"):
        return f"a {TABLES[column.refers].key[0]} of {column.refers}" if column.refers else "text"
    if column.kind == "date":
        return "2024-07-03" + ("; 2024-W27 for a week, 2024 for a year" if column.precision else "")
    if column.kind == "year":
        return "year, like 2024"
    if column.kind == "yes/no":
        return "yes or no"
    return "whole number" if column.kind == "whole" else "number"


def limits(column: Column) -> str:
    """Refused and flagged ranges in SI units."""
    if column.rating:
        return "refused outside the declared scale (0 to 10)"
    said = []
    unit = next(iter(column.spellings.values()))
    symbol = f" {unit.symbol}" if unit and unit.symbol else ""
    if column.refuse and column.kind != "year":
        said.append(f"refused outside {column.refuse[0]:g} to {column.refuse[1]:.0f}{symbol}")
    if column.flag:
        said.append(f"flagged outside {column.flag[0]:g} to {column.flag[1]:g}{symbol}")
    return ", ".join(said)


def columns_markdown() -> str:
    """Every table as a Markdown section with its columns: heading, how it is written, meaning, limits."""
    return "\n".join(_section(table) for table in TABLES.values())


def _section(table: Table) -> str:
    lines = [
        f"### `{table.name}`" + ("" if table.required else " (may be left out)"),
        "",
        f"One row is {table.row}. No two rows share {listed(f'`{name}`' for name in table.key)}.",
        "",
        "| column | written | meaning | limits |",
        "|---|---|---|---|",
    ]
    for column in table.columns:
        names = listed((f"`{spelling}`" for spelling in column.spellings), "or") + (
            " *" if column.needed else ""
        )
        lines.append(f"| {names} | {written_as(column)} | {column.meaning} | {limits(column)} |")
    return "\n".join([*lines, ""])
