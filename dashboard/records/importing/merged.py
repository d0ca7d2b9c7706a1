"""Our own tables beside those of the trial: checked as the trial's are, then joined row by row under their keys."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import pandas as pd

from dashboard.records.beside_fruit import BESIDE_FRUIT
from dashboard.records.checking import MISSING, checked, empty
from dashboard.records.declaration import Declaration
from dashboard.records.findings import NO_HEADING, Findings
from dashboard.records.importing.as_written import Written
from dashboard.records.importing.ledger import NOWHERE, Ledger
from dashboard.records.importing.own import Own
from dashboard.records.importing.standing import Standing
from dashboard.records.importing.trial import Coming, Trial, standing_text
from dashboard.records.keys import known, once, told_apart
from dashboard.records.not_used import plain
from dashboard.records.problems import quoted
from dashboard.records.reading import gone_names
from dashboard.records.schema import TABLES, Column, Table
from dashboard.records.writing import written

_NUMBERS = ("number", "whole", "year")


@dataclass
class Merged:
    """By table what is to be written, and by column the unit in which the sheets have it."""

    coming: dict[str, Coming] = field(default_factory=dict)
    units: dict[str, str] = field(default_factory=dict)
    samples: int = 0  # in the sheets, new or not
    cells: list[pd.DataFrame] = field(
        default_factory=list
    )  # sample, fruit and a cell of each row that was read


def merged(parts: Sequence[Own], trial: Trial, ledger: Ledger) -> Merged:
    """Every cell of the parts is marked as read, set aside or not used; tables stand after those they refer to, as in the records."""
    found = Merged()
    tables: dict[str, pd.DataFrame] = {}
    gone: dict[str, dict[str, str]] = {}
    for name, table in TABLES.items():
        stands = trial.frames.get(name, empty(name)).drop_duplicates(list(table.key))
        tables[name] = stands
        mine = [part for part in parts if part.sheet.table == name]
        if not mine:
            continue
        figures, words = _standing(stands, table, trial)
        for part in mine:
            findings = Findings(part.sheet)
            frame = known(checked(part.sheet, part.declaration, findings), name, tables, gone, findings)
            frame, shared = told_apart(frame, name, findings)
            frame = once(frame, name, findings)
            if name in BESIDE_FRUIT:
                frame = BESIDE_FRUIT[name](frame, tables["fruit"], findings)
            frame, others = _without_others(frame, tables[name], table, findings)
            gone[name] = gone.get(name, {}) | gone_names(frame, name, findings) | shared | others
            _tell(part, findings, ledger)
            found.cells.append(_join(part, frame, figures, words, trial.declaration, ledger))
            _read_the_rest(part, findings, ledger)
            key = table.key[0]
            found.samples += len(frame) if name == "samples" else 0
            tables[name] = pd.concat([tables[name][~tables[name][key].isin(list(others)).to_numpy()], frame])
            found.units |= {
                column: unit for column, unit in _units(part).items() if column not in found.units
            }
        found.coming[name] = _coming(stands, table, figures, words)
    return found


def _standing(stands: pd.DataFrame, table: Table, trial: Trial) -> tuple[Standing, Standing]:
    keys = _keys(stands, table)
    figures, words = _kinds(table)
    as_there = Written(table.name, trial)
    text = {column.name: _text(stands, column, standing_text(trial, table.name, column, stands.index), trial.declaration) for column in words}  # fmt: skip
    return (
        Standing(stands[[column.name for column in figures]].astype(float).set_axis(keys), as_there),
        Standing(pd.DataFrame(text, index=keys, dtype=object), as_there),
    )


def _kinds(table: Table) -> tuple[list[Column], list[Column]]:
    figures = [column for column in table.columns if column.kind in _NUMBERS]
    return figures, [column for column in table.columns if column.kind not in _NUMBERS]


def _keys(frame: pd.DataFrame, table: Table) -> pd.Index:
    parts = [written(frame[name], table.by_name[name]) for name in table.key]
    return pd.Index(["\x1f".join(part) for part in zip(*parts, strict=True)], dtype=object)


def _text(frame: pd.DataFrame, column: Column, cells: np.ndarray | None, declaration: Declaration) -> list[str]:  # fmt: skip
    """Cells as the trial writes them; ``cells`` (n,) as they stand: what was never said of a yes or no is nothing, not a no."""
    found = written(frame[column.name], column)
    if column.kind == "yes/no":
        given = [False] * len(found) if cells is None else [cell not in MISSING for cell in cells]
        return [text if there else "" for text, there in zip(found, given, strict=True)]
    if column.name == "date_precision":  # as the trial declares it anyway
        return ["" if text == declaration.date_precision else text for text in found]
    return found


def _without_others(frame: pd.DataFrame, stands: pd.DataFrame, table: Table, findings: Findings) -> tuple[pd.DataFrame, dict[str, str]]:  # fmt: skip
    """Rows whose name is that of another thing already: a sample of another cultivar, site or day."""
    need = [column for column in table.columns if column.needed and column.name not in table.key]
    if not need or len(table.key) > 1 or not len(frame) or not len(stands):
        return frame, {}
    key = table.key[0]
    there = stands.set_index(key).reindex(frame[key])
    why: dict[str, str] = {}
    lost: list[int] = []
    shared = frame[key].isin(stands[key]).to_numpy()
    texts = {one.name: (written(frame[one.name], one), written(there[one.name], one)) for one in need}
    for place in np.flatnonzero(shared):
        row, name = int(frame.index.to_numpy()[place]), str(frame[key].iloc[place])
        differs = next((one for one, (here, other) in texts.items() if here[place] != other[place]), None)
        if differs is not None:
            here, other = texts[differs][0][place], texts[differs][1][place]
            rule = f"stands already with {differs} {quoted(other)}, and here with {quoted(here)}; that is another"
            findings.set_row_aside(row, key, name, rule, f"give this {table.name.removesuffix('s')} a name of its own")  # fmt: skip
            why[name] = rule
            lost.append(row)
    return frame[~frame.index.isin(lost)], why


def _tell(part: Own, findings: Findings, ledger: Ledger) -> None:
    """What the check found, at the cells of the page."""
    sheet = part.sheet
    positions = _positions(sheet)
    spelled = {heading or NO_HEADING: at for at, heading in reversed(list(enumerate(sheet.headings)))}

    def at(column: str) -> int:
        first = column.split(", ")[0]
        return spelled.get(first, positions.get(first, 0))

    # A cell that says the day of every row is not lost with one of them.
    shared = {int(codes[0]) for codes in part.codes if len(codes) > 1 and (codes == codes[0]).all()}
    for one, row in zip(findings.problems, sheet.places([one.row or 0 for one in findings.problems]), strict=True):  # fmt: skip
        column, rule = at(one.column), _as_seen(one.rule, part.each)
        if one.severity == "flag":
            cells = [part.heads[column]] if row < 0 else [part.codes[column][row], *part.codes[:, row]]
            ledger.flag(next(int(code) for code in cells if code >= 0), rule, one.suggestion)
        elif row < 0:  # a whole column
            ledger.aside([part.heads[column], *part.codes[column]], rule, one.suggestion)
    rows = sheet.places([number for _, _, number, *_ in findings.aside])
    for row, (_, _, _, column_name, _, rule, suggestion, whole) in zip(rows, findings.aside, strict=True):
        column = at(column_name)
        others = [code for code in np.delete(part.codes[:, row], column).tolist() if code not in shared] if whole else []  # fmt: skip
        ledger.aside([int(part.codes[column][row]), *others], _as_seen(rule, part.each), suggestion)
    for column, head in enumerate(part.heads):
        if part.declaration.not_used.heading(sheet.table, sheet.headings[column]):
            ledger.unused(np.array([head, *part.codes[column]], dtype=np.int64))
        else:
            ledger.read(np.array([head], dtype=np.int64))


def _as_seen(rule: str, each: int) -> str:
    """Numbers of rows as those of the page, where it has fewer rows than the table made of it; a row of another table is named with its file."""
    if each == 1:
        return rule
    rule = re.sub(r"; \d+ rows are set aside \(.*\)", "; its fruit is set aside", rule)
    rule = rule.replace("; the row is set aside", "; all readings of this fruit are set aside")
    return re.sub(r"(?<!, )\brow (\d+)", lambda found: f"row {int(found[1]) // each}", rule)


def _read_the_rest(part: Own, findings: Findings, ledger: Ledger) -> None:
    """Keys, words for nothing, and rows written twice: read, where they were not set aside."""
    for position in findings.read:
        ledger.read(part.codes[position][~findings.gone[position]])


def _positions(sheet) -> dict[str, int]:
    """By column of the schema the first heading that spells it."""
    by_spelling = TABLES[sheet.table].by_spelling
    found: dict[str, int] = {}
    for at, heading in enumerate(sheet.headings):
        if column := by_spelling.get(plain(heading)):
            found.setdefault(column.name, at)
    return found


def _units(part: Own) -> dict[str, str]:
    columns, positions = TABLES[part.sheet.table].by_name, _positions(part.sheet)
    units = {name: columns[name].spellings[plain(part.sheet.headings[at])] for name, at in positions.items()}
    return {name: unit.suffix for name, unit in units.items() if unit is not None}


def _join(part: Own, frame: pd.DataFrame, figures: Standing, words: Standing, declaration: Declaration, ledger: Ledger) -> pd.DataFrame:  # fmt: skip
    """Gives back of each row of a sample, or of a fruit of it, the cell that names it."""
    table, positions = TABLES[part.sheet.table], _positions(part.sheet)
    at = pd.Index(part.sheet.rows).get_indexer(frame.index)
    keys = _keys(frame, table)

    def take(standing: Standing, coming: pd.DataFrame) -> None:
        codes = {name: part.codes[positions[name]][at] if name in positions else np.full(len(at), NOWHERE) for name in coming}  # fmt: skip
        owner = np.zeros(len(coming), dtype=int)
        standing.join(coming, pd.DataFrame(codes, index=keys, dtype=np.int64), owner, ledger, whole=False)

    numbers, others = _kinds(table)
    take(figures, frame[[column.name for column in numbers]].astype(float).set_axis(keys))
    cells = {column.name: part.sheet.cells[positions[column.name]][at] if column.name in positions else None for column in others}  # fmt: skip
    text = {column.name: _text(frame, column, cells[column.name], declaration) for column in others}
    take(words, pd.DataFrame(text, index=keys, dtype=object))
    if table.key[0] != "sample":
        return pd.DataFrame()
    fruit = frame["fruit"].astype(int) if "fruit" in table.key else 0
    return pd.DataFrame(
        {"sample": frame["sample"].astype(str), "code": part.codes[positions["sample"]][at]}
    ).assign(fruit=fruit)


def _coming(stands: pd.DataFrame, table: Table, figures: Standing, words: Standing) -> Coming:
    rows = pd.concat([one.values.iloc[one.kept :] for one in (figures, words)], axis=1)
    filled = []
    for one in (figures, words):
        places = one.values.index.get_indexer(pd.Index([key for key, _ in one.filled], dtype=object))
        for place, (key, name) in zip(places.tolist(), one.filled, strict=True):
            filled.append((int(stands.index[place]), name, one.values.at[key, name]))
    return Coming(rows[list(table.by_name)].reset_index(drop=True), filled)
