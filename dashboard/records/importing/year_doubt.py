"""Days of another year than the sheet is called by: a spreadsheet puts the year of typing where none was typed, and shows no year."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from dashboard.records.importing.dates import year_in
from dashboard.records.importing.facts import Facts
from dashboard.records.importing.layouts import Layout
from dashboard.records.importing.ledger import Ledger


def suspect_years(shapes: Sequence[Layout], parts: Sequence[Facts], ledger: Ledger) -> None:
    """Flag, at its first day, a block whose days are cells that hold a date, none of them of the year in the sheet's name or a title above."""
    blocks = [block for layout in shapes for block in layout.blocks]
    for block, part in zip(blocks, parts, strict=True):
        page = block.page
        titles = [str(page.cells[row, column]) for _, row, column in block.titles if (row, column) not in page.days]  # fmt: skip
        named = {year for text in (page.sheet, *titles) if (year := year_in(text))}
        codes = part.appearances["date@"].to_numpy(dtype=np.int64)
        held = [(int(code), str(day)) for code, day in zip(codes, part.appearances["date"], strict=True) if code >= 0 and ledger.place(code)[1:] in page.days]  # fmt: skip
        years = {day[:4] for _, day in held}
        if len(named) == 1 and held and str(year := named.pop()) not in years:
            rule = f"is of {min(years)}, and no day of this sheet is of {year}, which stands in its name or above it"
            ledger.flag(min(held)[0], rule, "a spreadsheet puts the year of typing where none was typed; look which year it was")  # fmt: skip
