"""Where nobody numbered the fruit, a row below them that is their mean: it is no fruit, and looks like one. Asked once a layout."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pandas as pd

from dashboard.records.importing.blocks import Block
from dashboard.records.importing.figures import How, figure
from dashboard.records.importing.layouts import Layout, role_of
from dashboard.records.importing.mapping import Answers, Question
from dashboard.records.importing.roles import KEYS, NOT_USED, NUMBER, READINGS, ROLES, WHICH
from dashboard.records.importing.several import row_keys
from dashboard.records.problems import quoted

MEAN_ROWS, FRUIT = "mean_rows", "a fruit"
_FEWEST = 4  # rows of a sample with the mean
_COLUMNS = 2  # readings that have to be the mean, as written: one may be so by chance
_SHOWN = 3


def asked_mean_rows(layout: Layout, answers: Answers) -> Iterator[Question]:
    """Asked where at least half of the samples with several rows end so."""
    found = [(block, *_mean_rows(layout, block, answers)) for block in layout.blocks]
    count, samples = sum(len(rows) for _, rows, _ in found), sum(samples for _, _, samples in found)
    if not count or 2 * count < samples:
        return
    shown = [quoted("; ".join(cell for cell in block.page.cells[row] if cell)) for block, rows, _ in found for row in rows]  # fmt: skip
    asks = f"the last row of {count:,} {'sample' if count == 1 else 'samples'} is the mean of the rows above it; what is it?"
    yield Question(
        ("layout", layout.number, MEAN_ROWS), asks, (NOT_USED, FRUIT), tuple(f"  {one}" for one in shown[:_SHOWN]), about=layout.where,
        alike=(MEAN_ROWS,), line=("", layout.where, shown[0]),
    )  # fmt: skip


def sum_up(layout: Layout, block: Block, answers: Answers) -> np.ndarray:
    """(n,) bool of the rows of a block: those that were said to be a mean and no fruit."""
    said = answers.at(("layout", layout.number, MEAN_ROWS)) == NOT_USED
    return np.isin(block.rows, _mean_rows(layout, block, answers)[0] if said else ())


def _mean_rows(layout: Layout, block: Block, answers: Answers) -> tuple[np.ndarray, int]:
    """The rows of the page that are the mean of those above them, and how many samples have several rows."""
    roles = {one.label: role_of(layout, one.label, answers)[0] for one in block.headings}
    columns = [one.columns[0][1] for one in block.headings if roles[one.label] in READINGS]
    if any(one.wide for one in block.headings) or {NUMBER, WHICH} & {*roles.values()} or len(columns) < _COLUMNS or not len(block.rows):  # fmt: skip
        return np.array([], dtype=int), 0
    sample = pd.factorize(pd.Series(list(row_keys(block, [label for label, role in roles.items() if role in KEYS]))))[0]  # fmt: skip
    last = ~pd.Series(sample).duplicated(keep="last").to_numpy()
    size = np.bincount(sample)[sample[last]]
    is_mean, compared = np.ones(last.sum(), dtype=bool), np.zeros(last.sum(), dtype=int)
    for column in columns:
        values, steps = _as_written(block.page.cells[block.rows, column])
        above = pd.Series(values[~last]).groupby(sample[~last]).mean().reindex(sample[last]).to_numpy()
        here, step = values[last], steps[last]
        both = np.isfinite(here) & np.isfinite(above)
        is_mean &= ~both | (np.abs(here - above) <= np.maximum(0.51 * step, 1e-9))
        compared += both
    found = is_mean & (compared >= _COLUMNS) & (size >= _FEWEST)
    return block.rows[last][found], int((size >= _FEWEST).sum())


def _as_written(cells: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(n,) each figure as a number, NaN of what is none, and its last decimal."""
    codes, different = pd.factorize(cells)
    texts = [figure(str(cell), How(ROLES["suture"], "in", decimal=",")).text for cell in different]
    values = np.array([float(text) if text else np.nan for text in texts])
    steps = np.array([10.0 ** -len(text.partition(".")[2]) for text in texts])
    return values[codes], steps[codes]
