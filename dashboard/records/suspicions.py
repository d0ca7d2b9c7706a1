"""What may be right and seldom is: loaded as it stands, and told with its place and the likely cause."""

from __future__ import annotations

from collections.abc import Mapping

import pandas as pd

from dashboard.records.copied import suspect_copies
from dashboard.records.declaration import Declaration
from dashboard.records.findings import Findings
from dashboard.records.odd_columns import suspect_columns
from dashboard.records.odd_days import suspect_bloom, suspect_days
from dashboard.records.odd_digits import suspect_digits
from dashboard.records.odd_firmness import suspect_unit
from dashboard.records.odd_gauges import suspect_gauges
from dashboard.records.odd_instruments import suspect_instruments
from dashboard.records.odd_picks import suspect_picks
from dashboard.records.odd_ratings import suspect_ratings
from dashboard.records.odd_readings import suspect_fruit, suspect_small, suspect_weather
from dashboard.records.odd_samples import suspect_counts, suspect_shares
from dashboard.records.odd_scales import suspect_scales
from dashboard.records.odd_spreads import suspect_spreads
from dashboard.records.twice_named import suspect_same_day, suspect_spellings


def suspect(
    tables: Mapping[str, pd.DataFrame], by_table: Mapping[str, Findings], declaration: Declaration
) -> None:
    """Flag what is odd in the checked tables, each indexed by the numbers of its rows; ``by_table`` of those there are."""
    samples, fruit, sites = tables["samples"], tables["fruit"], tables["sites"]
    if "cultivars" in by_table:
        suspect_spellings(tables["cultivars"], by_table["cultivars"])
    if "samples" in by_table:
        findings = by_table["samples"]
        suspect_days(samples, sites, findings, declaration.date_precision != "day")
        suspect_picks(samples, sites, tables["trees"], findings)
        suspect_same_day(samples, findings)
        suspect_shares(samples, findings)
        suspect_ratings(samples, sites, declaration.ratings, findings)
        suspect_scales(samples, sites, declaration.ratings, findings)
        suspect_counts(samples, fruit, tables["means"], findings)
    if "fruit" in by_table:
        findings = by_table["fruit"]
        suspect_fruit(fruit, samples, findings)
        suspect_small(fruit, declaration.taken, findings)
        suspect_copies(fruit, samples, findings)
        suspect_unit(fruit, samples, sites, findings)
        suspect_instruments(fruit, samples, tables["cultivars"], sites, findings)
        suspect_gauges(fruit, samples, sites, findings)
        suspect_columns(fruit, samples, findings)
        suspect_digits(fruit, samples, sites, findings)
    if "means" in by_table:
        suspect_spreads(tables["means"], samples, fruit, sites, by_table["means"])
    if "weather" in by_table:
        suspect_weather(tables["weather"], by_table["weather"])
    if "bloom" in by_table:
        suspect_bloom(tables["bloom"], by_table["bloom"])
