"""What is recorded about one cultivar beside its measured traits, as pairs of a label and a plain text."""

from __future__ import annotations

from typing import Any

import pandas as pd

from dashboard.answers.catalogue import Catalogue
from dashboard.estimates.worth import LEANS_FROM
from dashboard.ripening import day_label
from dashboard.terms.traits import CLASSES, trait_called
from dashboard.terms.units import shown_in
from dashboard.wording.figures import called, counted, listed, price, site_name

AS_RECORDED = (
    ("Flesh texture", "flesh_texture"),
    ("Status", "status"),
    ("Seed parent", "seed_parent"),
    ("Pollen parent", "pollen_parent"),
    ("Bacterial spot (0 none to 5)", "bacterial_spot"),
    ("Winter chill needed (portions)", "chill_requirement_cp"),
    ("Winter chill needed (hours)", "chill_requirement_h"),
    ("Note", "note"),
)


def facts(catalogue: Catalogue, dossier: dict[str, Any], system: str) -> list[tuple[str, str]]:
    """``dossier`` of the question; only what is recorded comes out."""
    own = dossier["facts"]
    lines = [(label, str(own[field])) for field, (label, _) in CLASSES.items()]
    lines += _picking(catalogue, dossier)
    lines += [(label, _plain(own[field])) for label, field in AS_RECORDED if pd.notna(own.get(field))]
    lines += _leaning(catalogue, str(dossier["name"]))
    lines += _bloom(dossier["bloom"]) + _crops(dossier["yields"], system)
    lines += _hail(catalogue, str(dossier["name"]))
    return lines + _trees(catalogue, dossier["trees"]) + _offers(dossier["nursery"], catalogue.currency)


def _leaning(catalogue: Catalogue, name: str) -> list[tuple[str, str]]:
    """In which traits its relatives tell much of it, and how much."""
    wider = {trait_called(key).label.lower(): worth.leaning(name) for key, worth in catalogue.worth.items()}
    told = [f"{label} by {100 * by:.0f} %" for label, by in wider.items() if by >= LEANS_FROM]
    said = f"without them its likely range would be wider: {listed(told, len(told))}"
    return [("Leans on its relatives", said)] if told else []


def _picking(catalogue: Catalogue, dossier: dict[str, Any]) -> list[tuple[str, str]]:
    window, south = dossier["window"], catalogue.south
    if pd.isna(window["first"]):
        sampled = len(dossier["samples"]) > 0  # its fruit count, whether or not the days are known
        return [
            ("Usually picked", "unknown: no day of picking is on record" if sampled else "no pick recorded")
        ]
    day = {name: day_label(window[name], south) for name in _DAYS}
    lines = [
        ("Picked in an ordinary season", f"{day['first']} to {day['last']}"),
        ("In nine seasons of ten between", f"{day['not_before']} and {day['not_after']}"),
        ("Earliest and latest pick seen", f"{day['earliest']}, {day['latest']}"),
    ]
    main = catalogue.checks[:1]
    if pd.notna(window["from_check"]) and main and dossier["name"] not in main:
        lines.append((f"Beside the check {called(main[0])}", days_apart(window["from_check"])))
    return lines


_DAYS = ("first", "last", "not_before", "not_after", "earliest", "latest")


def days_apart(days: float) -> str:
    """``3 days later``."""
    whole = round(days)
    if whole == 0:
        return "the same day"
    return f"{counted(abs(whole), 'day')} {'later' if whole > 0 else 'earlier'}"


def _hail(catalogue: Catalogue, name: str) -> list[tuple[str, str]]:
    noted = catalogue.records_tables.get("hail")
    own = None if noted is None else noted[noted["cultivar"] == name]
    if own is None or not len(own):
        return []
    years = listed([str(year) for year in sorted(set(own["year"]))])
    return [("Hail noted", f"{counted(len(own), 'sample')}, {years}")]


def _bloom(bloom: pd.DataFrame) -> list[tuple[str, str]]:
    days = bloom["full_bloom"].dropna().dt.day_of_year if len(bloom) else pd.Series(dtype=float)
    if days.empty:
        return []
    if len(days) == 1:
        return [("Full bloom", f"{day_label(days.iloc[0])}, seen once")]
    mean, first, last = (day_label(day) for day in (days.mean(), days.min(), days.max()))
    return [("Full bloom", f"{mean} on average, {first} to {last} over {len(days)} records")]


def _crops(yields: pd.DataFrame, system: str) -> list[tuple[str, str]]:
    if yields.empty or yields["kg_per_tree"].isna().all():
        return []
    unit = shown_in("mass", system)
    by_season = yields.groupby(["site", "year"], observed=True)["kg_per_tree"].sum(min_count=1).dropna()
    shown = unit.from_si(by_season)
    span = f", {shown.min():.0f} to {shown.max():.0f}" if len(shown) > 1 else ""
    told = f"{shown.mean():.0f} on average{span} in {counted(len(shown), 'crop')}"
    return [(f"Yield per tree ({unit.symbol})", told)]


def _trees(catalogue: Catalogue, trees: pd.DataFrame) -> list[tuple[str, str]]:
    if trees.empty:
        return [("Trees standing", "none recorded")]
    told = [
        f"{int(tree['trees'])} at {site_name(catalogue, tree['site'])}, row {_plain(tree['row'])}"
        + (f", on {tree['rootstock']}" if pd.notna(tree["rootstock"]) else "")
        + (f", planted {int(tree['planted'])}" if pd.notna(tree["planted"]) else "")
        for tree in trees.to_dict("records")
    ]
    return [("Trees standing", "; ".join(told))]


def _offers(nursery: pd.DataFrame, currency: str) -> list[tuple[str, str]]:
    """The newest season's offers that still have trees."""
    if nursery.empty:
        return []
    newest = nursery["season"].max()
    rows = nursery[(nursery["season"] == newest) & ~(nursery["trees_available"] == 0)].to_dict("records")
    if not rows:
        return [("Nursery offers", f"none left for {_plain(newest)}")]
    told = [
        f"{row['nursery']}: {price(row['price_per_tree'], currency, 'a tree')}, bundles of {_plain(row['bundle'])}"
        for row in rows
    ]
    return [(f"Nursery offers {_plain(newest)}", listed(told, 4))]


def _plain(value: Any) -> str:
    return f"{value:g}" if isinstance(value, int | float) else str(value)
