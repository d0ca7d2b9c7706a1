"""Who read or rated the rows of a sheet, where a column says so: nothing of it is kept, and a gauge or a scale goes with the person."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import pandas as pd

from dashboard.records.importing.facts import Facts
from dashboard.records.importing.layouts import Layout, role_of
from dashboard.records.importing.ledger import parts_of
from dashboard.records.importing.mapping import Answers
from dashboard.records.importing.pages import Page
from dashboard.records.importing.roles import NOT_USED
from dashboard.records.not_used import plain

_MOST = 8  # different words of a column that names people (judgement)
# Common practice, no source: what such columns are called.
_PEOPLE = {"who", "by", "person", "people", "technician", "tech", "rater", "rated", "measured", "read", "reader", "taster", "observer", "initials", "crew", "staff"}  # fmt: skip


def placed(parts: Sequence[Facts], roles: Sequence[str]) -> pd.DataFrame:
    """The facts of ``roles`` with whose fruit they are, and the ``page`` and ``row`` of their cell; one row a cell."""
    whole = [
        part.facts[part.facts["role"].isin(roles).to_numpy()].merge(part.appearances.drop_duplicates("appearance")[["appearance", "cultivar", "site", "date"]], on="appearance")
        for part in parts if len(part.appearances)
    ]  # fmt: skip
    whole = [part.assign(part=number) for number, part in enumerate(whole) if len(part)]
    if not whole:
        return pd.DataFrame(columns=["role"])
    found = pd.concat(whole, ignore_index=True)
    page, row, _ = parts_of(found["code"].to_numpy(dtype=np.int64))
    return found.assign(page=page, row=row)


def persons(
    shapes: Sequence[Layout], pages: Sequence[Page], answers: Answers, cells: pd.DataFrame
) -> Iterator[tuple[str, str, np.ndarray]]:
    """By heading and word which of the ``cells``, as ``placed``, stand in rows with that word, (n,) bool.

    A column counts that was said to be not used, has few words, and is called as people are, or has a cultivar under two of its words: else
    it may say something of cultivars.
    """
    number = {id(page): place for place, page in enumerate(pages)}
    for layout in shapes:
        for label, heading in layout.headings.items():
            if heading.wide or role_of(layout, label, answers) != (NOT_USED, True):
                continue
            words = pd.Series(_words(layout, label, number, cells), index=cells.index).fillna("")
            each = words[(words != "").to_numpy()]
            if not 1 < each.nunique() <= _MOST:
                continue
            shared = each.groupby(cells["cultivar"].reindex(each.index)).nunique().max() > 1
            if shared or _PEOPLE & set(plain(label).split()):
                yield from ((label, str(word), (words == word).to_numpy()) for word in each.unique())


def _words(layout: Layout, label: str, number: dict[int, int], cells: pd.DataFrame) -> np.ndarray:
    """The word beside each of the cells, or the last above it."""
    found = []
    for block in layout.blocks:
        column = next(one.columns[0][1] for one in block.headings if one.label == label)
        words = pd.Series(block.page.cells[block.rows, column], dtype=object)
        keys = pd.MultiIndex.from_arrays([np.full(len(block.rows), number[id(block.page)]), block.rows])
        found.append(words.where((words != "").to_numpy()).ffill().set_axis(keys))
    of_row = pd.concat(found)
    of_row = of_row[~of_row.index.duplicated()]
    return of_row.reindex(pd.MultiIndex.from_frame(cells[["page", "row"]])).to_numpy()
