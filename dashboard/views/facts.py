"""What is recorded about one cultivar beside its measured traits, as pairs of a label and a plain text."""

from __future__ import annotations

from typing import Any

import pandas as pd

from dashboard.catalogue import Catalogue
from dashboard.ripening import day_label
from dashboard.traits import CLASSES
from dashboard.units import shown_in
from dashboard.views.words import counted, listed, site_name

PLAIN = (
    ("Flesh texture", "flesh_texture"),
    ("Status", "status"),
    ("Bacterial spot (0 none to 5)", "bacterial_spot"),
    ("Winter chill needed (portions)", "chill_requirement_cp"),
    ("Winter chill needed (hours)", "chill_requirement_h"),
    ("Note", "note"),
)


def facts(catalogue: Catalogue, dossier: dict[str, Any], system: str) -> list[tuple[str, str]]:
    """``dossier`` from the comparison; only what is recorded comes out."""
    own = dossier["facts"]
    lines = [(label, str(own[field])) for field, (label, _) in CLASSES.items()]
    lines += _picking(catalogue, dossier)
    lines += [(label, _plain(own[field])) for label, field in PLAIN if pd.notna(own.get(field))]
    lines += _bloom(dossier["bloom"]) + _yield(dossier["yields"], system)
    lines += _trees(catalogue, dossier["trees"]) + _offers(dossier["nursery"])
    return lines


def _picking(catalogue: Catalogue, dossier: dict[str, Any]) -> list[tuple[str, str]]:
    window, south = dossier["window"], catalogue.south
    if pd.isna(window["first"]):
        return [("Usually picked", "no pick recorded")]
    lines = [
        (
            "Picked in an ordinary season",
            f"{day_label(window['first'], south)} to {day_label(window['last'], south)}",
        ),
        (
            "In nine seasons of ten between",
            f"{day_label(window['not_before'], south)} and {day_label(window['not_after'], south)}",
        ),
        (
            "Earliest and latest pick seen",
            f"{day_label(window['earliest'], south)}, {day_label(window['latest'], south)}",
        ),
    ]
    if pd.notna(window["from_check"]) and catalogue.checks and dossier["name"] not in catalogue.checks[:1]:
        days = round(window["from_check"])
        apart = (
            "the same day"
            if days == 0
            else f"{counted(abs(days), 'day')} {'later' if days > 0 else 'earlier'}"
        )
        lines.append((f"Beside the check {catalogue.checks[0]}", apart))
    return lines


def _bloom(bloom: pd.DataFrame) -> list[tuple[str, str]]:
    if bloom.empty or bloom["full_bloom"].isna().all():
        return []
    days = bloom["full_bloom"].dropna().dt.day_of_year
    mean = f"{day_label(days.mean())} on average"
    if len(days) == 1:
        return [("Full bloom", f"{day_label(days.iloc[0])}, seen once")]
    return [
        ("Full bloom", f"{mean}, {day_label(days.min())} to {day_label(days.max())} over {len(days)} records")
    ]


def _yield(yields: pd.DataFrame, system: str) -> list[tuple[str, str]]:
    if yields.empty or yields["kg_per_tree"].isna().all():
        return []
    unit = shown_in("mass", system)
    by_season = yields.groupby(["site", "year"], observed=True)["kg_per_tree"].sum(min_count=1).dropna()
    shown = unit.from_si(by_season)
    span = f", {shown.min():.0f} to {shown.max():.0f}" if len(shown) > 1 else ""
    return [
        (
            f"Yield a tree ({unit.symbol})",
            f"{shown.mean():.0f} on average{span} in {counted(len(shown), 'crop')}",
        )
    ]


def _trees(catalogue: Catalogue, trees: pd.DataFrame) -> list[tuple[str, str]]:
    if trees.empty:
        return [("Trees standing", "none recorded")]
    told = [
        f"{int(t.trees)} at {site_name(catalogue, t.site)}, row {_plain(t.row)}"
        + (f", on {t.rootstock}" if pd.notna(t.rootstock) else "")
        + (f", planted {int(t.planted)}" if pd.notna(t.planted) else "")
        for t in map(_any, trees.itertuples())
    ]
    return [("Trees standing", "; ".join(told))]


def _offers(nursery: pd.DataFrame) -> list[tuple[str, str]]:
    """The newest season's offers that still have trees."""
    if nursery.empty:
        return []
    newest = nursery[(nursery["season"] == nursery["season"].max()) & ~(nursery["trees_available"] == 0)]
    if newest.empty:
        return [("Nursery offers", f"none left for {_plain(nursery['season'].max())}")]
    told = [
        f"{o.nursery}: {o.price_per_tree:.2f} a tree, bundles of {_plain(o.bundle)}"
        for o in newest.itertuples()
    ]
    return [(f"Nursery offers {_plain(newest['season'].iloc[0])}", listed(told, 4))]


def _any(row: Any) -> Any:
    return row


def _plain(value: Any) -> str:
    return f"{value:g}" if isinstance(value, int | float) else str(value)
