"""The table of cultivars side by side: one column a cultivar, one row a trait, and on what the figures rest."""

from __future__ import annotations

from typing import Any

from dashboard.answers.question import Question
from dashboard.answers.side_by_side import SideBySide
from dashboard.ripening import day_label
from dashboard.terms.traits import TRAITS, UNKNOWN
from dashboard.wording.columns import shown
from dashboard.wording.facts import facts
from dashboard.wording.figures import basis_told, counted

Line = tuple[str, list[str]]  # a label, and a cell a cultivar
ON_RECORD = (
    "Flesh texture",
    "Winter chill",
    "Bacterial spot",
    "Full bloom",
    "Yield per tree",
    "Nursery offers",
)


def table_view(asked: Question) -> dict:
    """One column a cultivar, one row a trait."""
    found = asked.side_by_side
    assert found is not None
    rows = _rows(asked, found)
    told: dict[str, Line] = {
        one.key: (one.heading(asked, "beside"), [one.told(asked, row) for row in rows]) for one in shown(asked, "beside")
    }  # fmt: skip
    told |= {key: (label, [UNKNOWN if cell == "–" else cell for cell in cells]) for key, (label, cells) in told.items() if key in found.values}  # fmt: skip
    lines: list[Line] = []
    for key, line in told.items():
        if key == next(iter(TRAITS)):
            lines += _picked(asked, found)
        if key == "status":
            lines += _on_record(asked, found, [label for label, _ in lines])
        lines.append(line)
    return {
        "title": f"Averages with their likely ranges (90 %): {basis_told(asked)}",
        "columns": [
            {"key": "what", "label": "", "kind": "head"},
            *({"key": f"c{place}", "label": name, "kind": "side"} for place, name in enumerate(found.names)),
        ],
        "rows": [{"id": str(place), "name": "", "cells": [label, *cells]} for place, (label, cells) in enumerate(lines)],
    }  # fmt: skip


def _rows(asked: Question, found: SideBySide) -> list[dict[Any, Any]]:
    """Of each its row of a ranking, with what its figures rest on here, and whether it is protected."""
    table, known = asked.rows_of(found.names), asked.catalogue.cultivars
    return [
        {**table.loc[name], **found.counts.loc[name], "name": name, "status": _status(known.loc[name])}
        for name in found.names
    ]


def _on_record(asked: Question, found: SideBySide, before: list[str]) -> list[Line]:
    """What is recorded beside the traits: texture, chill, spot, yield, offers; a line where any has it, and none that a column
    told before."""
    told = [dict(facts(asked.catalogue, asked.dossier_of(name), asked.units)) for name in found.names]
    labels = [label for one in told for label in one if label.startswith(ON_RECORD)]
    return [
        (label, [one.get(label, UNKNOWN) for one in told])
        for label in dict.fromkeys(labels)
        if not any(label.startswith(column.partition(" (")[0]) for column in before)
    ]


def _picked(asked: Question, found: SideBySide) -> list[Line]:
    south, windows = asked.catalogue.south, found.windows
    first = found.days_after.idxmin() if found.days_after.notna().any() else None
    dates, after = [], []
    for name in found.names:
        row: Any = windows.loc[name]
        days = found.days_after[name]
        known = row["first"] == row["first"]
        dates.append(
            f"{day_label(row['first'], south)} – {day_label(row['last'], south)}" if known else "not known"
        )
        after.append("–" if days != days else "the first" if name == first else counted(round(days), "day"))
    return [("Picked", dates), (f"After {first}" if first else "After the first", after)]


def _status(facts: Any) -> str:
    return (
        f"{facts['status']}{', protected: you need a license to propagate it' if facts['protected'] else ''}"
    )
