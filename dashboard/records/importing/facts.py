"""The cells of a block as facts: of which appearance of a sample, of which fruit, which column of the records, and the value in SI.

A sample appears in a row of its own where its fruit stand side by side, and in several rows where each holds a fruit or a reading.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.records.declaration import Declaration
from dashboard.records.importing.asked_dates import COLUMN
from dashboard.records.importing.cheeks import CHEEKS, SECOND, TWO
from dashboard.records.importing.layouts import FIGURES, Layout, role_of
from dashboard.records.importing.ledger import ASIDE, Ledger, parts_of
from dashboard.records.importing.mapping import Answers, Path_
from dashboard.records.importing.numbered_twice import numbered_twice
from dashboard.records.importing.roles import NOT_USED, NUMBER, READINGS, ROLES, SPREAD_OF, WHICH, Role
from dashboard.records.importing.rows import Keyed, by_value, fruit_number
from dashboard.records.importing.several import MEAN_ALONE, ROW_IS, SEVERAL, counted
from dashboard.records.importing.spread import Part, deviations
from dashboard.records.importing.values import Beside, column_values
from dashboard.records.problems import quoted

_UNNAMED = ("is in a row that does not say which reading it holds", "write the reading beside it, or declare it as not used")  # fmt: skip
Run = tuple[tuple[int, int], ...]  # fruit and column
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
    number, numbers, which = np.zeros(len(kept.rows), dtype=int), -1, None
    plain: list[tuple[str, int]] = []  # role and column of what stands once a row
    runs: list[tuple[str, Run]] = []
    for heading in block.headings:
        role = role_of(layout, heading.label, answers)[0]
        head = _cells_at(heading.at, kept.page, ledger)
        if role == NOT_USED:
            mark = ledger.read if _holds_years(layout, heading.label, answers) else ledger.unused
            mark(head)
            for _, column in heading.columns:
                mark(ledger.codes(kept.page, block.rows, column))
            continue
        ledger.read(head)
        if role == WHICH:
            which = heading.columns[0][1]
        elif role == NUMBER:
            numbers = heading.columns[0][1]
            number = _numbers(kept, numbers, ledger)
        elif heading.wide or role == FIGURES:
            runs.append((heading.label, heading.columns))
        elif role in ROLES and role not in ("cultivar", "site", "date"):
            plain.append((heading.label, heading.columns[0][1]))
    keys = {name: kept.texts[name] for name in ("cultivar", "site", "date")}
    parts: list[Part] = []
    beside = [(label, column, layout.column(label), ROLES[role_of(layout, label, answers)[0]]) for label, column in plain]  # fmt: skip
    for _, column, path, one in beside:
        parts.append((one, *column_values(kept, kept.rows, column, path, one, answers, ledger, declaration, beside=beside)))  # fmt: skip
        if also := _also(one.name, path, answers):
            parts.append((ROLES[also], *column_values(kept, kept.rows, column, path, ROLES[also], answers, ledger, declaration, second=True)))  # fmt: skip
    parts = deviations(counted(parts, layout, block.page, answers), ledger)
    if answers.at(("layout", layout.number, ROW_IS)) == SEVERAL:
        for part in parts:
            ledger.aside(part[4] if part[0].table == "fruit" else (), *MEAN_ALONE)
        parts = [part for part in parts if part[0].table != "fruit"]
    for name in ("pick", "sample"):  # they are part of whose fruit it is
        own = next((part for part in parts if part[0].name == name), None)
        keys[name] = _spread(own, kept.rows, len(kept.rows)) if own else np.full(len(kept.rows), "", object)
    alone = which is None and not any(part[0].table == "fruit" for part in parts)
    appearance, number = _appearances(keys, number, alone, which is not None, kept)
    measured = [column for _, column, _, one in beside if one.table == "fruit"]
    appearance, twice = numbered_twice(appearance, keys, number, numbers, measured, kept, ledger)
    found = [
        _frame(role, rows, appearance, number if role.table == "fruit" else None, values, texts, codes, kept)
        for role, rows, values, texts, codes in parts
    ]
    if which is not None and not number.any():
        _uneven(kept, which, appearance, answers, ledger)
    for label, columns in runs:
        found += _of_run(kept, label, columns, runs, which, appearance, number, answers, ledger, declaration)
    seen = pd.DataFrame(dict(keys))
    seen = seen.assign(
        appearance=appearance, **{f"{name}@": kept.codes[name] for name in ("cultivar", "site", "date")}
    )
    whole = pd.concat(found, ignore_index=True) if found else no_facts()
    if twice.any():
        seen = seen[~twice]
        whole = whole[~np.isin(parts_of(whole["code"].to_numpy())[1], kept.rows[twice])]
    return Facts(_picked(seen, whole, kept, ledger), whole)


def _picked(seen: pd.DataFrame, facts: pd.DataFrame, kept: Keyed, ledger: Ledger) -> pd.DataFrame:
    """Without the appearances all of whose cells were said to be nothing: no fruit was picked. Where a cell waits, fruit was."""
    empty = ~seen["appearance"].isin(facts["appearance"]).to_numpy() & (seen["date"] != "").to_numpy()
    if not empty.any():
        return seen
    waits = (ledger.states[kept.page][kept.rows] == ASIDE).any(axis=1)
    gone = empty & ~np.isin(seen["appearance"], seen["appearance"][waits])
    for name in ("cultivar", "site", "date"):
        ledger.read(seen[f"{name}@"].to_numpy()[gone])
    return seen[~gone]


def _of_run(
    kept: Keyed, label: str, columns: Run, runs: Sequence[tuple[str, Run]], which: int | None, appearance: np.ndarray, number: np.ndarray,
    answers: Answers, ledger: Ledger, declaration: Declaration,
) -> Iterator[pd.DataFrame]:  # fmt: skip
    """The fruit side by side: of one reading, or of the reading that each row names; ``runs``: all that stand in these rows."""
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
        at = np.ones(len(kept.rows), dtype=bool) if words is None or word is None else np.array(words == word)
        for one in filter(None, (said, _also(said, path, answers))):
            for fruit, column in columns:
                got, values, texts, codes = column_values(
                    kept, rows, column, path, ROLES[one], answers, ledger, declaration, one != said,
                    _of_fruit(kept.layout, runs, fruit, answers) if word is None else (),
                )  # fmt: skip
                of = np.full(len(kept.rows), fruit) if fruit else _each(appearance, number, at)
                yield _frame(ROLES[one], got, appearance, of, values, texts, codes, kept)


def _of_fruit(layout: Layout, runs: Sequence[tuple[str, Run]], fruit: int, answers: Answers) -> list[Beside]:
    """The columns of one fruit in a row that has several side by side."""
    said = [(label, role_of(layout, label, answers)[0], dict(columns).get(fruit)) for label, columns in runs]
    return [(label, at, layout.column(label), ROLES[role]) for label, role, at in said if role in ROLES and at is not None]  # fmt: skip


def _holds_years(layout: Layout, label: str, answers: Answers) -> bool:
    """Whether the days of another column were said to be of the years of this one."""
    return any(answers.at((*layout.column(one), "year")) == f"{COLUMN}{label}" for one in layout.headings)


def _each(appearance: np.ndarray, number: np.ndarray, rows: np.ndarray) -> np.ndarray:
    """(n,) the fruit of rows that hold one figure each: as they are numbered, else as they stand."""
    if number.any():
        return number
    found = np.zeros(len(number), dtype=int)
    found[rows] = pd.Series(appearance[rows]).groupby(appearance[rows]).cumcount() + 1
    return found


def _uneven(kept: Keyed, which: int, appearance: np.ndarray, answers: Answers, ledger: Ledger) -> None:
    """Flag samples that have more rows of one reading than of another: nobody numbered the fruit, so they pair off from the first."""
    words = kept.block.page.cells[kept.rows, which]
    read = [word for word in pd.unique(words) if answers.at(("layout", kept.layout.number, "readings", word, "is")) in READINGS]  # fmt: skip
    counts = pd.crosstab(appearance, words).reindex(columns=read)
    counts = counts.where(counts > 0)  # what nobody read of a sample shifts nothing
    for one in counts.index[counts.nunique(axis=1) > 1]:
        row = kept.rows[appearance == one][0]
        told = ", ".join(
            f"{count:g} of {quoted(str(word))}" for word, count in counts.loc[one].dropna().items()
        )
        rule = f"begins a sample whose rows do not pair: {told}; no fruit has a number"
        ledger.flag(int(ledger.codes(kept.page, np.array([row]), which)[0]), rule, "number the fruit, or write an empty row for the one that lacks")  # fmt: skip


def _also(name: str, path: Path_, answers: Answers) -> str:
    """What stands second in cells of this reading, as it was answered; "" where nothing does."""
    if name in SECOND:
        return SECOND[name] if answers.at((*path, CHEEKS)) == TWO else ""
    return SPREAD_OF.get(name, {}).get(str(answers.at((*path, "behind"))), "")


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
