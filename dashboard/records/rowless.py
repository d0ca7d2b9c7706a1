"""Tables that have headings and no rows: the rows may have been lost."""

from __future__ import annotations

from collections.abc import Mapping

from dashboard.records.problems import Problem
from dashboard.records.schema import RATINGS, REQUIRED
from dashboard.records.sheets import Sheet

NO_ROWS = "has headings and no rows"


def rowless(sheets: Mapping[str, Sheet]) -> list[Problem]:
    """Tables that are needed, with headings and nothing under them; a trial of means alone, or of ratings, has no fruit."""
    told = []
    for sheet in sheets.values():
        if len(sheet) or sheet.torn or sheet.table not in REQUIRED:
            continue
        if sheet.table != "fruit" or not (
            _filled(sheets, "means", "n") or _filled(sheets, "samples", *RATINGS)
        ):
            hint = "look whether the rows were lost when it was saved"
            told.append(Problem("flag", sheet.file, sheet.sheet, rule=NO_ROWS, suggestion=hint))
    return told


def _filled(sheets: Mapping[str, Sheet], table: str, *columns: str) -> bool:
    """Whether something stands in one of these columns."""
    sheet = sheets.get(table)
    places = [place for place, heading in enumerate(sheet.headings) if heading in columns] if sheet else []
    return sheet is not None and any(any(sheet.cells[place]) for place in places)
