"""What stands under a key, and what comes in beside it: put where nothing stands, the same where it says the same, else set aside.

The records of the trial are the first to stand. So reading the same sheets twice changes nothing, and nothing is written over, unless
somebody said that the sheet is right.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import pandas as pd

from dashboard.records.causes import FEW
from dashboard.records.importing.as_written import Written
from dashboard.records.importing.differs import DIFFERS, Differs
from dashboard.records.importing.ledger import NOWHERE, Ledger, parts_of
from dashboard.records.importing.overruled import as_kept
from dashboard.records.problems import named_rows, quoted

CLOSE = 1e-6  # of itself: what was converted and written is the same figure again
_MOST = 0.5  # of the cells compared; where more differ, another sample stands under the key


@dataclass
class Standing:
    """``values`` by key: floats (NaN: nothing) or text ("": nothing); ``codes``: the cells they come from, NOWHERE those of the trial;
    ``written``: how the trial writes them, where some may be replaced."""

    values: pd.DataFrame
    written: Written | None = None
    codes: pd.DataFrame = field(init=False)
    kept: int = field(init=False)  # rows that the trial has

    def __post_init__(self) -> None:
        self.codes = pd.DataFrame(NOWHERE, index=self.values.index, columns=self.values.columns)
        self.kept = len(self.values)
        self.filled: list[
            tuple[object, str]
        ] = []  # cells of the trial's rows that held nothing, or are replaced

    def join(
        self, coming: pd.DataFrame, codes: pd.DataFrame, owner: np.ndarray, ledger: Ledger, whole: bool
    ) -> set[int]:
        """Take in rows with a key each; ``owner`` (n,) whose they are. With ``whole`` an owner most of whose cells differ from what
        stands is another one: nothing of it is taken, and its number given back."""
        if not len(coming):
            return set()
        at = self.values.index.get_indexer(coming.index)
        there = at >= 0
        before = self.values.to_numpy()[at[there]]
        new = coming.to_numpy()[there]
        filled, given = _present(before), _present(new)
        same = filled & given & _equal(before, new)
        differ = filled & given & ~same
        others: set[int] = set()
        if whole and differ.any():
            differs = pd.Series(differ.sum(axis=1)).groupby(owner[there]).sum()
            compared = pd.Series((filled & given).sum(axis=1)).groupby(owner[there]).sum()
            others = {int(one) for one in differs.index[(differs > _MOST * compared).to_numpy()]}
        other = np.isin(owner, list(others))
        mine = ~other[there][:, None]
        replaced, cells = np.zeros_like(differ), codes.to_numpy()[there]
        if differ.any():
            replaced = self._told(coming[there], codes[there], self.codes.to_numpy()[at[there]], differ & mine, before, ledger)  # fmt: skip
        ledger.read(cells[same & mine])
        if differ.any() or ledger.same is not None:
            self._count(coming[there], same & mine, ledger)
        put = (given & ~filled & mine) | replaced
        for row, column in zip(*np.nonzero(put), strict=True):
            place = int(at[there][row])
            self.values.iat[place, column] = new[row, column]
            self.codes.iat[place, column] = cells[row, column]
            if place < self.kept:
                self.filled.append((self.values.index[place], str(self.values.columns[column])))
        ledger.read(cells[put])
        fresh = ~there & ~other
        ledger.read(codes.to_numpy()[fresh][_present(coming.to_numpy()[fresh])])
        self.values = pd.concat([self.values, coming[fresh]])
        self.codes = pd.concat([self.codes, codes[fresh]])
        return others

    def _told(
        self, coming: pd.DataFrame, codes: pd.DataFrame, standing: np.ndarray, differ: np.ndarray, before: np.ndarray, ledger: Ledger
    ) -> np.ndarray:  # fmt: skip
        """Which of the values that differ take the place of what stands; the others are set aside."""
        replaced, cells = np.zeros_like(differ), codes.to_numpy()
        for row, column in zip(*np.nonzero(differ), strict=True):
            code, where, what = int(cells[row, column]), int(standing[row, column]), before[row, column]
            label = str(coming.columns[column])
            # Another sheet of these has it.
            other = where != NOWHERE and parts_of(where)[0] != parts_of(code)[0]
            one = self._differs(ledger, code, coming.index[row], label, what, coming.iat[row, column], where if other else NOWHERE) if other or where == NOWHERE else None  # fmt: skip
            at = self.written.place(coming.index[row], label) if self.written is not None else ("", "", "")
            gone = ledger.overruled.get(at, set()) if where == NOWHERE else set()
            if one is not None and one.name in ledger.right:
                ledger.overrules.setdefault(at, set()).add(as_kept(what))
                (ledger.chosen if other else ledger.replaced).append(one)
                replaced[row, column] = True
            elif one is not None and as_kept(coming.iat[row, column]) in gone and as_kept(what) not in gone:
                ledger.repeated.append(one)
                ledger.read(np.array([code]))
            elif one is not None:
                ledger.differing.append(one)
                ledger.aside([code], one.rule, "correct the sheet; if the sheet is right, say so, or write “replace” beside it")  # fmt: skip
            else:
                said = self._stands(label, what) if where == NOWHERE else ledger.text(where)
                place = "the trial has" if where == NOWHERE else f"{_named(ledger, where)} has"
                ledger.aside([code], f"{DIFFERS} ({place} {said}); the first is kept", "correct one of the two, or give the samples numbers of picks")  # fmt: skip
        return replaced

    def _stands(self, label: str, value: object) -> str:
        """A value as the trial writes it."""
        return self.written.text(label, value) if self.written is not None else str(value)

    def _differs(
        self, ledger: Ledger, code: int, index: object, label: str, old: object, new: object, where: int
    ) -> Differs | None:
        """None where it may not be replaced, or stands in no cell. ``where``: the cell of another sheet that has the ``old``, if it is not the trial."""
        heading = (
            self.written.heading(label, new=where != NOWHERE)
            if self.written is not None and code >= 0
            else ""
        )
        if not heading or self.written is None:
            return None
        page, _, _ = ledger.place(code)
        texts = (ledger.text(where), ledger.text(code)) if where != NOWHERE else ("", "")
        old, new = (
            texts if texts[0] != texts[1] else (self.written.text(label, old), self.written.text(label, new))
        )
        return Differs(
            code, page.file, page.sheet, ledger.reference(code), self.written.table, self.written.key(index), heading, old, new, ledger.text(code), _named(ledger, where) if where != NOWHERE else "",
        )  # fmt: skip

    def _count(self, coming: pd.DataFrame, same: np.ndarray, ledger: Ledger) -> None:
        """The places of the trial where a cell says what stands."""
        if self.written is None:
            return
        headings = [self.written.heading(str(label)) for label in coming.columns]
        for row in np.flatnonzero(same.any(axis=1)).tolist():
            key = self.written.key(coming.index[row])
            ledger.alike[self.written.table, key[0]] += int(same[row].sum())
            if ledger.same is not None:
                ledger.same.update((self.written.table, "; ".join(key), headings[at]) for at in np.flatnonzero(same[row]))  # fmt: skip


def pivoted(facts: pd.DataFrame, roles: list[str], key: list[str], number: bool, ledger: Ledger) -> tuple[pd.DataFrame, pd.DataFrame]:  # fmt: skip
    """Facts as a table of values and one of cells, a row a key, a column a role. A second value for one place has to say the same."""
    facts = facts[facts["role"].isin(roles).to_numpy()]
    facts = _once(facts, [*key, "role"], number, ledger)
    rows, index = pd.factorize(pd.MultiIndex.from_frame(facts[key]) if len(key) > 1 else facts[key[0]])
    values = np.full((len(index), len(roles)), np.nan if number else "", dtype=float if number else object)
    codes = np.full((len(index), len(roles)), NOWHERE, dtype=np.int64)
    column = pd.Index(roles).get_indexer(pd.Index(facts["role"].astype(str)))
    values[rows, column] = facts["value" if number else "text"].to_numpy()
    codes[rows, column] = facts["code"].to_numpy()
    names = pd.MultiIndex.from_tuples(index, names=key) if len(key) > 1 else pd.Index(index, name=key[0])
    return pd.DataFrame(values, names, roles), pd.DataFrame(codes, names, roles)


def _once(facts: pd.DataFrame, key: list[str], number: bool, ledger: Ledger) -> pd.DataFrame:
    again = facts.duplicated(key).to_numpy()
    if not again.any():
        return facts
    what = "value" if number else "text"
    first = facts.groupby(key, sort=False, observed=True)[[what, "code"]].transform("first")
    same = (first[what] == facts[what]).to_numpy()
    ledger.read(facts["code"].to_numpy()[again & same])
    differ = facts.assign(first=first["code"])[again & ~same]
    if "name" in key:
        differ = _second_sets(differ, ledger)
    for code, where in zip(differ["code"], differ["first"], strict=True):
        rule = f"differs from {_named(ledger, int(where))}, which is of the same sample; the first is kept"
        ledger.aside([code], rule, "correct one of the two")
    return facts[~again]


def _second_sets(differ: pd.DataFrame, ledger: Ledger) -> pd.DataFrame:
    """What is left after the samples of which many cells differ: those stand in the sheet twice, which is one cause."""
    many = differ.groupby("name")["code"].transform("size").to_numpy() > FEW
    for name, cells in differ[many].groupby("name", sort=False):
        codes = [int(code) for code in cells["code"]]
        rows = sorted({ledger.number(code) for code in codes})
        where = _named(ledger, min(map(int, cells["first"])))
        ledger.aside(
            sorted(codes),
            f"is of {quoted(str(name))}, which stands twice ({named_rows(rows)}); the first, from {where} on, is kept, and {len(codes):,} cells wait",
            f"if they are more fruit of {quoted(str(name))}, give them columns or numbers of their own from {int(cells['fruit'].max()) + 1} on; "
            "if another pick, day or cultivar, correct it in your sheet; if neither, write “not used” beside them",
        )  # fmt: skip
    return differ[~many]


def _named(ledger: Ledger, code: int) -> str:
    page, _, _ = ledger.place(code)
    return f"{page.name}, {ledger.reference(code)}"


def _present(values: np.ndarray) -> np.ndarray:
    return values != "" if values.dtype == object else np.isfinite(values)


def _equal(one: np.ndarray, other: np.ndarray) -> np.ndarray:
    if one.dtype == object:
        return one == other
    with np.errstate(invalid="ignore"):
        return np.isclose(one, other, rtol=CLOSE, atol=1e-9)
