"""The estimates as one long table: a row a cultivar and trait, in SI units, for whatever reads it next."""

from __future__ import annotations

from pathlib import Path

import pandas as pd

from dashboard.answers.catalogue import Catalogue, load
from dashboard.estimates import Worth
from dashboard.handout.tables import comma_separated
from dashboard.places import put
from dashboard.terms.traits import trait_called

COLUMNS = (
    "cultivar", "trait", "estimate", "se", "low", "high", "reliability", "fruit", "samples", "sites", "seasons",
)  # fmt: skip


def estimate(
    folder: str | Path, trait: str | None = None, site: str | None = None, out: str | Path | None = None
) -> pd.DataFrame:
    """``estimates`` of the records in ``folder``, written to ``out`` (.csv) when one is named.

    RecordError when nothing can be loaded, OSError when the file cannot be written, ValueError as ``estimates``.
    """
    rows = estimates(load(folder), trait, site)
    if out is not None:
        put(Path(out), text(rows).encode("utf-8"))
    return rows


def estimates(catalogue: Catalogue, trait: str | None = None, site: str | None = None) -> pd.DataFrame:
    """One row a cultivar and trait with the COLUMNS: every trait or one, over sites or at one.

    Cultivars without a reading of a trait are left out. ValueError, one sentence, for a trait or site that is not
    there. A trait may be named by key or label.
    """
    frames = []
    for key, found in _asked(catalogue, trait).items():
        if site is not None and site not in found.at:
            continue  # this trait was not measured there, another was
        values = found.values if site is None else found.at[site]
        known = values[values["estimate"].notna()]
        frames.append(known.reset_index().assign(trait=key)[list(COLUMNS)])
    if not frames:
        places = sorted({name for found in catalogue.worth.values() for name in found.at})
        raise ValueError(
            f"No reading at a site {site!r}; there are readings at {', '.join(places) or 'no site'}."
        )
    return pd.concat(frames, ignore_index=True)


def remarks(catalogue: Catalogue, trait: str | None = None) -> list[str]:
    """What the estimates stand for and what could not be told, a line each, traits that say the same together."""
    said: dict[str, list[str]] = {}
    for key, found in _asked(catalogue, trait).items():
        how = "values adjusted for site and year by the mixed model" if found.modelled else "raw averages"
        stands = [f"{how[0].upper()}{how[1:]}, {found.plan.meaning}."] if (found.group >= 0).any() else []
        for sentence in (*stands, *found.plan.sentences):
            said.setdefault(sentence, []).append(trait_called(key).label)
    return [f"{', '.join(labels)}: {sentence}" for sentence, labels in said.items()]


def text(rows: pd.DataFrame) -> str:
    """The table as comma-separated text; what a spreadsheet would take for a formula has an apostrophe before it."""
    return comma_separated(rows)


def _asked(catalogue: Catalogue, trait: str | None) -> dict[str, Worth]:
    if trait is None:
        return catalogue.worth
    named = {name.casefold(): key for key in catalogue.worth for name in (key, trait_called(key).label)}
    key = named.get(trait.strip().casefold())
    if key is None:
        raise ValueError(f"There is no trait {trait!r}; there are {', '.join(catalogue.worth)}.")
    return {key: catalogue.worth[key]}
