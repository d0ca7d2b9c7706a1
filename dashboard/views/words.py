"""Sentences and rows that several views write, each cell a plain text."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dashboard.catalogue import Catalogue
from dashboard.comparison import Comparison
from dashboard.traits import CLASSES, TRAITS

LABELS = {field: label for field, (label, _) in CLASSES.items()} | {
    "status": "Status",
    "ripening": "Picked in",
    "seasons": "Evidence, at least",
    "site": "Figures for",
    "ripeness": "Size and sugar of fruit",
    "units": "Units",
}


def counted(number: int, word: str) -> str:
    return f"{number:,} {word}{'' if number == 1 else 's'}"


def interval(key: str, row: Mapping[Any, Any], system: str) -> str:
    """``2.61 (2.48–2.74)``: the estimate with its 90 % interval; says so when the interval is not known."""
    trait = TRAITS[key]
    if row[key] != row[key]:
        return "–"
    low, high = row[f"{key}_low"], row[f"{key}_high"]
    if low != low:
        return f"{trait.written(row[key], system)} (?)"
    return f"{trait.written(row[key], system)} ({trait.written(low, system)}–{trait.written(high, system)})"


def evidence(row: Mapping[Any, Any]) -> str:
    if not row["samples"] > 0:
        return "not sampled"
    return f"{counted(int(row['seasons']), 'season')}, {counted(int(row['sites']), 'site')}, {counted(int(row['samples']), 'sample')}"


def listed(names: list[str], most: int = 6) -> str:
    return ", ".join(names[:most]) + (f" and {len(names) - most} more" if len(names) > most else "")


def basis_told(asked: Comparison) -> str:
    """What the figures on the screen are: by which method, where, and of which fruit."""
    methods = asked.values["size"]["method"]
    where = (
        f"at {site_name(asked.catalogue, asked.site)}"
        if asked.site
        else asked.catalogue.worth["size"].plan.meaning
    )
    fruit = "size and sugar at equal firmness" if asked.ripeness == "equal" else "fruit as picked"
    return f"{methods.iloc[0] if len(methods) else 'none'}, {where}, {fruit}"


def site_name(catalogue: Catalogue, site: Any) -> str:
    """The name a site goes by, or its key where it has none."""
    named = catalogue.sites.loc[(catalogue.sites["site"] == site).to_numpy(dtype=bool), "name"].dropna()
    return str(named.iloc[0]) if len(named) else str(site)
