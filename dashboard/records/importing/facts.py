"""The cells of a block as facts: of which appearance of a sample, of which fruit, which column of the records, and the value in SI.

A sample appears in a row of its own where its fruit stand side by side, and in several rows where each holds a fruit or a reading.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.records.advice import Said, class_fault, range_fault, unusual, whole_fault, yes_no_fault
from dashboard.records.checking import YES_NO
from dashboard.records.declaration import Declaration
from dashboard.records.importing.figures import READING, How, figure
from dashboard.records.importing.layouts import FIGURES, role_of
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.mapping import Answers, Path_
from dashboard.records.importing.measures import said_of, scale_of
from dashboard.records.importing.roles import NOT_USED, NUMBER, ROLES, WHICH, Role
from dashboard.records.importing.rows import Keyed, by_value, fruit_number
from dashboard.records.plain_text import texts as plain_texts
from dashboard.records.scales import another_scale
from dashboard.terms.units import UNITS

_UNNAMED = ("is in a row that does not say which reading it holds", "write the reading beside it, or declare it as not used")  # fmt: skip
_TWICE = 3  # fruit, from which on the same figures again in the same order are the same fruit


@dataclass(frozen=True, eq=False)
class Facts:
    """``appearances``: one row an appearance of a sample, its keys and cells (``site@`` …); ``facts``: appearance, fruit (0: of the
    sample), role, value (SI) or text, and the cell."""

    appearances: pd.DataFrame
    facts: pd.DataFrame


def facts(kept: Keyed, answers: Answers, ledger: Ledger, declaration: Declaration) -> Facts:
    """The facts of one block; what cannot be read is set aside on the way, and what is declared so is left out."""
    block, layout = kept.block, kept.layout
    number, which = np.zeros(len(kept.rows), dtype=int), None
    plain: list[tuple[str, int]] = []  # role and column of what stands once a row
    runs: list[tuple[str, tuple[tuple[int, int], ...]]] = []
    for heading in block.headings:
        role = role_of(layout, heading.label, answers)[0]
        head = _cells_at(heading.at, kept.page, ledger)
        if role == NOT_USED:
            ledger.unused(head)
            _leave_out(heading.columns, block.rows, kept, ledger)
            continue
        ledger.read(head)
        if role == WHICH:
            which = heading.columns[0][1]
        elif role == NUMBER:
            number = _numbers(kept, heading.columns[0][1], ledger)
        elif heading.wide:
            runs.append((heading.label, heading.columns))
        elif role in ROLES and role not in ("cultivar", "site", "date"):
            plain.append((heading.label, heading.columns[0][1]))
    keys = {name: kept.texts[name] for name in ("cultivar", "site", "date")}
    parts: list[tuple[Role, np.ndarray, np.ndarray, np.ndarray, np.ndarray]] = []
    for label, column in plain:
        one = ROLES[role_of(layout, label, answers)[0]]
        parts.append((one, *_column(kept, kept.rows, column, layout.column(label), one, answers, ledger, declaration)))  # fmt: skip
    for name in ("pick", "sample"):  # they are part of whose fruit it is
        own = next((part for part in parts if part[0].name == name), None)
        keys[name] = _spread(own, kept.rows, len(kept.rows)) if own else np.full(len(kept.rows), "", object)
    alone = which is None and not any(part[0].table == "fruit" for part in parts)
    appearance, number = _appearances(keys, number, alone, which is not None, kept)
    found = [
        _frame(role, rows, appearance, number if role.table == "fruit" else None, values, texts, codes, kept)
        for role, rows, values, texts, codes in parts
    ]
    for label, columns in runs:
        found += _of_run(kept, label, columns, which, appearance, answers, ledger, declaration)
    seen = pd.DataFrame(dict(keys))
    seen = seen.assign(
        appearance=appearance, **{f"{name}@": kept.codes[name] for name in ("cultivar", "site", "date")}
    )
    whole = pd.concat(found, ignore_index=True) if found else no_facts()
    return Facts(seen, whole)


def _of_run(
    kept: Keyed, label: str, columns: tuple[tuple[int, int], ...], which: int | None, appearance: np.ndarray,
    answers: Answers, ledger: Ledger, declaration: Declaration,
) -> Iterator[pd.DataFrame]:  # fmt: skip
    """The fruit side by side: of one reading, or of the reading that each row names."""
    role = role_of(kept.layout, label, answers)[0]
    words = kept.block.page.cells[kept.rows, which] if which is not None else None
    for word in dict.fromkeys(words) if role == FIGURES and words is not None else [None]:
        rows = kept.rows if word is None else kept.rows[words == word]
        path = kept.layout.column(label) if word is None else ("layout", kept.layout.number, "readings", word)
        said = role if word is None else str(answers.at((*path, "is")) or "")
        if said in ("", FIGURES):  # nobody said of what they are, so nobody said that they are not used
            for _, column in columns:
                ledger.aside(ledger.codes(kept.page, rows, column), *_UNNAMED)
            continue
        named = ledger.codes(kept.page, rows, which) if which is not None and word is not None else None
        if said not in ROLES:
            for code in [] if named is None else [named]:
                ledger.unused(code)
            for _, column in columns:
                ledger.unused(ledger.codes(kept.page, rows, column))
            continue
        if named is not None:
            ledger.read(named)
        for fruit, column in columns:
            got, values, texts, codes = _column(
                kept, rows, column, path, ROLES[said], answers, ledger, declaration
            )
            yield _frame(
                ROLES[said],
                got,
                appearance,
                np.full(len(kept.rows), fruit),
                values,
                texts,
                codes,
                kept,
            )


def _column(
    kept: Keyed, rows: np.ndarray, column: int, path: Path_, role: Role, answers: Answers, ledger: Ledger, declaration: Declaration
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:  # fmt: skip
    """Rows with something to keep, their values (SI, NaN for text), texts and cells."""
    cells = kept.block.page.cells[rows, column]
    filled = cells != ""
    rows, cells = rows[filled], cells[filled]
    codes = ledger.codes(kept.page, rows, column)
    file = kept.block.page.file
    unit = str(said_of(answers.at((*path, "unit")), file) or "")
    words = {word: str(said) for word, said in (answers.at((*path, "words")) or {}).items()}
    if role.column.kind in ("number", "whole"):
        how = How(
            role, unit, str(answers.at((*path, "decimals")) or "."), str(answers.at((*path, "zero")) or READING),
            words, not kept.block.page.sheet,
        )  # fmt: skip

        def told(cell: str) -> tuple[str, Said | None]:
            found = figure(cell, how)
            return found.text, found.said
    else:

        def told(cell: str) -> tuple[str, Said | None]:
            return _text(cell, role, words)

    texts, why, reasons = by_value(cells, told)
    _tell(codes, why, reasons, ledger)
    nothing = (why < 0) & (texts == "")
    ledger.read(codes[nothing])
    good = (why < 0) & ~nothing
    rows, texts, codes = rows[good], texts[good], codes[good]
    if role.column.kind not in ("number", "whole"):
        return rows, np.full(len(rows), np.nan), texts, codes
    scale = scale_of(said_of(answers.at((*path, "scale")), file)) if role.column.rating else None
    kept_rows, values = _in_si(texts.astype(float), codes, role, unit, scale, ledger, declaration)
    return rows[kept_rows], values, texts[kept_rows], codes[kept_rows]


def _in_si(
    written: np.ndarray, codes: np.ndarray, role: Role, unit: str, scale, ledger: Ledger, declaration: Declaration
) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """(n,) bool which figures may be, and the values of those, in SI; the others are set aside."""
    column, measured = role.column, UNITS.get(unit) or role.unit
    refused = declaration.refusal(column.name)
    if scale and not refused:
        refused = another_scale(written, column.name, scale, "in the answers")
    if refused:
        ledger.aside(codes, *refused)
        return np.zeros(len(written), dtype=bool), written[:0]
    values = measured.to_si(written) if measured else written
    limits = (scale.low, scale.high) if scale else column.refuse
    good = np.ones(len(written), dtype=bool)
    if column.kind == "whole":
        good &= written % 1 == 0
        for place in np.flatnonzero(~good):
            ledger.aside([codes[place]], *whole_fault(str(written[place])))
    if limits:
        for place in np.flatnonzero(good & ((values < limits[0]) | (values > limits[1]))):
            good[place] = False
            ledger.aside([codes[place]], *range_fault(written[place], column, measured, limits))
    if column.flag:
        for place in np.flatnonzero(good & ((values < column.flag[0]) | (values > column.flag[1]))):
            ledger.flag(int(codes[place]), *unusual(written[place], column, measured))
    return good, (scale.mapped(values) if scale else values)[good]


def _text(cell: str, role: Role, words: Mapping[str, str]) -> tuple[str, Said | None]:
    told = words.get(cell, cell)
    if told == "nothing" and cell in words:
        return "", None
    if told == "aside" and cell in words:
        return "", ("was declared as no entry", "write what was meant")
    if role.column.kind == "class":
        meant = told.casefold()
        return (meant, None) if meant in role.column.words else ("", class_fault(cell, role.column))
    if role.column.kind == "yes/no":
        known = YES_NO.get(told.casefold())
        return ("", yes_no_fault(cell)) if known is None else ("yes" if known else "no", None)
    cells = np.array([told], dtype=object)
    values, faults, _ = plain_texts(cells, role.column.kind == "note")
    return (values[0] or "", faults[0][1] if faults else None)


def _tell(codes: np.ndarray, why: np.ndarray, reasons: list[Said], ledger: Ledger) -> None:
    for number, said in enumerate(reasons):
        for code in codes[why == number]:
            ledger.aside([code], *said)


def _appearances(
    keys: Mapping[str, np.ndarray], number: np.ndarray, alone: bool, by_reading: bool, kept: Keyed
) -> tuple[np.ndarray, np.ndarray]:
    """Which appearance each row belongs to, and the number of its fruit; a row alone is one by itself."""
    rows = len(number)
    if alone or not rows:
        return np.arange(rows), number
    joined = pd.DataFrame(dict(keys))
    sample = joined.groupby(list(keys), sort=False, dropna=False).ngroup().to_numpy()
    if by_reading:
        return sample, number
    if (number == 0).all():  # nobody numbered the fruit: as they stand
        cells = kept.block.page.cells[kept.rows]
        return _as_they_stand(sample, np.array(["\x1f".join(row) for row in cells], dtype=object))
    again = pd.DataFrame({"sample": sample, "number": number})
    time = again.groupby(["sample", "number"]).cumcount().to_numpy()
    return pd.factorize(sample + time * (int(sample.max()) + 1))[0], number


def _as_they_stand(sample: np.ndarray, look: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Fruit that nobody numbered, as they stand; a block of them that stands twice over is another appearance of the same."""
    appearance = sample.copy()
    number = pd.Series(sample).groupby(sample).cumcount().to_numpy() + 1
    for _, rows in pd.Series(look).groupby(sample):
        half = len(rows) // 2
        if half >= _TWICE and not len(rows) % 2 and (rows.to_numpy()[:half] == rows.to_numpy()[half:]).all():
            later = rows.index[half:].to_numpy()
            appearance[later] += int(sample.max()) + 1
            number[later] -= half
    return appearance, number


def _numbers(kept: Keyed, column: int, ledger: Ledger) -> np.ndarray:
    """(n,) the numbers of fruit, 0 where none is written."""
    cells = kept.block.page.cells[kept.rows, column]
    ledger.read(ledger.codes(kept.page, kept.rows, column))
    texts, _, _ = by_value(cells, lambda cell: (str(fruit_number(cell)), None))
    return texts.astype(int) if len(texts) else np.zeros(0, dtype=int)


def _spread(
    part: tuple[Role, np.ndarray, np.ndarray, np.ndarray, np.ndarray], rows: np.ndarray, count: int
) -> np.ndarray:
    """(rows,) text of a column that not every row has."""
    whole = np.full(count, "", dtype=object)
    whole[np.searchsorted(rows, part[1])] = part[3]
    return whole


def _frame(
    role: Role,
    rows: np.ndarray,
    appearance: np.ndarray,
    number: np.ndarray | None,
    values: np.ndarray,
    texts: np.ndarray,
    codes: np.ndarray,
    kept: Keyed,
) -> pd.DataFrame:
    at = np.searchsorted(kept.rows, rows)
    return pd.DataFrame(
        {
            "appearance": appearance[at],
            "fruit": number[at] if number is not None else np.zeros(len(rows), dtype=int),
            "role": np.full(len(rows), role.name, dtype=object),
            "value": values,
            "text": texts,
            "code": codes,
        }
    )


def no_facts() -> pd.DataFrame:
    kinds = {"appearance": int, "fruit": int, "role": object, "value": float, "text": object, "code": np.int64}  # fmt: skip
    return pd.DataFrame({name: pd.Series(dtype=kind) for name, kind in kinds.items()})


def _cells_at(at: tuple[tuple[int, int], ...], page: int, ledger: Ledger) -> np.ndarray:
    return np.array([ledger.codes(page, np.array([row]), column)[0] for row, column in at], dtype=np.int64)


def _leave_out(columns: tuple[tuple[int, int], ...], rows: np.ndarray, kept: Keyed, ledger: Ledger) -> None:
    for _, column in columns:
        ledger.unused(ledger.codes(kept.page, rows, column))
