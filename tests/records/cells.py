"""One cell of an otherwise good row, checked."""

from __future__ import annotations

from dashboard.records.checking import checked
from dashboard.records.declaration import Declaration
from dashboard.records.findings import Findings
from dashboard.records.schema import TABLES
from dashboard.records.sheets import sheet_of

NEEDED = {
    "fruit": {"sample": "S1", "fruit": "1"},
    "samples": {"sample": "S1", "cultivar": "Alvane", "site": "low", "date": "2024-07-01"},
    "cultivars": {"cultivar": "Alvane"},
    "sites": {"site": "low"},
}


def read_cell(table: str, heading: str, cell: str, declaration: Declaration | None = None):
    """The value one cell gives (None when its row is set aside), and the problem it makes, if any."""
    cells = NEEDED[table] | {heading: cell}
    sheet = sheet_of(table, f"{table}.csv", "", [list(cells), list(cells.values())], [1, 2])
    findings = Findings(sheet)
    frame = checked(sheet, declaration or Declaration(), findings)
    column = next(column.name for column in TABLES[table].columns if heading in column.spellings)
    problems = findings.problems
    assert len(problems) <= 1
    return (frame[column].iloc[0] if len(frame) else None), (problems[0] if problems else None)
