"""The whole invented scenario as tables: what was written down, and the truth behind it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

from generator import classes, orchard, weather
from generator.trial import (
    OWN_CELL_SD,
    OWN_SITE_SD,
    OWN_YEAR_SD,
    SITE_YEAR_SD,
    SITES,
    YEAR_SHIFT_SD,
    Trial,
)
from generator.truth import SPREADS, TERMS, true_values

LAST_SEASON = 2025
SAMPLE_COLUMNS = ["sample", "cultivar", "site", "date", "pick", "shape", "fuzz", "red", "attractiveness"]
SAMPLE_COLUMNS += ["split_pit_pct", "cracked_tip_pct", "photo", "note"]
FRUIT_COLUMNS = ["sample", "fruit", "suture_mm", "cross_mm", "firmness_1_n", "firmness_2_n", "ssc_brix"]
_UNIT = {"size": "mm", "firmness": "N", "sugar": "°Brix", "roundness": "ratio"}


@dataclass(frozen=True, eq=False)
class Scenario:
    tables: dict[str, pd.DataFrame]  # by table name, canonical columns
    truth: dict[str, pd.DataFrame]
    seasons: tuple[int, int]


def scenario(seed: int, cultivars: int, seasons: int) -> Scenario:
    """Everything, from one seed: ``cultivars`` at the station over ``seasons`` seasons, and two blocks."""
    # A stream of its own for every part, so that a change in one leaves the others as they were.
    streams = iter(np.random.default_rng(child) for child in np.random.SeedSequence(seed).spawn(10))
    years = list(range(LAST_SEASON - seasons + 1, LAST_SEASON + 1))
    temperatures = weather.daily_temperatures(next(streams))
    own = 2 * max(1, cultivars // 50)
    rng = next(streams)
    entry = classes.entry_years(rng, cultivars, years, own)
    table, days = classes.cultivars(rng, entry)
    truth = true_values(next(streams), table, days, entry)
    lateness = weather.spring_lateness(temperatures, years)
    trial = Trial(next(streams), table, days, entry, truth, lateness, years, own)
    samples, fruit = trial.played()
    samples["cultivar"] = table["cultivar"].to_numpy()[samples["number"]]
    samples["site"] = np.array(SITES)[samples["site_number"]]
    stand = orchard.trees(next(streams), trial)
    cells = orchard.bloom(next(streams), trial, temperatures)
    tables = {
        "cultivars": classes.as_written(next(streams), table),
        "sites": orchard.sites(),
        "trees": stand,
        "samples": samples[SAMPLE_COLUMNS],
        "fruit": fruit[FRUIT_COLUMNS],
        "bloom": orchard.bloom_table(trial, cells),
        "yields": orchard.yields(next(streams), trial, samples, cells, temperatures, stand),
        "weather": temperatures,
        "nursery": orchard.offers(next(streams), table, LAST_SEASON),
    }
    hidden = {
        "values": truth.round(4).assign(cultivar=table["cultivar"])[["cultivar", *truth.columns]],
        "ripening": pd.DataFrame(
            {"cultivar": table["cultivar"], "middle_day": days.round(2), "entered": entry}
        ),
        "season_shifts": _season_shifts(trial),
        "variance_components": _components(truth),
    }
    return Scenario(tables, hidden, (years[0], years[-1]))


def _season_shifts(trial: Trial) -> pd.DataFrame:
    """Days by which each site's ripening ran behind the station's ordinary season."""
    rows = [
        (site, season, round(float(trial.shift[number, index]), 2))
        for number, site in enumerate(SITES)
        for index, season in enumerate(trial.seasons)
    ]
    return pd.DataFrame(rows, columns=["site", "season", "shift_days"])


def _components(truth: pd.DataFrame) -> pd.DataFrame:
    """The SDs the records were drawn with, and the SD of the true values that were drawn (cultivar term)."""
    rows = []
    for trait, spread in SPREADS.items():
        for term, sd in zip(TERMS, spread.sds, strict=True):
            values = (
                truth.loc[truth[trait] < 10, trait] if trait == "fuzz" else truth[trait]
            )  # 10: nectarines
            drawn = round(float(values.std(ddof=0)), 4) if term == "cultivar" else np.nan
            rows.append((trait, _UNIT.get(trait, "of 10"), term, round(sd, 4), drawn))
    ripening = (("season", YEAR_SHIFT_SD), ("site:season", SITE_YEAR_SD), ("cultivar:site", OWN_SITE_SD))
    ripening += (("cultivar:season", OWN_YEAR_SD), ("cultivar:site:season", OWN_CELL_SD))
    rows += [("ripening", "days", term, sd, np.nan) for term, sd in ripening]
    return pd.DataFrame(rows, columns=["trait", "unit", "term", "sd", "drawn_sd"])
