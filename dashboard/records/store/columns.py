"""Which place of a store's rows each cell of a sheet goes to, and in which unit."""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.records.checking import MISSING
from dashboard.records.declaration import Declaration
from dashboard.records.importing.trial import cells_of
from dashboard.records.not_used import plain
from dashboard.records.schema import TABLES, Column
from dashboard.records.sheets import Sheet
from dashboard.records.store.opening import StoreError


def placed(
    sheet: Sheet, columns: list[str], declaration: Declaration
) -> tuple[list[tuple[int, int]], list[str]]:
    """For each heading of a sheet that has a name or cells its place there and in the store, and the store's headings, new ones last.

    A column is the same under another spelling of its unit. StoreError where two headings mean one column.
    """
    columns = list(columns)
    known = {_meant(sheet.table, heading, declaration): place for place, heading in enumerate(columns)}
    pairs: list[tuple[int, int]] = []
    taken: set[int] = set()
    for here, heading in enumerate(sheet.headings):
        if not heading and not (sheet.cells[here] != "").any():
            continue
        meant = _meant(sheet.table, heading, declaration)
        if meant not in known:
            known[meant] = len(columns)
            columns.append(heading)
        if known[meant] in taken:
            raise StoreError(f"{sheet.file}: two columns of {sheet.table} are {heading or 'without a heading'}; give each a heading of its own first.")  # fmt: skip
        taken.add(known[meant])
        pairs.append((here, known[meant]))
    return pairs, columns


def column_under(table: str, heading: str, declaration: Declaration) -> Column | None:
    """The column of the schema that a heading means; None where it is none, or not used."""
    unused = declaration.not_used.heading(table, heading)
    return None if unused else TABLES[table].by_spelling.get(plain(heading))


def _meant(table: str, heading: str, declaration: Declaration) -> tuple[str, str]:
    column = column_under(table, heading, declaration)
    return ("column", column.name) if column else ("heading", heading)


def in_the_stores_unit(
    cells: np.ndarray, here: str, there: str, values: pd.Series, sheet: Sheet, declaration: Declaration
) -> np.ndarray:
    """Cells as the store's heading ``there`` has them, where the sheet's is ``here``; ``values``: the same in SI. The text stays as it
    is under the same unit."""
    column = column_under(sheet.table, there, declaration)
    if column is None or column.spellings[plain(here)] is column.spellings[plain(there)]:
        return cells
    written = values.notna().to_numpy()
    if any(cell not in MISSING for cell in cells[~written]):
        raise StoreError(f"{sheet.file}: {here} has cells that are no readings, and the store has it as {there}; correct them, or write {there}.")  # fmt: skip
    same = cells.copy()
    same[written] = cells_of(values[written], column, column.spellings[plain(there)], declaration)
    return same
