"""The table of cultivars side by side: one column a cultivar, one row a trait, and on what the figures rest."""

from __future__ import annotations

from typing import Any

from dashboard.answers.question import Comparison
from dashboard.answers.side_by_side import SideBySide
from dashboard.ripening import day_label
from dashboard.terms.traits import TRAITS
from dashboard.wording.facts import facts
from dashboard.wording.figures import basis_told, chance, counted, score

ON_RECORD = (
    "Flesh texture",
    "Winter chill",
    "Bacterial spot",
    "Full bloom",
    "Yield a tree",
    "Nursery offers",
)


def table_view(asked: Comparison) -> dict:
    """One column a cultivar, one row a trait."""
    found = asked.side_by_side
    assert found is not None
    lines: list[tuple[str, list[str]]] = []
    if asked.profile:
        lines.append((f"For {asked.profile.name}", [asked.reason(name) for name in found.names]))
        rows = asked.rows_of(found.names)
        each = [rows.loc[name].to_dict() for name in found.names]
        lines.append(("Score (80 % interval)", [score(row) for row in each]))
        lines.append(("Chance it qualifies", [chance(row["clears"]) for row in each]))
    lines += _picked(asked, found)
    for key, trait in TRAITS.items():
        lines.append(
            (trait.heading(asked.units), [_value(key, found, name, asked.units) for name in found.names])
        )
    lines += [
        (label, [f"{found.counts[key][name]:,}" for name in found.names])
        for key, label in (
            ("seasons", "Seasons of evidence"),
            ("sites", "Sites"),
            ("samples", "Samples"),
            ("fruit", "Fruit measured"),
        )
    ]
    lines += _on_record(asked, found)
    known = asked.catalogue.cultivars
    lines.append(("Status", [_status(known.loc[name]) for name in found.names]))
    return {
        "title": f"Estimates with 90 % intervals: {basis_told(asked)}",
        "columns": [
            {"key": "what", "label": "", "kind": "head"},
            *({"key": f"c{place}", "label": name, "kind": "side"} for place, name in enumerate(found.names)),
        ],
        "rows": [{"id": str(place), "name": "", "cells": [label, *cells]} for place, (label, cells) in enumerate(lines)],
    }  # fmt: skip


def _on_record(asked: Comparison, found: SideBySide) -> list[tuple[str, list[str]]]:
    """What is recorded beside the traits: texture, chill, spot, yield, offers; a line where any has it."""
    told = [dict(facts(asked.catalogue, asked.dossier_of(name), asked.units)) for name in found.names]
    labels = [label for one in told for label in one if label.startswith(ON_RECORD)]
    return [(label, [one.get(label, "not recorded") for one in told]) for label in dict.fromkeys(labels)]


def _picked(asked: Comparison, found: SideBySide) -> list[tuple[str, list[str]]]:
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


def _value(key: str, found: SideBySide, name: str, units: str) -> str:
    trait = TRAITS[key]
    own: Any = found.values[key].loc[name]
    if own["estimate"] != own["estimate"]:
        return "not recorded"
    if own["low"] != own["low"]:
        return f"{trait.written(own['estimate'], units)} (?)"
    low, high = (trait.written(own[end], units) for end in ("low", "high"))
    return f"{trait.written(own['estimate'], units)} ({low}–{high})"


def _status(facts: Any) -> str:
    return f"{facts['status']}{', protected: no propagation without a licence' if facts['protected'] else ''}"
