"""Everything the records say about one cultivar, and how it stands beside the checks and against a market's limits."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Any

import numpy as np
import pandas as pd

from dashboard.answers.catalogue import Catalogue
from dashboard.estimates.chances import Chance, chances
from dashboard.estimates.comparisons import from_checks
from dashboard.estimates.one_season import BORROWED
from dashboard.market import Limit, Market
from dashboard.terms.traits import FRUIT_TRAITS, HEADLINE, TRAITS

BESIDE_CHECKS = (*HEADLINE, "red", "attractiveness")
REMEMBERED = 128


def dossier(catalogue: Catalogue, cultivar: str) -> dict[str, Any] | None:
    """All there is on one cultivar: None when the catalogue does not know it.

    name; facts (dict of its columns); values (frame by trait: estimate, se, low, high, counts); window
    (Series); samples (frame: sample, date, site, season, day, pick, slack, fruit, each trait); fruit, yields, bloom,
    nursery (frames); trees (frame: site, row, rootstock, planted, trees: those still standing); checks (Series by trait:
    how it differs from the checks that ripen when it does).
    """
    if cultivar not in catalogue.cultivars.index:
        return None
    values = {trait: frame.loc[cultivar] for trait, frame in catalogue.values.items()}
    return {
        "name": cultivar,
        "facts": catalogue.cultivars.loc[cultivar].to_dict(),
        "values": pd.DataFrame(values).T.infer_objects().rename_axis("trait"),
        "window": catalogue.windows.loc[cultivar],
        "samples": _samples(catalogue.summaries, cultivar),
        "fruit": _rows(catalogue.fruit, cultivar),
        "yields": _rows(catalogue.records_tables.get("yields"), cultivar),
        "bloom": _rows(catalogue.records_tables.get("bloom"), cultivar),
        "nursery": _rows(catalogue.records_tables.get("nursery"), cultivar),
        "checks": {trait: _from_checks(catalogue, trait).loc[cultivar] for trait in BESIDE_CHECKS},
        "trees": _standing(_rows(catalogue.records_tables.get("trees"), cultivar)),
    }


@lru_cache(maxsize=64)
def _from_checks(catalogue: Catalogue, trait: str) -> pd.DataFrame:
    """How each cultivar differs from the checks that ripen when it does, of all cultivars in catalogue order."""
    told = from_checks(catalogue.worth[trait], catalogue.windows["middle"], catalogue.checks)
    return told.reindex(catalogue.cultivars.index)


def limit_chances(
    catalogue: Catalogue, cultivar: str, market: Market | None, site: str
) -> list[tuple[Limit, dict[str, tuple[float, str]]]]:
    """For each limit of the market on a trait: by question, the chance (or share) and why there is none, or what was
    borrowed to tell it."""
    told = []
    for limit in market.limits if market is not None else ():
        if limit.kind != "trait":
            continue
        for bound, at_least in ((limit.at_least, True), (limit.at_most, False)):
            if bound is not None:
                asked = _asked_chances(catalogue, limit.key, bound, at_least, site)
                part = replace(
                    limit, at_least=bound if at_least else None, at_most=None if at_least else bound
                )
                told.append(
                    (
                        part,
                        {
                            key: (float(c.by_cultivar.get(cultivar, np.nan)), c.refused or c.given)
                            for key, c in asked.items()
                        },
                    )
                )
    return told


@lru_cache(maxsize=REMEMBERED)
def _asked_chances(
    catalogue: Catalogue, trait: str, bound: float, at_least: bool, site: str
) -> dict[str, Chance]:
    worth = catalogue.worth[trait]
    ratio = BORROWED if worth.plan.one_season else None
    return chances(worth, bound, at_least=at_least, site=site if site in worth.at else None, ratio=ratio)


def _rows(table: pd.DataFrame | None, cultivar: str) -> pd.DataFrame:
    if table is None:
        return pd.DataFrame()
    return table[(table["cultivar"] == cultivar).to_numpy(dtype=bool)].reset_index(drop=True)


def _samples(summaries: pd.DataFrame, cultivar: str) -> pd.DataFrame:
    rows = _rows(summaries, cultivar)
    counts = [f"{trait}_n" for trait in FRUIT_TRAITS if f"{trait}_n" in rows]
    measured = np.nan_to_num(rows[counts].to_numpy(dtype=float)).max(axis=1, initial=0).astype(int)
    traits = [trait for trait in TRAITS if trait in rows]
    head = rows[["sample", "date", "site", "season", "day", "pick"]]
    head = head.assign(slack=rows.get("slack", 0.0))
    return head.assign(fruit=measured).join(rows[traits]).sort_values("date", ignore_index=True)


def _standing(trees: pd.DataFrame) -> pd.DataFrame:
    keys = ["site", "row", "rootstock", "planted"]
    if trees.empty:
        return pd.DataFrame(columns=[*keys, "trees"])
    standing = trees[trees["removed"].isna()]
    return standing.groupby(keys, dropna=False).size().rename("trees").reset_index()
