"""The catalogue: all cultivars, their values and windows side by side, gaps left as gaps."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.answers import catalogue as catalogues
from dashboard.answers.question import Question, known_values
from dashboard.market import reasons
from dashboard.places import demo_data
from dashboard.records import RecordError
from dashboard.ripening import day_label
from dashboard.terms.traits import TRAITS, UNKNOWN


def rebuilt(catalogue, cultivars=None, summaries=None, fruit=None, sites=None):
    return catalogues.catalogue(
        catalogue.cultivars.reset_index() if cultivars is None else cultivars,
        catalogue.summaries if summaries is None else summaries,
        catalogue.fruit if fruit is None else fruit,
        sites=catalogue.sites if sites is None else sites,
        markets=catalogue.markets,
    )


def blank(frame: pd.DataFrame, *, keep: tuple[str, ...] = ()) -> pd.DataFrame:
    """The same rows with every number gone."""
    numbers = [name for name in frame.select_dtypes("float") if name not in keep]
    return frame.assign(**dict.fromkeys(numbers, np.nan))


def test_every_frame_by_cultivar_has_the_same_sorted_index(catalogue):
    index = catalogue.cultivars.index
    assert index.is_monotonic_increasing
    assert catalogue.windows.index.equals(index)
    assert list(catalogue.values) == list(TRAITS)
    assert all(frame.index.equals(index) for frame in catalogue.values.values())


def test_a_class_that_was_not_recorded_says_so(catalogue):
    assert (
        catalogue.cultivars.loc["T 16-007", ["fruit_type", "flesh_colour", "stone"]].tolist() == [UNKNOWN] * 3
    )


def test_a_cultivar_never_picked_is_there_with_counts_of_none(catalogue):
    assert (
        catalogue.values["size"].loc["Unpicked", ["fruit", "samples", "sites", "seasons"]].tolist() == [0] * 4
    )
    assert catalogue.windows.loc["Unpicked", "band"] == UNKNOWN


def test_a_cultivar_that_was_sampled_but_never_listed_is_there(catalogue):
    listed = catalogue.cultivars.drop(index="Briskwell").reset_index()
    added = rebuilt(catalogue, cultivars=listed).cultivars.loc["Briskwell"]
    assert added["fruit_type"] == UNKNOWN
    assert not added["check"]


def test_the_main_check_comes_first(catalogue):
    assert catalogue.checks == ("Aldermere", "Elmsworth")
    assert catalogue.windows.attrs["check"] == "Aldermere"


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    ("latitudes", "south"), [([37.0, 36.0], False), ([-33.0, -34.0], True), ([np.nan], False)]
)
def test_the_side_of_the_equator_is_that_of_the_sites(catalogue, latitudes, south):
    sites = pd.DataFrame({"site": [f"S{n}" for n in range(len(latitudes))], "latitude_deg": latitudes})
    assert rebuilt(catalogue, sites=sites).south is south


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    "arranged",
    [
        lambda c: {
            "cultivars": c.cultivars.iloc[:0].reset_index(),
            "summaries": c.summaries.iloc[:0],
            "fruit": c.fruit.iloc[:0],
        },
        lambda c: {"summaries": c.summaries.iloc[:0], "fruit": c.fruit.iloc[:0]},
        lambda c: {
            "cultivars": c.cultivars.iloc[:1].reset_index(),
            "summaries": c.summaries.iloc[:1],
            "fruit": c.fruit.iloc[:10],
        },
        lambda c: {"summaries": blank(c.summaries), "fruit": blank(c.fruit)},
        lambda c: {"summaries": blank(c.summaries, keep=("day",))},
        lambda c: {"cultivars": c.cultivars.reset_index()[["cultivar"]]},
        lambda c: {"sites": c.sites.iloc[:0]},
    ],
    ids=["nothing", "no samples", "one row", "no numbers", "no readings", "no classes", "no sites"],
)
def test_thin_records_pass_through_every_question(catalogue, arranged):
    thin = rebuilt(catalogue, **arranged(catalogue))
    name = thin.cultivars.index[0] if len(thin.cultivars) else ""
    for market in ("", *thin.markets):
        asked = Question(thin, market=market, cultivar=name, shortlist=(name,))
        passing = int(asked.passes.sum())
        assert len(asked.ranking) == passing
        assert (asked.emptied is None) == (passing > 0)
        assert len(asked.fit) == len(thin.cultivars) == len(asked.not_beaten)
        assert len(asked.windows) <= passing
        assert (asked.dossier is None) == (name == "")
        assert len(asked.shortlisted) == (name != "")
        assert reasons(thin.markets.get(market), asked.fit, "us").index.equals(thin.cultivars.index)
        assert all(sum(options.values()) >= 0 for options in asked.counts.values())
    assert known_values(thin)["cultivar"][0] == ""


def small_folder(folder):
    """Records of one cultivar, picked south of the equator on both sides of New Year."""
    tables = {
        "cultivars": "cultivar,fruit_type,flesh_colour,check\nHalden,peach,yellow,yes\n",
        "sites": "site,name,latitude_deg,longitude_deg\nfar,Far block,-33.9,19.1\n",
        "samples": (
            "sample,cultivar,site,date,pick,red\n"
            "S1,Halden,far,2021-12-28,1,7\nS2,Halden,far,2022-01-04,2,8\nS3,Halden,far,2022-12-30,1,6\n"
        ),
        "fruit": (
            "sample,fruit,suture_in,cross_in,firmness_1_lbf,firmness_2_lbf,ssc_brix\n"
            "S1,1,2.5,2.5,10,12,11\nS1,2,2.6,2.6,9,9,12\nS2,1,2.7,2.7,8,8,13\nS3,1,2.4,2.4,12,12,10\n"
        ),
    }
    folder.mkdir()
    for name, text in tables.items():
        (folder / f"{name}.csv").write_text(text)
    return folder


def test_a_southern_season_over_new_year_is_one_season(tmp_path):
    small = catalogues.load(small_folder(tmp_path / "records"))
    assert small.south
    assert small.picks["season"].tolist() == [2022, 2023]
    window = small.windows.loc["Halden"]
    assert [day_label(window[name], small.south) for name in ("earliest", "latest")] == ["Dec 28", "Jan 4"]
    assert small.values["size"].loc["Halden", ["fruit", "samples", "sites", "seasons"]].tolist() == [
        4,
        3,
        1,
        2,
    ]
    first_season = ((2.5 + 2.6) / 2 + 2.7) / 2
    assert small.values["size"].loc["Halden", "estimate"] / 25.4 == pytest.approx((first_season + 2.4) / 2)


def test_profiles_beside_the_records_add_to_and_replace_those_that_come_along(tmp_path):
    folder = small_folder(tmp_path / "records")
    (folder / "markets").mkdir()
    wish = '[[wish]]\ntrait = "sugar"\nshape = "larger"\nfrom = 8\nto = 14\n'
    (folder / "markets" / "school.toml").write_text(f'name = "School lunches"\n{wish}')
    (folder / "markets" / "pick_your_own.toml").write_text(f'name = "Our own rows"\n{wish}')
    (folder / "markets" / "broken.toml").write_text("name")
    own = catalogues.load(folder)
    assert own.markets["school"].name == "School lunches"
    assert own.markets["pick_your_own"].name == "Our own rows"
    assert "roadside_stand" in own.markets
    assert len(own.market_problems) == 1
    assert own.market_problems[0].startswith("broken.toml")


def test_a_folder_without_records_says_so(tmp_path):
    with pytest.raises(RecordError):
        catalogues.load(tmp_path)


def test_the_demo_is_loaded_once_and_declared_invented(demo):
    assert catalogues.load(demo_data()) is demo
    assert catalogues.load(str(demo_data()) + "/.") is demo
    assert demo.invented
    assert not demo.market_problems


def test_the_demo_has_every_sample_and_every_fruit_of_its_records(demo):
    assert set(demo.summaries["cultivar"]) <= set(demo.cultivars.index)
    assert demo.fruit["cultivar"].notna().all()
    assert demo.values["size"]["samples"].sum() == demo.summaries["size"].notna().sum()
    assert demo.values["size"]["fruit"].sum() == demo.fruit["size"].notna().sum()
