"""Error of bloom dates in seasons that were left out, beside plainer ways; as a script on the demo records:

python -m tests.site.left_out
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pandas as pd

from dashboard.site.bloom import bloom_model, bloom_records
from dashboard.site.clock import CONSTANT, Springs


def by_season(bloom: pd.DataFrame, cultivars: pd.DataFrame, springs: Mapping[str, Springs]) -> pd.DataFrame:
    """One row a season left out: root mean square error in days of the model, of a constant sum of heat from 1 January, and of each
    cultivar's raw mean day at the site; ``held``: share within the 90 % interval; ``records``."""
    seen = bloom_records(bloom, springs)
    rows = {}
    for season in sorted(seen["year"].unique()):
        known, asked = seen[seen["year"] != season].reset_index(drop=True), seen[seen["year"] == season]
        model = bloom_model(known, cultivars, springs)
        told, half = np.empty(len(asked)), np.empty(len(asked))
        for site in asked["site"].unique():
            here = (asked["site"] == site).to_numpy()
            day, own, common = model.expected(springs[site], [int(season)], site)
            at = cultivars.index.get_indexer(asked.loc[here, "cultivar"])
            told[here], half[here] = day[0, at], model.interval(own, common)[0, at]
        off = asked["day"].to_numpy() - told
        rows[season] = {
            "model": _rms(off),
            "constant heat": _rms(asked["day"] - _constant_heat(known, asked, springs)),
            "raw mean": _rms(asked["day"] - _raw_mean(known, asked)),
            "held": float((np.abs(off) <= half).mean()),
            "records": len(asked),
        }
    return pd.DataFrame(rows).T


def _rms(off: np.ndarray) -> float:
    return float(np.sqrt(np.mean(np.square(off))))


def _raw_mean(known: pd.DataFrame, asked: pd.DataFrame) -> np.ndarray:
    """The cultivar's mean day at the site, else over sites, else the site's."""
    here = known.groupby(["cultivar", "site"])["day"].mean()
    own, site = known.groupby("cultivar")["day"].mean(), known.groupby("site")["day"].mean()
    found = pd.Series(
        [here.get(key, np.nan) for key in zip(asked["cultivar"], asked["site"], strict=True)],
        index=asked.index,
    )
    return found.fillna(asked["cultivar"].map(own)).fillna(asked["site"].map(site)).to_numpy()


def _constant_heat(known: pd.DataFrame, asked: pd.DataFrame, springs: Mapping[str, Springs]) -> np.ndarray:
    """The day on which the cultivar's mean heat so far, from 1 January on, is there; the mean of all for a new one."""

    def heat(frame: pd.DataFrame) -> pd.Series:
        sums = [
            springs[s].heat_on(int(y), CONSTANT, np.zeros(1), np.array([d]))[0]
            for s, y, d in frame[["site", "year", "day"]].itertuples(index=False)
        ]
        return pd.Series(sums, index=frame.index)

    each = heat(known).groupby(known["cultivar"]).mean()
    wanted = asked["cultivar"].map(each).fillna(each.mean())
    return np.array(
        [
            springs[site].day_of(int(year), CONSTANT, np.zeros(1), np.array([sums]))[0]
            for site, year, sums in zip(asked["site"], asked["year"], wanted, strict=True)
        ]
    )


def main() -> None:
    from dashboard.answers import catalogue
    from dashboard.answers.my_site import stations_of
    from dashboard.places import demo_data

    known = catalogue.load(demo_data())
    springs = {key: Springs(one) for key, one in stations_of(known).items()}
    table = by_season(known.records_tables["bloom"], known.cultivars, springs)
    print(table.round(2).to_string())
    weight = table["records"] / table["records"].sum()
    print(
        (table[["model", "constant heat", "raw mean"]].pow(2).mul(weight, axis=0).sum().pow(0.5))
        .round(2)
        .to_string()
    )
    print(f"held {(table['held'] * weight).sum():.3f}")


if __name__ == "__main__":
    main()
