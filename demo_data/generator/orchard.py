"""What stands and what is sold: sites, trees, bloom, yields, nursery offers."""

from __future__ import annotations

import numpy as np
import pandas as pd

from generator.classes import NEVER
from generator.trial import SITES, Trial
from generator.weather import BLOOM_HEAT, bloom_days, crop_left

ROOTSTOCKS = ("seedling A", "seedling B", "semi-dwarf C")
NURSERIES = ("Quillory Nursery", "Ostravane Trees", "Pimmering Budwood")
TREES_EACH = (3, 2, 2)
POSITIONS_A_ROW = (30, 24, 20)
FULL_CROP_KG = 48.0


def sites() -> pd.DataFrame:
    """The three invented places."""
    return pd.DataFrame(
        {
            "site": SITES,
            "name": ["Maravel Station", "Tessock Bottom block", "Ondry Ridge block"],
            "latitude_deg": [39.52, 39.34, 39.61],
            "longitude_deg": [-77.41, -77.36, -77.55],
            "elevation_m": [182, 118, 305],
            "host": ["station", "grower", "grower"],
        }
    )


def planted_years(trial: Trial) -> np.ndarray:
    """Year of planting by site and cultivar (NEVER where it does not stand): two years before the first fruit."""
    return np.where(trial.first < NEVER, trial.first - 2, NEVER)


def trees(rng: np.random.Generator, trial: Trial) -> pd.DataFrame:
    """One row a tree. Rows are filled in the order of planting and no position is used twice."""
    names = trial.cultivars["cultivar"].to_numpy()
    planted, final = planted_years(trial), trial.seasons[-1]
    rows = []
    for site, key in enumerate(SITES):
        numbers = np.flatnonzero(planted[site] < final)
        numbers = numbers[np.argsort(planted[site, numbers], kind="stable")]
        place = 0
        for number in numbers:
            stock = ROOTSTOCKS[int(rng.choice(3, p=(0.6, 0.3, 0.1)))]
            last = trial.last[site, number]
            gone = last if last <= final and not trial.checks[number] else None
            born = trial.first[site, number]
            for tree in range(TREES_EACH[site]):
                # A tree now and then dies before the rest of its cultivar is pulled, never the first.
                dies = tree > 0 and born <= final and rng.random() < 0.04
                died = int(rng.integers(born, final + 1)) if dies else None
                removed = min(year for year in (gone, died, NEVER) if year is not None)
                row, position = divmod(place, POSITIONS_A_ROW[site])
                rows.append(
                    (key, row + 1, position + 1, names[number], stock, planted[site, number], removed)
                )
                place += 1
    columns = ["site", "row", "position", "cultivar", "rootstock", "planted", "removed"]
    table = pd.DataFrame(rows, columns=columns)
    standing = table["removed"].where(table["removed"] < NEVER).astype("Int64")
    return table.assign(removed=standing)


def _cells(trial: Trial) -> pd.DataFrame:
    """One row a cultivar that bore at a site in a season: number, site_number, season_number."""
    cells = [
        (number, site, index)
        for index, season in enumerate(trial.seasons)
        for site in range(len(SITES))
        for number in trial.present(site, season)
    ]
    return pd.DataFrame(cells, columns=["number", "site_number", "season_number"])


def bloom(rng: np.random.Generator, trial: Trial, weather: pd.DataFrame) -> pd.DataFrame:
    """One row a cultivar, site and season in which the bloom was noted; ``bloom_day`` for all of them."""
    cells = _cells(trial)
    portions = trial.cultivars["chill_requirement_cp"].to_numpy()
    heat = BLOOM_HEAT + 1.0 * (portions - 52) + rng.normal(0, 9, len(portions))
    cells["bloom_day"] = 0
    for (site, index), rows in cells.groupby(["site_number", "season_number"]).groups.items():
        wanted = heat[cells.loc[rows, "number"]]
        cells.loc[rows, "bloom_day"] = bloom_days(weather, SITES[site], trial.seasons[index], wanted)
    cells["bloom_day"] += rng.normal(0, 0.8, len(cells)).round().astype(int)
    cells["noted"] = rng.random(len(cells)) < np.where(cells["site_number"] == 0, 0.93, 0.65)
    return cells


def bloom_table(trial: Trial, cells: pd.DataFrame) -> pd.DataFrame:
    noted = cells[cells["noted"]]
    season = np.array(trial.seasons)[noted["season_number"]]
    start = pd.to_datetime(pd.Series(season).astype(str) + "-01-01")
    return pd.DataFrame(
        {
            "cultivar": trial.cultivars["cultivar"].to_numpy()[noted["number"]],
            "site": np.array(SITES)[noted["site_number"]],
            "year": season,
            "full_bloom": start + pd.to_timedelta(noted["bloom_day"].to_numpy() - 1, unit="D"),
        }
    )


def yields(
    rng, trial: Trial, samples: pd.DataFrame, cells: pd.DataFrame, weather: pd.DataFrame, stand: pd.DataFrame
):
    """One row a pick: kg a tree gave and how many trees were picked; a frost at bloom takes its share."""
    cells = cells.copy()
    cells["crop"] = 1.0
    for (site, index), rows in cells.groupby(["site_number", "season_number"]).groups.items():
        days = cells.loc[rows, "bloom_day"].to_numpy()
        cells.loc[rows, "crop"] = crop_left(weather, SITES[site], trial.seasons[index], days)
    keys = ["number", "site_number", "season_number"]
    picks = samples[[*keys, "pick"]].merge(cells[[*keys, "crop"]], on=keys, how="left")
    season = np.array(trial.seasons)[picks["season_number"]]
    age = season - planted_years(trial)[picks["site_number"], picks["number"]]
    grown = np.select([age <= 2, age == 3, age == 4], [0.25, 0.55, 0.85], 1.0)
    bearing = np.exp(rng.normal(0, 0.18, len(trial.cultivars))) * (1 + 0.008 * (trial.days - 200))
    weight = rng.gamma(6, 1 / 6, len(picks))
    whole = picks.assign(weight=weight).groupby(keys)["weight"].transform("sum")
    of_cell = picks.groupby(keys).ngroup().to_numpy()
    luck = np.exp(rng.normal(0, 0.22, of_cell.max() + 1))[of_cell]
    kg = (
        FULL_CROP_KG
        * grown
        * np.clip(picks["crop"], 0.06, 1)
        * bearing[picks["number"]]
        * luck
        * weight
        / whole
    )
    written = (rng.random(of_cell.max() + 1) < 0.85)[of_cell]
    table = pd.DataFrame(
        {
            "cultivar": trial.cultivars["cultivar"].to_numpy()[picks["number"]],
            "site": np.array(SITES)[picks["site_number"]],
            "year": season,
            "pick": picks["pick"],
            "kg_per_tree": kg.round(1).clip(lower=0.1),
        }
    )
    table["trees"] = _bearing_trees(table, stand)
    return table[written].sort_values(["year", "site", "cultivar", "pick"], ignore_index=True)


def _bearing_trees(table: pd.DataFrame, stand: pd.DataFrame) -> np.ndarray:
    """How many trees stood for each row of ``table`` in its year; at least one, since fruit was picked."""
    wanted = table[["cultivar", "site", "year"]].drop_duplicates()
    both = wanted.merge(stand[["cultivar", "site", "removed"]], on=["cultivar", "site"])
    stands = both["removed"].isna() | (both["removed"].fillna(0) >= both["year"])
    number = both[stands].groupby(["cultivar", "site", "year"]).size().rename("trees").reset_index()
    return (
        table.merge(number, how="left", on=["cultivar", "site", "year"])["trees"]
        .fillna(1)
        .astype(int)
        .to_numpy()
    )


def offers(rng: np.random.Generator, cultivars: pd.DataFrame, season: int) -> pd.DataFrame:
    """One row an offer of an invented nursery for the three seasons up to ``season + 1``."""
    rows = []
    for cultivar, protected in cultivars.loc[
        cultivars["status"] == "released", ["cultivar", "protected"]
    ].values:
        for number, nursery in enumerate(NURSERIES):
            if rng.random() >= (0.55, 0.42, 0.30)[number]:
                continue
            base = 8.6 + 0.9 * number + (2.1 if protected == "yes" else 0.0) + rng.normal(0, 0.5)
            stock = ROOTSTOCKS[int(rng.choice(3, p=(0.6, 0.25, 0.15)))]
            for ahead in (-1, 0, 1):
                if rng.random() < 0.15:
                    continue
                price = base * 1.03**ahead + (1.4 if stock == "semi-dwarf C" else 0.0)
                left = 0 if rng.random() < 0.12 else int(rng.gamma(2.0, 160) / 10) * 10
                bundle = 5 if number == 2 else 10
                rows.append((cultivar, nursery, stock, season + ahead, round(price * 20) / 20, bundle, left))
    columns = ["cultivar", "nursery", "rootstock", "season", "price_per_tree", "bundle", "trees_available"]
    return pd.DataFrame(rows, columns=columns)
