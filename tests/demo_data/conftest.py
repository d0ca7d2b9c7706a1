"""The demo records as plain tables, and the truth they were drawn from."""

from __future__ import annotations

import pandas as pd
import pytest

from dashboard.places import demo_data

TABLES = ("cultivars", "sites", "trees", "samples", "fruit", "bloom", "yields", "weather", "nursery")


@pytest.fixture(scope="package")
def tables() -> dict[str, pd.DataFrame]:
    return {name: pd.read_csv(demo_data() / f"{name}.csv") for name in TABLES}


@pytest.fixture(scope="package")
def samples(tables) -> pd.DataFrame:
    """Samples with their season, day of year and the means of their fruit."""
    fruit = tables["fruit"]
    values = pd.DataFrame(
        {
            "sample": fruit["sample"],
            "size": (fruit["suture_mm"] + fruit["cross_mm"]) / 2,
            "firmness": (fruit["firmness_1_n"] + fruit["firmness_2_n"]) / 2,
            "sugar": fruit["ssc_brix"],
        }
    )
    date = pd.to_datetime(tables["samples"]["date"])
    dated = tables["samples"].assign(date=date, season=date.dt.year, day=date.dt.day_of_year)
    return dated.merge(values.groupby("sample").mean(), left_on="sample", right_index=True)


@pytest.fixture(scope="package")
def truth(tables) -> pd.DataFrame:
    folder = demo_data() / "truth"
    values = pd.read_csv(folder / "values.csv").merge(pd.read_csv(folder / "ripening.csv"), on="cultivar")
    return values.merge(tables["cultivars"], on="cultivar", validate="1:1")


@pytest.fixture(scope="package")
def checks(tables) -> list[str]:
    """Names of the check cultivars."""
    return tables["cultivars"].query("check == 'yes'")["cultivar"].tolist()
