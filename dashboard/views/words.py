"""Sentences and rows that several views write, each cell a plain text."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dashboard.catalogue import Catalogue
from dashboard.comparison import Comparison
from dashboard.market import Limit, Market
from dashboard.market.reasons import bound_written
from dashboard.ripening import day_label
from dashboard.traits import CLASSES, TRAITS

LABELS = {field: label for field, (label, _) in CLASSES.items()} | {
    "status": "Status",
    "ripening": "Picked in",
    "seasons": "Seasons of evidence",
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


def stretches(days: list[tuple[float, float]], south: bool, most: int = 8) -> str:
    """``20 to 21 Jul; 1 to 4 Aug``: stretches of days as dates."""
    told = [
        f"{day_label(a, south)} to {day_label(b, south)}" if b > a else day_label(a, south) for a, b in days
    ]
    return "; ".join(told[:most]) + (f" and {len(told) - most} more" if len(told) > most else "")


def market_told(market: Market, system: str) -> tuple[str, str]:
    """A market's limits and wishes, written out."""
    limits = "; ".join(limit_told(limit, system) for limit in market.limits) or "none"
    wishes = ", ".join(dict.fromkeys(TRAITS[wish.key].label.lower() for wish in market.wishes)) or "nothing"
    return f"Limits: {limits}.", f"Ranks what clears them by: {wishes}."


def limit_told(limit: Limit, system: str) -> str:
    if limit.kind == "class":
        return f"{CLASSES[limit.key][0].lower()} {' or '.join(limit.any_of)}"
    trait = TRAITS[limit.key]
    symbol = trait.unit(system).symbol
    bounds = [
        f"{word} {bound_written(limit.key, bound, system)} {symbol}".strip()
        for word, bound in (("at least", limit.at_least), ("at most", limit.at_most))
        if bound is not None
    ]
    whose = f"{100 * limit.share:g} % of its fruit have" if limit.share is not None else "on average"
    return f"{whose} {trait.label.lower()} {' and '.join(bounds)}"
