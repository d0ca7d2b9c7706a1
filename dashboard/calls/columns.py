"""The columns of a ranking as a notebook has them: names that Python can write, units in them, dates as dates.

Figures are those of the page, not rounded. Which columns there are beside the usual ones: ``OFFERED``, by the keys of the page's.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

import pandas as pd

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.question import Question
from dashboard.calls.reading import CHANCE, Decimals
from dashboard.calls.understood import words
from dashboard.ripening.days import of_calendar
from dashboard.terms.traits import CLASSES, HEADLINE, TRAITS, Trait, trait_called
from dashboard.terms.units import shown_in
from dashboard.wording.columns import COLUMNS, column
from dashboard.wording.columns import OFFERED as CHOSEN

AMERICAN = {"flesh_colour": "flesh_color", "stone": "pit"}  # what a screen calls otherwise than the records
CLASS = "class"
ALL = "all"
Headings = dict[str, tuple[str, Decimals]]
Found = tuple[
    pd.DataFrame, list[str], Headings
]  # what an answer is made of: rows, sentences, what stands over each column


@dataclass
class Told:
    """A frame while it is put together, with what a reader sees over each column and how many decimals."""

    columns: dict[str, Any] = field(default_factory=dict)
    headings: Headings = field(default_factory=dict)

    def add(self, name: str, values: Any, heading: str = "", decimals: Decimals = None) -> None:
        self.columns[name] = values
        self.headings[name] = (heading or name.replace("_", " ").capitalize(), decimals)

    def frame(self, index: pd.Index) -> pd.DataFrame:
        return pd.DataFrame(self.columns, index=index.rename("cultivar"))


def column_of(trait: Trait, units: str) -> str:
    """``size_in``: its key with the unit; the key alone for what has no unit or says it by being a rating."""
    unit = trait.unit(units)
    return trait.key if unit.suffix in ("rating", "ratio") else f"{trait.key}_{unit.suffix}"


def add_trait(told: Told, trait: Trait, units: str, values: pd.DataFrame) -> None:
    """The estimate and the ends of its interval, from columns estimate, low and high in SI."""
    unit, name = trait.unit(units), column_of(trait, units)
    for end, part in (("", "estimate"), ("_low", "low"), ("_high", "high")):
        heading = trait.heading(units) + {"": "", "_low": ", low", "_high": ", high"}[end]
        told.add(f"{name}{end}", unit.from_si(values[part].astype(float)), heading, trait.decimals(units))


def add_dates(told: Told, catalogue: Catalogue, **days: tuple[pd.Series, str]) -> None:
    """Days of the season as dates of the season to come: by name the days and the heading."""
    for name, (values, heading) in days.items():
        told.add(name, dates(catalogue, values), heading)


def add_picks(told: Told, catalogue: Catalogue, first: pd.Series, last: pd.Series) -> None:
    """The usual first and last pick."""
    add_dates(told, catalogue, first_pick=(first, "First pick, usual"), last_pick=(last, "Last pick, usual"))


def season_to_come(catalogue: Catalogue) -> int:
    """The one after the last on record, in which dates are written."""
    last = catalogue.summaries["season"].max() if len(catalogue.summaries) else float("nan")
    return int(last) + 1 if last == last else pd.Timestamp.now().year


def dates(catalogue: Catalogue, days: Iterable[float]) -> pd.Series:
    """Days of the season as dates, NaT where not known; a southern season begins in July of the year before."""
    season, south = season_to_come(catalogue), catalogue.south
    found = [pd.NaT if day != day else _date(day, season, south) for day in days]
    index = days.index if isinstance(days, pd.Series) else None
    return pd.Series(pd.to_datetime(pd.Series(found, dtype=object)).to_numpy(), index=index, dtype="datetime64[us]")  # fmt: skip


def _date(day: float, season: int, south: bool) -> pd.Timestamp:
    of_month, month = of_calendar(float(day), south)
    return pd.Timestamp(season - (south and month >= 7), month, of_month)


def ranking_frame(
    asked: Question, rows: pd.DataFrame, further: Iterable[str]
) -> tuple[pd.DataFrame, Headings]:
    """``rows`` of a ranking with the usual columns and the ``further`` ones, keys of ``OFFERED``."""
    told = Told()
    if asked.profile is not None:
        told.add("rank", rows["rank"])
        told.add("verdict", rows["verdict"].astype(str), "Qualifies")
        for end in ("", "_low", "_high"):
            told.add(f"score{end}", 100 * rows[f"score{end}"].astype(float), "Score (0 to 100)", 0)
        told.add("chance_pct", 100 * rows["clears"].astype(float), "Chance it qualifies (%)", CHANCE)
    add_picks(told, asked.catalogue, rows["first"], rows["last"])
    wanted = tuple(dict.fromkeys((*HEADLINE, *further)))
    for key in (*TRAITS, *asked.catalogue.own_traits):
        if key in wanted:
            add_trait(told, trait_called(key), asked.units, _estimates(rows, key))
    for key in asked.catalogue.own_facts:
        if key in wanted:
            told.add(key.replace(" ", "_"), rows[key], f"{key[:1].upper()}{key[1:]}")
    for key in wanted:
        if key in _FURTHER:
            _FURTHER[key](told, asked, rows)
    for name in ("seasons", "sites", "samples", "fruit"):
        told.add(name, rows[name])
    return told.frame(rows.index), told.headings


def columns_called(catalogue: Catalogue, said: Any) -> tuple[str, ...]:
    """The further columns that were asked for, by key or by their heading on the page; "all" is every one."""
    every = (*OFFERED, *catalogue.own_traits, *catalogue.own_facts)
    always = {key: key for key in HEADLINE}  # there without being asked for
    headings = {key: column(catalogue, key).label for key in every if key in COLUMNS or key not in OFFERED}
    ways = {key: key for key in every} | {
        head: key for key, head in headings.items() if isinstance(head, str)
    }
    found = words(said, {**ways, **always, ALL: ALL}, "column")
    return every if ALL in found else found


def _estimates(rows: pd.DataFrame, key: str) -> pd.DataFrame:
    return rows[[key, f"{key}_low", f"{key}_high"]].set_axis(["estimate", "low", "high"], axis=1)


def _classes(told: Told, _asked: Question, rows: pd.DataFrame) -> None:
    for key, (label, _) in CLASSES.items():
        told.add(AMERICAN.get(key, key), rows[key].astype(str), label)
    told.add("status", rows["status"].astype(str))


def _chill(told: Told, _asked: Question, rows: pd.DataFrame) -> None:
    told.add("chill_hours", rows["chill_h"], "Winter chill (hours)")
    told.add("chill_portions", rows["chill_cp"], "Winter chill (portions)")


def _winters(told: Told, asked: Question, rows: pd.DataFrame) -> None:
    found = asked.my_site
    if found is not None and not found.refused:
        for end in ("", "_low", "_high"):
            told.add(
                f"winters_in_10{end}",
                10 * found.enough[f"enough{end}"].reindex(rows.index),
                "Winters in 10 with enough chill",
                1,
            )


def _spot(told: Told, _asked: Question, rows: pd.DataFrame) -> None:
    told.add("bacterial_spot", rows["bacterial_spot"], "Bacterial spot (0 none to 5)")


def _hail(told: Told, _asked: Question, rows: pd.DataFrame) -> None:
    told.add("hail_samples", rows["hail"].astype(int), "Samples with hail noted")
    told.add("hail_years", rows["hail_years"].astype(str), "Years with hail noted")


def _yield(told: Told, asked: Question, rows: pd.DataFrame) -> None:
    mass = shown_in("mass", asked.units)
    for name, end, heading in (("yield_kg", "", "mean"), ("yield_low", "_least", "least"), ("yield_high", "_most", "most")):  # fmt: skip
        told.add(f"yield_{mass.suffix}_per_tree{end}", mass.from_si(rows[name].astype(float)), f"Yield per tree, {heading} ({mass.symbol})", 0)  # fmt: skip
    told.add("crops", rows["crops"], "Crops weighed")


def _price(told: Told, asked: Question, rows: pd.DataFrame) -> None:
    money = asked.catalogue.currency
    name = f"price_{money.lower()}" if money.isidentifier() else "price"
    for end, heading in (("low", "lowest"), ("high", "highest")):
        told.add(f"{name}_{heading}", rows[f"price_{end}"], f"Price per tree, {heading} ({money or 'currency not stated'})", 2)  # fmt: skip


def _nursery(told: Told, _asked: Question, rows: pd.DataFrame) -> None:
    told.add("nurseries", rows["nurseries"].astype(str))
    told.add("offers", rows["offers"].astype(str), "Newest offers are for")


def _leads(told: Told, asked: Question, rows: pd.DataFrame) -> None:
    if asked.profile is not None:
        told.add(f"first_{asked.top}_pct", 100 * rows["leads"].astype(float), f"Chance of being among the first {asked.top} (%)", CHANCE)  # fmt: skip


_FURTHER: dict[str, Callable[[Told, Question, pd.DataFrame], None]] = {
    CLASS: _classes, "winter_chill": _chill, "winters": _winters, "bacterial_spot": _spot, "hail": _hail, "yield_per_tree": _yield, "price": _price, "nursery": _nursery, "leads": _leads,
}  # fmt: skip
OFFERED = (CLASS, *(key for key in TRAITS if key not in HEADLINE), *CHOSEN)
