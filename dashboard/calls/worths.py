"""What cultivars are worth in one trait, measured or worked out, the highest first."""

from __future__ import annotations

from dataclasses import dataclass

import pandas as pd

from dashboard.answers.catalogue import Catalogue
from dashboard.calls.columns import Told, add_trait, column_of
from dashboard.calls.formulas import derived
from dashboard.calls.resting import INTERVALS
from dashboard.calls.understood import AskError
from dashboard.estimates import COUNTS
from dashboard.handout.estimates import remarks
from dashboard.terms.traits import trait_called
from dashboard.wording.figures import counted

UNITS = {"us": "inches, pounds", "si": "mm, newtons"}
DECIMALS = 3  # of what was worked out


@dataclass(frozen=True)
class Worths:
    """One row a cultivar with a value; ``column`` holds the estimate."""

    frame: pd.DataFrame
    told: Told
    column: str
    said: str
    evidence: list[str]


def measured(catalogue: Catalogue, key: str, units: str, site: str) -> Worths:
    """Over sites, or at one; AskError for one where the trait was not measured."""
    trait, worth = trait_called(key), catalogue.worth[key]
    if site and site not in worth.at:
        raise AskError(f"{trait.label} was not measured at {site}; leave the site out, or name another.")
    values = _highest_first(worth.at[site] if site else worth.values)
    told, unit, column = Told(), trait.unit(units), column_of(trait, units)
    add_trait(told, trait, units, values)
    errors = unit.from_si(values["se"].astype(float)) - unit.from_si(0.0)
    _add_evidence(told, column, trait.heading(units), trait.decimals(units) + 1, errors, values)
    said = f"{counted(len(values), 'cultivar')} have a reading of {trait.label.lower()}: {trait.meaning}."
    return Worths(told.frame(values.index), told, column, said, [*remarks(catalogue, key), INTERVALS])


def worked_out(catalogue: Catalogue, name: str, formula: str, units: str) -> Worths:
    """Of what the formula gives; AskError for a name or a formula that cannot be used."""
    worth = derived(catalogue, name, formula, units)
    values, told = _highest_first(worth.values), Told()
    column, heading = name.strip().replace(" ", "_"), name[:1].upper() + name[1:]
    for end, part in (("", "estimate"), ("_low", "low"), ("_high", "high")):
        told.add(f"{column}{end}", values[part].astype(float), heading, DECIMALS)
    _add_evidence(told, column, heading, DECIMALS, values["se"].astype(float), values)
    said = f"{counted(len(values), 'cultivar')} have a value of {name}: {formula}, in each sample ({UNITS[units]})."
    how = "Values adjusted for site and year by the mixed model" if worth.modelled else "Raw averages"
    evidence = [f"{how}, {worth.plan.meaning}.", *worth.plan.sentences, INTERVALS]
    return Worths(told.frame(values.index), told, column, said, evidence)


def _highest_first(values: pd.DataFrame) -> pd.DataFrame:
    return values[values["estimate"].notna()].sort_values("estimate", ascending=False, kind="stable")


def _add_evidence(
    told: Told, column: str, heading: str, decimals: int, errors: pd.Series, values: pd.DataFrame
) -> None:
    told.add(f"{column}_se", errors, f"{heading}, standard error", decimals)
    told.add("reliability", values["reliability"].astype(float), "Reliability (0 to 1)", 2)
    for count in COUNTS:
        told.add(count, values[count].astype(int))
