"""What every answer stands on: what the records hold, how figures are made of them, and what they do not say."""

from __future__ import annotations

import pandas as pd

from dashboard.answers.catalogue import Catalogue
from dashboard.records.heaps import LOOK, MEND, fine, heaps
from dashboard.records.summary import fruit_counts
from dashboard.ripening import date_label
from dashboard.ripening.few_seasons import assumption
from dashboard.terms.traits import CLASSES, UNKNOWN
from dashboard.wording.figures import counted, sampled, unsampled
from dashboard.wording.how_taken import how_taken

METHOD_TOLD = (
    "Figures are adjusted for site and year; where the records allow no model, they are raw averages and say so.",
    "A mixed model takes out what site, season and luck did.",
    "What rests on little evidence is drawn toward the usual. A cultivar seen in one good season does not keep its lucky figure.",
    "A likely range holds the true average nine times in ten, for sites and seasons like those of the records.",
)
NO_FORETELLING = (
    "These trials did not stand on your land: they do not tell its frost, its winter chill or its soil."
)
MOST_FACTS = 4  # that are named as missing


def held(catalogue: Catalogue) -> list[str]:
    """What the records hold, in seven lines at the most."""
    found = heaps(catalogue.problems)
    good, samples = fine(catalogue.problems, catalogue.summaries["sample"])
    return [
        f"{catalogue.records_title}.",
        *counts(catalogue),
        f"To mend: {counted(len(found[MEND]), 'place')}; to look at: {len(found[LOOK]):,}; fine: {good:,} of {counted(samples, 'sample')}.",
        METHOD_TOLD[0],
        *filter(None, [how_taken(catalogue).sentence]),
        f"Data version {catalogue.version}.",
    ]


def counts(catalogue: Catalogue) -> list[str]:
    """How many cultivars, sites, seasons, samples and fruit."""
    seasons = sorted(catalogue.summaries["season"].dropna().unique())
    fruit = counted(int(fruit_counts(catalogue.summaries, catalogue.fruit).sum()), "fruit").replace(
        "fruits", "fruit"
    )
    span = f", seasons {int(seasons[0])} to {int(seasons[-1])}" if seasons else ""
    newest, more = catalogue.summaries["date"].max(), unsampled(catalogue)
    picked = f"; the newest picked {date_label(newest)}" if newest == newest else ""
    return [
        f"{sampled(catalogue)} at {counted(len(catalogue.sites), 'site')}{span}{f'; {more}' if more else ''}.",
        f"{counted(len(catalogue.summaries), 'sample')}, {fruit} measured{picked}.",
    ]


def unsaid(catalogue: Catalogue) -> list[str]:
    """What the records do not say, or say of few: a sentence each."""
    seen = catalogue.windows["seasons"].reindex(catalogue.cultivars.index).fillna(0)
    never, once = int((seen == 0).sum()), int((seen == 1).sum())
    parts = [f"{never:,} never sampled"] * bool(never) + [f"{once:,} seen in one season only"] * bool(once)
    lines = [f"Of {counted(len(seen), 'cultivar')}: {'; '.join(parts)}."] if parts else []
    if missing := not_recorded(catalogue):
        lines.append(f"Not recorded: {', '.join(f'{label} of {count:,}' for label, count in missing)}.")
    ripe, how = catalogue.ripening, how_taken(catalogue)
    lines += [how.sentence] if how.sentence else []
    lines += [line for line in (ripe.refused or assumption(ripe.seasons),) if line]
    return [*lines, NO_FORETELLING]


def not_recorded(catalogue: Catalogue) -> list[tuple[str, int]]:
    """Facts that cultivars lack, each with how many lack it: the most first, no more than ``MOST_FACTS``."""
    known = catalogue.cultivars
    chill = known[["chill_requirement_cp", "chill_requirement_h"]].isna().all(axis=1)
    lacking = {
        "winter chill": chill,
        "bacterial spot": known["bacterial_spot"].isna(),
        "yield": ~_named(catalogue, "yields"),
    }
    lacking |= {label.lower(): known[field] == UNKNOWN for field, (label, _) in CLASSES.items()}
    found = [(label, int(lacks.sum())) for label, lacks in lacking.items() if lacks.any()]
    return sorted(found, key=lambda one: -one[1])[:MOST_FACTS]


def _named(catalogue: Catalogue, table: str) -> pd.Series:
    """Which cultivars have a row in one of the tables that are carried along."""
    rows = catalogue.records_tables.get(table)
    names = list(rows["cultivar"]) if rows is not None else []
    return pd.Series(catalogue.cultivars.index.isin(names), index=catalogue.cultivars.index)
