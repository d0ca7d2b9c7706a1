"""The cells of one column as values in SI, or as texts; what cannot be read is set aside on the way. The text of a limit keeps its < or >."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import partial

import numpy as np
import pandas as pd

from dashboard.records.advice import Said, class_fault, range_fault, unusual, whole_fault, yes_no_fault
from dashboard.records.checking import YES_NO
from dashboard.records.declaration import Declaration
from dashboard.records.exchanged import Place, exchanged, most_of
from dashboard.records.importing.cheeks import CHEEKS, FRACTION, cheek
from dashboard.records.importing.figures import LIMITS, READING, How, figure, halves, is_pair, limited
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.mapping import Answers, Path_
from dashboard.records.importing.measures import scale_for, unit_of
from dashboard.records.importing.roles import SPREAD_OF, Role
from dashboard.records.importing.rows import Keyed, by_value
from dashboard.records.importing.several import share_of
from dashboard.records.plain_text import texts as plain_texts
from dashboard.records.scales import another_scale
from dashboard.terms.units import UNITS

Beside = tuple[str, int, Path_, Role]  # heading, column of the page, where its answers stand, what it is
ENOUGH = 500  # cells of a column, by which it is told what is common in it
MOST_LOOKED = 5000  # odd figures of a column, up to which the others of their rows are looked at


def column_values(
    kept: Keyed, rows: np.ndarray, column: int, path: Path_, role: Role, answers: Answers, ledger: Ledger, declaration: Declaration,
    second: bool = False, beside: Sequence[Beside] = (),
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:  # fmt: skip
    """With ``second`` what stands second in a cell, behind the ± of a mean or of the other cheek. ``beside``: the other columns of these rows. Rows with something to keep, their values
    (SI, NaN for text), texts and cells."""
    cells = kept.block.page.cells[rows, column]
    if second:
        cells = np.array([_second(cell, role, answers, path) for cell in cells], dtype=object)
    filled = cells != ""
    rows, cells = rows[filled], cells[filled]
    codes = ledger.codes(kept.page, rows, column)
    unit = unit_of(answers, path, kept.block.page)
    words = _said(path, "words", answers)
    if role.column.kind in ("number", "whole"):
        how = _how(kept, rows, column, path, role, answers)

        def told(cell: str) -> tuple[str, Said | None]:
            both = halves(cell) if role.name in SPREAD_OF else None
            found = figure(both[0] if both else cell if second else cheek(cell, answers, path), how)
            return found.text or found.limit, found.said
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
    scale = scale_for(answers, path, kept.block.page) if role.column.rating else None
    figures = np.array([text.lstrip(LIMITS) for text in texts], dtype=object).astype(float)
    _no_end(texts, figures, codes, ledger)
    odd = partial(_exchanged, kept, column, path, role, beside, answers)
    kept_rows, values = _in_si(
        figures * share_of(answers, path),
        rows,
        codes,
        role,
        unit,
        scale,
        ledger,
        declaration,
        odd,
    )
    return rows[kept_rows], values, texts[kept_rows], codes[kept_rows]


def _no_end(texts: np.ndarray, figures: np.ndarray, codes: np.ndarray, ledger: Ledger) -> None:
    """Flag limits of which other cells of the column lie on the far side: an instrument that ended there would not have read those."""
    read = figures[~limited(texts)]
    if not len(read) or len(read) == len(figures):
        return
    for sign, side, far, word in (("<", "below", read.min(), "down"), (">", "above", read.max(), "up")):
        for place in np.flatnonzero([text.startswith(sign) for text in texts]):
            if (far < figures[place]) if sign == "<" else (far > figures[place]):
                rule = f"is kept as {side} {figures[place]:g}, though other cells of the column go {word} to {far:g}"
                ledger.flag(int(codes[place]), rule, "look whether the instrument ended there, or the sign is a slip")  # fmt: skip


def _how(kept: Keyed, rows: np.ndarray, column: int, path: Path_, role: Role, answers: Answers) -> How:
    return How(
        role, unit_of(answers, path, kept.block.page), str(answers.at((*path, "decimals")) or "."), str(answers.at((*path, "zero")) or READING),
        _said(path, "words", answers), not kept.block.page.sheet, _pairs(kept, rows, column), answers.at((*path, CHEEKS)) == FRACTION, _said(path, "forms", answers),
    )  # fmt: skip


def _said(path: Path_, part: str, answers: Answers) -> dict[str, str]:
    return {one: str(said) for one, said in (answers.at((*path, part)) or {}).items()}


def _exchanged(
    kept: Keyed, column: int, path: Path_, role: Role, beside: Sequence[Beside], answers: Answers, rows: np.ndarray
) -> Iterator[tuple[int, list[Place]]]:  # fmt: skip
    """By place in ``rows``, where a figure is odd, the columns that it may stand exchanged with, each cell read as those of the other column are."""
    found: list[list[Place]] = [[] for _ in rows]
    cells = kept.block.page.cells
    if 0 < len(rows) <= MOST_LOOKED:
        here, mine = _place(kept, column, path, role, "", answers)
        for label, at, there_path, other in beside:
            if at == column or not other.measured:
                continue
            there, theirs = _place(kept, at, there_path, other, label, answers)
            figures, others, as_here = (_read(cells[rows, one], how) for one, how in ((column, theirs), (at, theirs), (at, mine)))  # fmt: skip
            for place in np.flatnonzero(exchanged(here, there, figures, others, as_here)):
                found[place].append(there)
    yield from enumerate(found)


def _place(
    kept: Keyed, column: int, path: Path_, role: Role, label: str, answers: Answers
) -> tuple[Place, How]:
    page = kept.block.page
    scale = scale_for(answers, path, page) if role.column.rating else None
    unit = None if scale else UNITS.get(unit_of(answers, path, page)) or role.unit
    how = _how(kept, kept.rows, column, path, role, answers)
    some = kept.rows[:: max(1, len(kept.rows) // ENOUGH)]
    most = most_of(_read(page.cells[some, column], how))
    return Place(label, role.column, unit, (scale.low, scale.high) if scale else None, most), how


def _read(cells: np.ndarray, how: How) -> np.ndarray:
    """(n,) the figures of cells, NaN where one is none."""
    return np.array(
        [float(text) if cell and (text := figure(str(cell), how).text) else np.nan for cell in cells]
    )


def _second(cell: str, role: Role, answers: Answers, path: Path_) -> str:
    if role.table == "fruit":
        return cheek(cell, answers, path, second=True)
    both = halves(cell)
    return both[1] if both else ""


def _in_si(
    written: np.ndarray, rows: np.ndarray, codes: np.ndarray, role: Role, unit: str, scale, ledger: Ledger, declaration: Declaration,
    odd: Callable[[np.ndarray], Iterable[tuple[int, list[Place]]]],
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
        away = np.flatnonzero(good & ((values < limits[0]) | (values > limits[1])))
        good[away] = False
        for number, others in odd(rows[away]):
            at = away[number]
            ledger.aside([codes[at]], *range_fault(written[at], column, measured, limits, others))
    if column.flag:
        seldom = np.flatnonzero(good & ((values < column.flag[0]) | (values > column.flag[1])))
        for number, others in odd(rows[seldom]):
            at = seldom[number]
            ledger.flag(int(codes[at]), *unusual(written[at], column, measured, others))
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


def _pairs(kept: Keyed, rows: np.ndarray, column: int) -> bool:
    """Whether two figures stand in one cell of this reading, as of two cheeks: then 7/8 is no fraction either."""
    columns = next([place for _, place in one.columns] for one in kept.block.headings if column in [place for _, place in one.columns])  # fmt: skip
    return any(map(is_pair, pd.unique(kept.block.part(rows, columns).ravel())))
