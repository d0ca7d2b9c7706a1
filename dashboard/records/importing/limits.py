"""Readings that a sheet gives as limits, <10 or >13, on their way into the table of those."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd

from dashboard.records.beyond import ABOVE, BELOW, NAME, READINGS
from dashboard.records.importing.figures import How, figure
from dashboard.records.importing.ledger import NOWHERE, Ledger
from dashboard.records.importing.own import Own
from dashboard.records.importing.roles import ROLES
from dashboard.records.importing.standing import CLOSE
from dashboard.records.importing.trial import Coming, Trial
from dashboard.records.not_used import plain
from dashboard.records.schema import TABLES
from dashboard.records.sheets import Sheet

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
    ends = frame["firmness_n"].fillna(frame["ssc_brix"])
    return dict(zip(frame[_KEY].itertuples(index=False, name=None), zip(frame["side"], ends, strict=True), strict=True))  # fmt: skip


def with_limits(own: Own) -> list[Own]:
    """A table of ours, and behind that of the fruit one of the limits that stand in its cells."""
    if own.sheet.table != "fruit":
        return [own]
    sheet, spelled = own.sheet, TABLES["fruit"].by_spelling
    heads = [plain(heading) for heading in sheet.headings]
    cells, codes = list(sheet.cells), own.codes.copy()
    rows: list[
        tuple[int, list[str], int]
    ] = []  # place in the table, the cells of a limit, the cell that says it
    ends = dict.fromkeys(READINGS, "")
    for _at, (reading, (column, end)) in enumerate(READINGS.items()):
        position = next((place for place, head in enumerate(heads) if head in spelled and spelled[head].name == column), None)  # fmt: skip
        if position is None or own.declaration.not_used.heading("fruit", sheet.headings[position]):
            continue
        unit = spelled[heads[position]].spellings[heads[position]]
        how = How(ROLES[reading], unit.suffix if unit else "")
        ends[reading] = end if unit is None else next(name for name, one in TABLES[NAME].by_name[end].spellings.items() if one == unit)  # fmt: skip
        cells[position] = cells[position].copy()
        for place in np.flatnonzero(
            [cell[:1] in ("<", ">", "≤", "≥") and bool(cell) for cell in cells[position]]
        ):
            if limit := figure(cells[position][place], how).limit:
                rows.append((int(place), [reading, ABOVE if limit[0] == ">" else BELOW, limit[1:]], int(codes[position, place])))  # fmt: skip
                cells[position][place], codes[position, place] = "", NOWHERE
    if not rows:
        return [own]
    return [
        replace(own, sheet=replace(sheet, cells=tuple(cells)), codes=codes),
        _table(own, heads, ends, rows),
    ]


def _table(own: Own, heads: list[str], ends: dict[str, str], rows: list[tuple[int, list[str], int]]) -> Own:
    """The limits as a table of ours; a row of it is known by that of the fruit and the place of the reading."""
    columns = [*dict.fromkeys(filter(None, ends.values()))]
    headings = (*_KEY, "side", *columns)
    of = {name: own.sheet.cells[heads.index(name)] for name in ("sample", "fruit")}
    lines = [
        [of["sample"][place], of["fruit"][place], reading, side, *(end if name == ends[reading] else "" for name in columns)]
        for place, (reading, side, end), _ in rows
    ]  # fmt: skip
    codes = np.full((len(headings), len(rows)), NOWHERE, dtype=np.int64)
    for row, (_, (reading, _, _), code) in enumerate(rows):
        codes[headings.index(ends[reading]), row] = code
    each = len(READINGS)
    numbers = np.array(
        [own.sheet.rows[place] * each + list(READINGS).index(said[0]) for place, said, _ in rows]
    )
    cells = tuple(np.array(column, dtype=object) for column in zip(*lines, strict=True))
    sheet = Sheet(NAME, own.sheet.file, own.sheet.sheet, headings, numbers, cells)
    return Own(sheet, own.declaration, np.full(len(headings), NOWHERE), codes, own.each * each)
