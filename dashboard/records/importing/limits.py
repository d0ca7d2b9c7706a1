"""Readings that a sheet gives as limits, <10 or >13, on their way into the table of those."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np
import pandas as pd

from dashboard.records.beyond import ABOVE, BELOW, NAME, READINGS, ends_of
from dashboard.records.importing.figures import How, figure
from dashboard.records.importing.ledger import NOWHERE, Ledger
from dashboard.records.importing.own import Own
from dashboard.records.importing.roles import ROLES
from dashboard.records.importing.standing import CLOSE
from dashboard.records.importing.trial import Coming, Trial
from dashboard.records.not_used import plain
from dashboard.records.schema import TABLES
from dashboard.records.sheets import Sheet

_SIGNS = ("<", ">", "≤", "≥")
_KEY = ["sample", "fruit", "reading"]
_READ = (
    "is a limit of a fruit whose reading stands already, and that is what counts",
    "take out one of the two",
)
_OTHER = "differs from what stands already of this reading ({} {:.4g}); the first is kept", "correct one of the two"  # fmt: skip


def past_ends(facts: pd.DataFrame, fruit: Coming, trial: Trial, ledger: Ledger) -> Coming:
    """The new rows of the table; a limit that stands already is read, one beside a reading or another limit is set aside. ``facts``: of
    fruit, their text with < or >."""
    found = pd.DataFrame(
        {
            "sample": facts["name"], "fruit": facts["fruit"], "reading": facts["role"],
            "side": np.where(facts["text"].str.startswith(">"), ABOVE, BELOW), "end": facts["value"], "code": facts["code"],
        }
    )  # fmt: skip
    stands = _standing(trial)
    read = pd.concat([trial.frames["fruit"], fruit.rows])
    written = {
        one: set(map(tuple, read.loc[read[column].notna().to_numpy(), ["sample", "fruit"]].to_numpy().tolist()))
        for one, (column, _) in (READINGS.items() if len(found) else ())
    }  # fmt: skip
    rows = []
    for sample, number, reading, side, end, code in found.itertuples(index=False):
        key = (sample, number, reading)
        before = stands.get(key)
        if (sample, number) in written[reading]:
            ledger.aside([code], *_READ)
        elif before is None:
            stands[key] = (side, end)
            rows.append({"sample": sample, "fruit": number, "reading": reading, "side": side, READINGS[reading][1]: end})  # fmt: skip
            ledger.read(np.array([code]))
        elif before[0] == side and np.isclose(before[1], end, rtol=CLOSE):
            ledger.read(np.array([code]))
        else:
            ledger.aside([code], _OTHER[0].format(*before), _OTHER[1])
    return Coming(pd.DataFrame(rows, columns=list(TABLES[NAME].by_name)))


def _standing(trial: Trial) -> dict[tuple, tuple[str, float]]:
    frame = trial.frames[NAME]
    keys = frame[_KEY].itertuples(index=False, name=None)
    return dict(zip(keys, zip(frame["side"], ends_of(frame), strict=True), strict=True))


class _Said(NamedTuple):
    """A limit in a table of ours: its place and column there, what was read, and which end it lies past."""

    place: int
    position: int
    reading: str
    side: str
    end: str


def with_limits(own: Own) -> list[Own]:
    """A table of ours, and behind that of the fruit one of the limits that stand in its cells."""
    if own.sheet.table != "fruit":
        return [own]
    sheet, spelled = own.sheet, TABLES["fruit"].by_spelling
    heads = [plain(heading) for heading in sheet.headings]
    rows: list[_Said] = []
    ends: dict[str, str] = {}
    for reading, (column, end) in READINGS.items():
        position = next((place for place, head in enumerate(heads) if head in spelled and spelled[head].name == column), None)  # fmt: skip
        if position is None or own.declaration.not_used.heading("fruit", sheet.headings[position]):
            continue
        unit = spelled[heads[position]].spellings[heads[position]]
        ends[reading] = next(name for name, one in TABLES[NAME].by_name[end].spellings.items() if one == unit)
        how = How(ROLES[reading], unit.suffix if unit else "")
        may = [cell for cell in pd.unique(sheet.cells[position]) if cell.startswith(_SIGNS)]
        found = {cell: limit for cell in may if (limit := figure(cell, how).limit)}
        for place in np.flatnonzero(np.isin(sheet.cells[position], list(found))) if found else ():
            limit = found[sheet.cells[position][place]]
            rows.append(_Said(int(place), position, reading, ABOVE if limit[0] == ">" else BELOW, limit[1:]))
    if not rows:
        return [own]
    cells, codes = [column.copy() for column in sheet.cells], own.codes.copy()
    for one in rows:
        cells[one.position][one.place], codes[one.position, one.place] = "", NOWHERE
    without = replace(own, sheet=replace(sheet, cells=tuple(cells)), codes=codes)
    return [without, _table(own, heads, ends, rows)]


def _table(own: Own, heads: list[str], ends: dict[str, str], rows: list[_Said]) -> Own:
    """The limits as a table of ours; a row of it is known by that of the fruit and the place of the reading."""
    columns = [*dict.fromkeys(ends.values())]
    headings = (*_KEY, "side", *columns)
    sample, fruit = (own.sheet.cells[heads.index(name)] for name in ("sample", "fruit"))
    lines = [
        [sample[one.place], fruit[one.place], one.reading, one.side, *(one.end if name == ends[one.reading] else "" for name in columns)]
        for one in rows
    ]  # fmt: skip
    codes = np.full((len(headings), len(rows)), NOWHERE, dtype=np.int64)
    for row, one in enumerate(rows):
        codes[headings.index(ends[one.reading]), row] = own.codes[one.position, one.place]
    each = len(READINGS)
    numbers = np.array([own.sheet.rows[one.place] * each + list(READINGS).index(one.reading) for one in rows])
    cells = tuple(np.array(column, dtype=object) for column in zip(*lines, strict=True))
    sheet = Sheet(NAME, own.sheet.file, own.sheet.sheet, headings, numbers, cells)
    return Own(sheet, own.declaration, np.full(len(headings), NOWHERE), codes, own.each * each)
