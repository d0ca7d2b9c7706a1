"""From millions of fruit to sample summaries, without the rows ever being in memory.

One GROUP BY over ``fruit.csv`` by DuckDB (``pip install '.[big]'``). It is strict where ``read`` is patient: a cell or row that ``read``
would set aside and tell ends it with one sentence, so that its figures are those of ``summary.sample_summaries`` or none.
"""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd

from dashboard.records.checking import MISSING
from dashboard.records.declaration import Declaration
from dashboard.records.headings import plain
from dashboard.records.schema import TABLES, Column
from dashboard.terms.traits import FRUIT_TRAITS
from dashboard.terms.units import Unit

MEMORY_MB = 300  # for DuckDB; what does not fit goes to a folder that is removed afterwards
_IN_NUMBERS = "0123456789+-.eE"
# As in ``summary.fruit_traits``.
_TRAITS = {
    "size": "(suture_mm + cross_mm) / 2",
    "firmness": "(firmness_1_n + firmness_2_n) / 2",
    "sugar": "ssc_brix",
    "cheek_difference": "abs(firmness_1_n - firmness_2_n)",
    "roundness": "suture_mm / cross_mm",
}


def grouped(fruit: Path, samples: Sequence[str], declaration: Declaration | None = None) -> pd.DataFrame:
    """One row a sample, in the order of ``samples``: each trait of FRUIT_TRAITS with ``_n`` and ``_ss``, SI units.

    The columns are those of ``summary.sample_summaries``. ValueError with one sentence where the library or the file cannot be had,
    and where a heading, cell or row is not as it should be.
    """
    try:
        import duckdb
    except ImportError:
        raise ValueError(
            "So many fruit need a library that is not installed; write  pip install '.[big]'."
        ) from None
    with tempfile.TemporaryDirectory(prefix="orchard-slate-") as spill:
        how: dict[str, Any] = {
            "memory_limit": f"{MEMORY_MB}MB",
            "threads": 1,
            "temp_directory": spill,
            "preserve_insertion_order": False,
        }
        with duckdb.connect(config=how) as base:
            base.execute("SET enable_progress_bar = false")
            base.register(
                "known",
                pd.DataFrame({"sample": list(samples), "place": np.arange(len(samples), dtype=np.int32)}),
            )
            base.execute("CREATE TABLE samples AS SELECT sample, place FROM known")
            base.unregister("known")
            try:
                base.execute(_view(fruit, declaration or Declaration()))
                base.execute(f"COPY ({_QUERY}) TO '{spill}/summaries.parquet'")  # the one pass over the rows
                base.execute(f"CREATE VIEW summaries AS FROM '{spill}/summaries.parquet'")
                _refuse_faults(base, fruit)
            except duckdb.Error as fault:
                raise ValueError(f"{fruit.name} cannot be read: {str(fault).splitlines()[0]}") from None
        with duckdb.connect(
            config=how
        ) as base:  # anew: what the pass held is given back before the columns need room
            base.execute(f"CREATE VIEW summaries AS FROM '{spill}/summaries.parquet'")
            return pd.DataFrame({name: _column(base, name, len(samples)) for name in _COLUMNS})


_COLUMNS = tuple(f"{trait}{part}" for trait in FRUIT_TRAITS for part in ("", "_n", "_ss"))
_QUERY = "SELECT place, min(name) AS name, count(*) AS rows, count(at_fault) AS faulty, min(at_fault) AS cell, {}, {} FROM fruit GROUP BY place".format(
    # Each number once sets as many bits as there are rows; beyond 120 there is no bit, and it is looked for row by row.
    "bit_count(bit_or(CASE WHEN number BETWEEN 1 AND 120 THEN 1::HUGEINT << number ELSE 0 END)) AS numbers",
    ", ".join(
        f"avg({t}) AS {t}, count({t}) AS {t}_n, var_pop({t}) * count({t}) AS {t}_ss" for t in FRUIT_TRAITS
    ),
)


def _view(fruit: Path, declaration: Declaration) -> str:
    """The rows as typed SI values; ``at_fault`` names the column of the first cell that cannot be used."""
    try:
        with fruit.open(encoding="utf-8-sig", newline="") as file:
            first = file.readline(100_000).rstrip("\r\n")
    except (OSError, UnicodeDecodeError) as told:
        raise ValueError(f"{fruit.name} cannot be read: {told}") from None
    delimiter = max(",;\t", key=first.count)
    written = [cell.strip().strip('"') for cell in first.split(delimiter)]
    found = _found(fruit, written)
    cells = {name: f"trim(coalesce(c{position}, ''))" for name, (position, _, _) in found.items()}
    values, faults = [], []
    for column in TABLES["fruit"].columns:
        if column.name in ("sample", "fruit"):
            continue
        if column.name not in found or declaration.refusal(column.name):
            values.append(f"NULL::DOUBLE AS {column.name}")
            continue
        value, fault = _value(cells[column.name], column, found[column.name][2])
        values.append(f"{value} AS {column.name}")
        faults.append(f"WHEN {fault} THEN '{column.name} ' || {cells[column.name]}")
    number = _number(cells["fruit"])
    low, high = TABLES["fruit"].by_name["fruit"].refuse or (1, 9999)
    faults.append(
        f"WHEN NOT coalesce({number} BETWEEN {low:g} AND {high:g} AND {number} % 1 = 0, false) THEN 'fruit ' || {cells['fruit']}"
    )
    source = (
        f"read_csv('{str(fruit).replace(chr(39), chr(39) * 2)}', delim='{delimiter}', header=true, all_varchar=true, "
        f"names={[f'c{position}' for position in range(len(written))]}, quote='\"', escape='\"', null_padding=true)"
    )
    typed = ", ".join([*values, f"CASE {' '.join(faults)} END AS at_fault"])
    traits = ", ".join(f"{_TRAITS[trait]} AS {trait}" for trait in FRUIT_TRAITS)
    return (
        f"CREATE VIEW fruit AS SELECT place, name, number, at_fault, {traits} FROM ("
        f"SELECT {cells['sample']} AS name, {number}::INTEGER AS number, {typed} FROM {source}"
        ") LEFT JOIN samples ON name = sample"
    )


def _found(fruit: Path, written: Sequence[str]) -> dict[str, tuple[int, Column, Unit | None]]:
    """Position, column and unit by the column's name; every heading must be one, once."""
    known = {
        spelling: (column, unit)
        for column in TABLES["fruit"].columns
        for spelling, unit in column.spellings.items()
    }
    found: dict[str, tuple[int, Column, Unit | None]] = {}
    for position, heading in enumerate(written):
        column, unit = known.get(plain(heading), (None, None))
        if column is None or column.name in found:
            raise ValueError(
                f"{fruit.name}: the heading {heading!r} is no column of its own; rename it or take it out."
            )
        found[column.name] = (position, column, unit)
    for name in ("sample", "fruit"):
        if name not in found:
            raise ValueError(
                f"{fruit.name}: the column {name} is not there, and no row can be used without it."
            )
    return found


def _value(cell: str, column: Column, unit: Unit | None) -> tuple[str, str]:
    """The SQL of a cell's value in SI units, missing where nothing was measured, and of whether it cannot be used."""
    nothing = f"{cell} IN ({', '.join(repr(word) for word in sorted(MISSING))})"
    number = _number(cell)
    value = f"({number} - {unit.offset!r}) * {unit.factor!r}" if unit else number
    fault = f"({value}) IS NULL"
    if column.refuse:
        low, high = column.refuse
        fault = f"NOT coalesce(({value}) BETWEEN {low!r} AND {high!r}, false)"
    return value, f"NOT coalesce({nothing}, true) AND {fault}"


def _number(cell: str) -> str:
    """The library alone would take 1_000 for a number."""
    return f"(CASE WHEN translate({cell}, '{_IN_NUMBERS}', '') = '' THEN try_cast({cell} AS DOUBLE) END)"


def _refuse_faults(base: Any, fruit: Path) -> None:
    """Whatever ``read`` would set aside."""
    rows, faulty, cell, strange, name, doubtful = base.execute(
        "SELECT sum(rows), sum(faulty), min(cell), sum(rows) FILTER (place IS NULL), min(name) FILTER (place IS NULL),"
        " count(*) FILTER (numbers <> rows) FROM summaries"
    ).fetchone()
    if faulty:
        raise ValueError(
            f"{fruit.name}: {faulty:,} of {rows:,} rows hold what is no reading ({cell}); correct or empty those cells."
        )
    if strange:
        raise ValueError(
            f"{fruit.name}: {strange:,} of {rows:,} rows belong to no sample of samples.csv ({name}); correct the name."
        )
    twice = (
        doubtful
        and base.execute(
            "SELECT name, number FROM fruit GROUP BY name, number HAVING count(*) > 1 ORDER BY name, number LIMIT 1"
        ).fetchone()
    )
    if twice:
        raise ValueError(
            f"{fruit.name}: fruit {twice[1]} of sample {twice[0]} is written twice; delete one of the two rows."
        )


def _column(base: Any, name: str, samples: int) -> np.ndarray:
    """(samples,), one column at a time: all of them twice would be the most memory of the whole."""
    found = base.execute(f"SELECT place, {name} AS value FROM summaries").fetchnumpy()
    column = np.full(samples, 0.0 if name.endswith("_n") else np.nan)
    column[found["place"]] = np.ma.filled(np.ma.asarray(found["value"], dtype=float), np.nan)
    return column
