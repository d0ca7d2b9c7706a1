"""Any order of imports and undoings: what stands is what the imports that stand brought, and no way leads to a dead end."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from dashboard.records.store.bringing import bring
from dashboard.records.store.history import brought_in
from dashboard.records.store.kept import source_of
from dashboard.records.store.opening import StoreError
from dashboard.records.store.undoing import undo
from tests.records.small import write_folder

HEADINGS = {
    "cultivars": ["cultivar", "fruit_type", "note"],
    "sites": ["site", "name"],
    "trees": ["site", "row", "position", "cultivar", "note"],
    "samples": ["sample", "cultivar", "site", "date", "note"],
    "fruit": ["sample", "fruit", "suture_mm"],
}
KEYS = {"cultivars": 1, "sites": 1, "trees": 3, "samples": 1, "fruit": 2}
CULTIVARS, SAMPLES = ("Corvane", "Dulvane"), ("S1", "S2")
Row = tuple[str, ...]
State = dict[str, dict[Row, Row]]


def rows_of(number: int, chosen: frozenset) -> dict[str, list[Row]]:
    """What import ``number`` brings: its number stands in every row, so that no two imports bring the same."""
    named = sorted(chosen)
    mark = f"by {number}"
    found = {
        "cultivars": [(one, "peach", mark) for kind, one in named if kind == "cultivar"],
        "sites": [("low", mark) for kind, _ in named if kind == "site"],
        "trees": [("low", "1", at, one, mark) for kind, both in named if kind == "tree" for at, one in [both.split()]],
        "samples": [(one, CULTIVARS[int(one[1]) - 1], "low", "2024-07-01", mark) for kind, one in named if kind == "sample"],
        "fruit": [(*one.split(), f"{40 + number}") for kind, one in named if kind == "fruit"],
    }  # fmt: skip
    return {table: rows for table, rows in found.items() if rows}


PARTS = st.frozensets(
    st.sampled_from(
        [("site", "low"), *(("cultivar", one) for one in CULTIVARS), *(("sample", one) for one in SAMPLES)]
        + [("tree", f"{at} {one}") for at in "12" for one in CULTIVARS]
        + [("fruit", f"{one} {number}") for one in SAMPLES for number in "12"]
    ),
    min_size=1,
    max_size=6,
)
STEPS = st.lists(
    st.one_of(
        PARTS.filter(lambda parts: len({both.split()[0] for kind, both in parts if kind == "tree"}) == sum(kind == "tree" for kind, _ in parts)),
        st.integers(1, 12),
    ),
    max_size=12,
)  # fmt: skip

BALED = st.sampled_from(
    [1, 20]
)  # from so many blocks on they lie in a bale: all of them, or only as they came in


def state(place: Path) -> State:
    """By table and key every row, in the columns of HEADINGS."""
    found: State = {}
    for table, sheet in source_of(place).sheets.items():
        by_name = dict(zip(sheet.headings, sheet.cells, strict=True))
        rows = zip(*(by_name[one] for one in HEADINGS[table]), strict=True)
        found[table] = {tuple(row[: KEYS[table]]): tuple(row) for row in rows}
    return found


def together(brought: dict[int, dict[str, list[Row]]], standing: list[int]) -> State:
    """The imports that stand, one over the other."""
    found: State = {}
    for number in sorted(standing):
        for table, rows in brought[number].items():
            found.setdefault(table, {}).update({row[: KEYS[table]]: row for row in rows})
    return found


class Model:
    """What is expected of a store: a plain account of what each import brought and which stand."""

    def __init__(self, place: Path):
        self.place, self.last = place, 0
        self.brought: dict[int, dict[str, list[Row]]] = {}
        self.came: list[int] = []  # those that stand, by when they came in last
        self.does: dict[int, tuple[int, bool]] = {}  # by import what it brings in, or takes out

    def bring(self, parts: frozenset) -> None:
        rows = rows_of(self.last + 1, parts)
        folder = self.place.parent / f"came{self.last + 1}"
        for old in folder.glob("*.csv"):
            old.unlink()
        write_folder(
            folder, {table: [HEADINGS[table], *map(list, some)] for table, some in rows.items()}, None
        )
        done = bring(self.place, folder, "Ada", changes=True)
        if done.number:
            self.last, self.brought[done.number] = done.number, rows
            self.came.append(done.number)
            self.does[done.number] = (done.number, True)

    def undo(self, number: int) -> bool:
        """Whether it was allowed; else nothing is changed by it."""
        before = state(self.place)
        try:
            now, _, _ = undo(self.place, number, "Ada")
        except StoreError:
            assert state(self.place) == before
            return False
        one, brings = self.does[number]
        self.last, self.does[now] = now, (one, not brings)
        if brings:
            self.came.remove(one)
        else:
            assert one not in self.came
            self.came.append(one)
        return True

    def is_right(self) -> None:
        assert state(self.place) == together(self.brought, self.came)
        told = brought_in(self.place)
        assert {one.number for one in told if one.number in self.brought and not one.undone_by} == set(
            self.came
        )


# Without making an example smaller, which takes minutes.
PHASES = (Phase.explicit, Phase.reuse, Phase.generate)


@settings(max_examples=6, deadline=None, phases=PHASES)
@given(STEPS, BALED)
def test_what_stands_is_what_the_imports_that_stand_brought_and_all_of_it_can_go(steps, least):
    goes_through(steps, least)


@pytest.mark.slow
@settings(max_examples=200, deadline=None, phases=PHASES)
@given(STEPS, BALED)
def test_so_it_is_two_hundred_times(steps, least):
    goes_through(steps, least)


def goes_through(steps: list, least: int) -> None:
    with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patched:
        patched.setattr("dashboard.records.store.bringing.LEAST", least)
        model = Model(Path(folder) / "any.store")
        model.bring(frozenset({("site", "low"), *(("cultivar", one) for one in CULTIVARS)}))
        model.bring(frozenset({*(("sample", one) for one in SAMPLES), ("tree", f"1 {CULTIVARS[0]}")}))
        for step in steps:
            if isinstance(step, int):
                model.undo(step)
            else:
                model.bring(step)
            model.is_right()
        while model.came:
            assert model.undo(model.came[-1])
            model.is_right()
        assert state(model.place) == {}
