"""What is recorded of a cultivar beside its fruit: winter chill, bacterial spot, hail, what a tree bears, and who sells it at what price."""

from __future__ import annotations

from functools import lru_cache

import pandas as pd

from dashboard.answers.catalogue import Catalogue

_OFFERED = ("price_low", "price_high", "nurseries")
_BORNE = ("yield_kg", "yield_low", "yield_high", "crops")


@lru_cache(maxsize=8)
def growing(catalogue: Catalogue) -> pd.DataFrame:
    """One row a cultivar, in catalogue order; NaN, and "" for a word, where nothing is recorded.

    chill_h (hours at or below 7.2 °C), chill_cp (portions), bacterial_spot (0 none to 5); hail, how many samples it is noted on (0 where
    on none, which is not to say that none fell), and hail_years; yield_kg, yield_low and yield_high: mean,
    least and most (kg a tree) of its crops, a crop being all picks of a site and year, and how many crops; offers, the planting season
    of its newest offers, and of those of them that still have trees the lowest and highest price_low and price_high, in the currency
    of the records, and their nurseries.
    """
    known, tables = catalogue.cultivars, catalogue.records_tables
    borne, offered = _borne(tables.get("yields")), _offered(tables.get("nursery"))
    hail = _hail(tables.get("hail"))
    frame = pd.DataFrame(
        {
            "chill_h": known["chill_requirement_h"].astype(float),
            "chill_cp": known["chill_requirement_cp"].astype(float),
            "bacterial_spot": known["bacterial_spot"].astype(float),
        },
        index=known.index,
    ).join([hail, borne, offered])
    return frame.fillna({"hail": 0.0, "hail_years": "", "offers": "", "nurseries": ""})


def _hail(noted: pd.DataFrame | None) -> pd.DataFrame:
    if noted is None or not len(noted):
        return pd.DataFrame({"hail": 0.0, "hail_years": ""}, index=[]).astype({"hail_years": "str"})
    each = noted.groupby("cultivar")["year"]
    years = each.agg(lambda years: ", ".join(map(str, sorted(set(years)))))
    return pd.DataFrame({"hail": each.size().astype(float), "hail_years": years})


def _borne(yields: pd.DataFrame | None) -> pd.DataFrame:
    if yields is None:
        return pd.DataFrame(columns=list(_BORNE), dtype=float)
    picks = yields.assign(cultivar=yields["cultivar"].astype("str"))
    crops = picks.groupby(["cultivar", "site", "year"], observed=True)["kg_per_tree"].sum(min_count=1)
    each = crops.dropna().groupby("cultivar")
    return each.agg(["mean", "min", "max", "size"]).set_axis(list(_BORNE), axis=1)


def _offered(nursery: pd.DataFrame | None) -> pd.DataFrame:
    if nursery is None:
        return pd.DataFrame({"offers": "", **dict.fromkeys(_OFFERED)}, index=[]).astype({"nurseries": "str"})
    offers = nursery.assign(cultivar=nursery["cultivar"].astype("str"))
    newest = offers.groupby("cultivar")["season"].max().rename("offers")
    current = offers[(offers["season"] == offers["cultivar"].map(newest)) & ~(offers["trees_available"] == 0)]
    each = current.groupby("cultivar")
    told = pd.DataFrame(
        {
            "price_low": each["price_per_tree"].min(),
            "price_high": each["price_per_tree"].max(),
            "nurseries": each["nursery"].agg(lambda names: ", ".join(dict.fromkeys(names))),
        }
    )
    return newest.to_frame().join(told)
