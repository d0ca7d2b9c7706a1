"""The scenario on disk: CSV tables with their descriptor, the truth beside them, one block as a workbook."""

from __future__ import annotations

import datetime
import json
from pathlib import Path

import pandas as pd
import xlsxwriter

from dashboard.records.declaration import Declaration
from dashboard.records.descriptor import descriptor
from dashboard.records.not_used import NotUsed
from dashboard.records.schema import TABLES
from generator.scenario import Scenario
from generator.truth import INCH, POUND_FORCE
from generator.weather import warmer

TITLE, REGION = "Larrow Valley peach and nectarine trials", "Larrow Valley (invented)"
BLOCK = "tessock"  # the grower block whose records are also kept as a workbook
TRUTH_NOTE = """# The truth behind invented data

These tables hold what the records in the folder above were drawn from: true trait values of every invented
cultivar (`values.csv`, SI units and %), its true ripening day at the station in an ordinary season
(`ripening.csv`), how many days each season ran behind at each site (`season_shifts.csv`), and the standard
deviations of the noise (`variance_components.csv`). No record reader uses them; they are here to check estimates.
"""


def declaration(seasons: tuple[int, int]) -> Declaration:
    """What a reader of the records has to be told once for the whole data set."""
    apart = NotUsed(("workbook.xlsx",))  # a share of the same records, for those who keep workbooks
    return Declaration(
        title=TITLE, region=REGION, invented=True, seasons=seasons, not_used=apart, currency="USD"
    )


def _write_csv(table: pd.DataFrame, path: Path) -> None:
    table.to_csv(path, index=False, lineterminator="\n", encoding="utf-8", date_format="%Y-%m-%d")


def write(whole: Scenario, folder: Path) -> None:
    """Write every file of the data set into ``folder`` (made where missing)."""
    (folder / "truth").mkdir(parents=True, exist_ok=True)
    for name, table in whole.tables.items():
        _write_csv(table, folder / f"{name}.csv")
    for name, table in whole.truth.items():
        _write_csv(table, folder / "truth" / f"{name}.csv")
    (folder / "truth" / "README.md").write_text(TRUTH_NOTE, encoding="utf-8")
    headings = {name: list(table.columns) for name, table in whole.tables.items()}
    package = descriptor(TABLES, declaration(whole.seasons), headings)
    package["description"] = "An invented scenario: no place, person or cultivar in it is real."
    text = json.dumps(package, indent=2, ensure_ascii=False) + "\n"
    (folder / "datapackage.json").write_text(text, encoding="utf-8")
    _write_workbook(whole, folder / "workbook.xlsx")
    (folder / "warm_place").mkdir(exist_ok=True)
    _write_csv(warmer(whole.tables["weather"]), folder / "warm_place" / "weather.csv")


def block_tables(whole: Scenario) -> dict[str, pd.DataFrame]:
    """Cultivars, sites, samples and fruit of one grower block, in inches and pounds-force."""
    tables = whole.tables
    samples = tables["samples"][tables["samples"]["site"] == BLOCK]
    fruit = tables["fruit"][tables["fruit"]["sample"].isin(samples["sample"])]
    us = fruit[["sample", "fruit"]].copy()
    for column in ("suture", "cross"):
        us[f"{column}_in"] = (fruit[f"{column}_mm"] / INCH).round(2)
    for column in ("firmness_1", "firmness_2"):
        us[f"{column}_lbf"] = (fruit[f"{column}_n"] / POUND_FORCE).round(1)
    us["ssc_brix"] = fruit["ssc_brix"]
    grown = tables["cultivars"]["cultivar"].isin(samples["cultivar"])
    return {
        "cultivars": tables["cultivars"][grown],
        "sites": tables["sites"][tables["sites"]["site"] == BLOCK],
        "samples": samples,
        "fruit": us,
    }


def _write_workbook(whole: Scenario, path: Path) -> None:
    said = declaration(whole.seasons)
    about = [
        ("title", "Tessock Bottom block, one grower's share of the trials"),
        ("region", said.region),
        ("invented", "yes"),
        ("tip_mm", said.tip_mm),
        ("temperature_compensated", "yes"),
        ("full_bloom_open_pct", said.full_bloom_open_pct),
        ("first_season", whole.seasons[0]),
        ("last_season", whole.seasons[1]),
    ]
    with xlsxwriter.Workbook(path, {"strings_to_formulas": False, "strings_to_urls": False}) as book:
        # A fixed date, so that the same records make the same file.
        book.set_properties({"title": TITLE, "created": datetime.datetime(2026, 1, 5, tzinfo=datetime.UTC)})
        bold = book.add_format({"bold": True})
        day = book.add_format({"num_format": "yyyy-mm-dd"})
        sheet = book.add_worksheet("about")
        sheet.set_column(0, 1, 26)
        sheet.write_row(0, 0, ["item", "value"], bold)
        for line, item in enumerate(about, start=1):
            sheet.write_row(line, 0, item)
        for name, table in block_tables(whole).items():
            sheet = book.add_worksheet(name)
            sheet.freeze_panes(1, 0)
            sheet.set_column(0, len(table.columns) - 1, 13)
            sheet.write_row(0, 0, list(table.columns), bold)
            for number, column in enumerate(table.columns):
                _write_column(sheet, number, table[column], day)


def _write_column(sheet, number: int, values: pd.Series, day) -> None:
    for line, value in enumerate(values.tolist(), start=1):
        if pd.isna(value):
            continue
        if isinstance(value, pd.Timestamp):
            sheet.write_datetime(line, number, value.to_pydatetime(), day)
        else:
            sheet.write(line, number, value)
