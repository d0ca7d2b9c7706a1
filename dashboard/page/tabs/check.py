"""What the check found: a heap to mend and one to look at, a line a cause, opened to its places and from there to the fruit."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import pandas as pd

from dashboard.answers.catalogue import Catalogue
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.elements import RowTable
from dashboard.page.parts.paged import standing
from dashboard.page.parts.pressable import Fold
from dashboard.records.causes import causes
from dashboard.records.heaps import LOOK, MEND, heaps
from dashboard.records.problems import Problem, listed
from dashboard.ripening import date_label
from dashboard.visit.state import State
from dashboard.wording.figures import counted, site_name

PAGE = 20
HEAPS = {MEND: "To mend", LOOK: "To look at"}
BECAME = {"error": "Set aside", "flag": "Used as it stands"}


def found(state: State) -> list[Fold]:
    """A fold for each heap that holds something."""
    return [
        Fold(
            f"{HEAPS[name]}: {counted(len(problems), 'place')}, the newest first",
            make=partial(_made, state, problems),
        )
        for name, problems in heaps(state.question.catalogue.problems).items()
        if problems
    ]


def _made(state: State, problems: Sequence[Problem]) -> list[Column]:
    return [Heap(state, problems).shown]


class Heap:
    """``shown``: its causes, and under them the places of the one that was pressed."""

    def __init__(self, state: State, problems: Sequence[Problem]) -> None:
        self._state, self._causes, self._places = state, causes(problems), list(problems[:0])
        self._asked = 0
        self.lines = RowTable(lambda what, value: self._line(what, str(value)))
        self.places = RowTable(lambda what, value: self._place(what, str(value)), visible=False)
        self.lines.tell(causes_view(state.question.catalogue, self._causes, 1))
        self.shown = Column(self.lines, self.places, sizing_mode="stretch_width")

    def _line(self, what: str, value: str) -> None:
        if what == "page":
            self.lines.tell(causes_view(self._state.question.catalogue, self._causes, int(value)))
        elif what == "open" and value.isdigit() and int(value) < len(self._causes):
            self._places, self._asked = self._causes[int(value)], self._asked + 1
            self.places.visible = True
            self._tell(1)

    def _place(self, what: str, value: str) -> None:
        if what == "page":
            self._tell(int(value))
        elif what == "open" and value.isdigit() and int(value) < len(self._places):
            whose = self._places[int(value)].whose
            if whose is not None:
                open_sample(self._state, whose.sample)

    def _tell(self, page: int) -> None:
        view = places_view(self._state.question.catalogue, self._places, page)
        self.places.tell({**view, "asked": self._asked})


def open_sample(state: State, sample: str) -> None:
    """Show the fruit of one sample, on the card of its cultivar."""
    samples = state.question.catalogue.summaries
    of = samples["cultivar"].astype(str)[(samples["sample"].astype(str) == sample).to_numpy(dtype=bool)]
    if len(of):
        state.choose(cultivar=of.iloc[0], tab="cultivar", sample=sample)


def causes_view(catalogue: Catalogue, same: Sequence[Sequence[Problem]], page: int) -> dict:
    """A line a cause: how many places, the newest of them, and what is wrong there."""
    return _paged(
        [
            [counted(len(one), "place"), _said(one[0]), _whose(catalogue, one[0]), one[0].suggestion, _columns(one), BECAME[one[0].severity]]
            for one in same
        ],
        page,
        {
            "title": "A line a cause; press one for its places",
            "columns": [
                {"key": "places", "label": "Places", "kind": "name"}, {"key": "rule", "label": "What is odd, at the newest", "kind": "reason"},
                {"key": "newest", "label": "The newest", "kind": "reason"}, {"key": "suggestion", "label": "What to do", "kind": "reason"},
                {"key": "column", "label": "Column", "kind": "reason"}, {"key": "became", "label": "What became of it"},
            ],
        },
    )  # fmt: skip


def places_view(catalogue: Catalogue, problems: Sequence[Problem], page: int) -> dict:
    """Every place of a cause, the newest first; a press on a cultivar opens the sample."""
    known = set(catalogue.summaries["sample"].astype(str))
    rows = []
    for one in problems:
        whose = one.whose
        opens = whose is not None and whose.sample in known
        rows.append(
            [
                whose.cultivar if whose and opens else "", _day(one), whose.cultivar if whose and not opens else "",
                site_name(catalogue, whose.site) if whose else "", _said(one),
                ", ".join(part for part in (one.file, one.sheet, f"row {one.row}" if one.row else "", one.column) if part),
            ]
        )  # fmt: skip
    unopened = any(row[2] for row in rows)
    told = _paged(
        rows,
        page,
        {
            "title": f"{counted(len(problems), 'place')}, the newest first. A press on a name opens that sample and its fruit.",
            "columns": [
                {"key": "opens", "label": "Cultivar", "kind": "name"}, {"key": "day", "label": "Picked"},
                {"key": "named", "label": "Not loaded"}, {"key": "site", "label": "Site"},
                {"key": "rule", "label": "What is odd", "kind": "reason"}, {"key": "place", "label": "File and row", "kind": "reason"},
            ],
        },
    )  # fmt: skip
    if not unopened:
        told["columns"] = [column for column in told["columns"] if column["key"] != "named"]
        told["rows"] = [{**row, "cells": [*row["cells"][:2], *row["cells"][3:]]} for row in told["rows"]]
    return told


def _paged(cells: list[list[str]], page: int, told: dict) -> dict:
    page, pages, part = standing(page, len(cells), PAGE)
    shown = list(enumerate(cells))[part]
    rows = [{"id": str(number), "name": str(number), "cells": row} for number, row in shown]
    return {**told, "rows": rows, "page": page, "pages": pages, "total": len(cells), "empty": "Nothing."}


def _whose(catalogue: Catalogue, one: Problem) -> str:
    whose = one.whose
    parts = (
        (_day(one), whose.cultivar, site_name(catalogue, whose.site) if whose.site else "") if whose else ()
    )
    return ", ".join(part for part in parts if part) or f"{one.file}{f', row {one.row}' if one.row else ''}"


def _day(one: Problem) -> str:
    return date_label(pd.Timestamp(one.whose.day)) if one.whose and one.whose.day else ""


def _columns(same: Sequence[Problem]) -> str:
    return listed(dict.fromkeys(one.column for one in same if one.column))


def _said(one: Problem) -> str:
    return f"{one.value[:80]} {one.rule}".strip()
