"""Tables that have headings and no rows: the rows may have been lost."""

from __future__ import annotations

from collections.abc import Mapping

from dashboard.records.problems import Problem
from dashboard.records.schema import REQUIRED
from dashboard.records.sheets import Sheet

NO_ROWS = "has headings and no rows"


def rowless(sheets: Mapping[str, Sheet]) -> list[Problem]:
    """Tables that are needed, with headings and nothing under them. Where means stand a trial may have no fruit: a sample without either is
    told by itself."""
    of_means = len(sheets.get("means", ()))
    empty = [
        one
        for one in sheets.values()
        if not (len(one) or one.torn) and one.table in REQUIRED and not (of_means and one.table == "fruit")
    ]
    hint = "look whether the rows were lost when it was saved"
    return [Problem("flag", one.file, one.sheet, rule=NO_ROWS, suggestion=hint) for one in empty]
