"""Small hand-made records, and a guard that nobody writes into the catalogue every visitor shares."""

from __future__ import annotations

import hashlib
from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from hypothesis import settings

from dashboard.answers import catalogue as catalogues
from dashboard.answers.brought import with_facts
from dashboard.answers.catalogue import Catalogue
from dashboard.answers.facts import Fact
from dashboard.market import Limit, Market, Wish
from dashboard.places import demo_data
from dashboard.ripening import day_of
from dashboard.terms.traits import FRUIT_TRAITS, SAMPLE_TRAITS
from tests.each_day import by_test
from tests.site.places import weather as days

# No test is timed: on a busy machine a first example may take longer than the library's limit. Each run tries other
# examples, so few a run are many a week; many at once with  pytest --hypothesis-profile=many.
settings.register_profile("few", deadline=None, max_examples=8)
settings.register_profile("many", deadline=None, max_examples=500)
settings.load_profile("few")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Of many cases that are alike one in so many is for each day; the others are in the long run."""
    many = (item for item in items if item.get_closest_marker("alike"))
    for same in by_test(item for item in many if not item.get_closest_marker("slow")):
        for number, item in enumerate(same):
            if number % item.get_closest_marker("alike").args[0]:
                item.add_marker(pytest.mark.slow)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log):
    from tests.sharing_out import ByKind

    return ByKind(config, log) if config.getoption("dist") == "loadfile" else None


# The class facts, whether it is a check, then size (mm), firmness (N), sugar (°Brix), first day, seasons.
PEACH, NECTARINE, NUMBERED = "peach", "nectarine", "numbered selection"
CULTIVARS = (
    ("Aldermere", PEACH, "yellow", "normal", "round", "free", "released", True, 68.0, 45.0, 11.5, 190, 4),
    ("Briskwell", PEACH, "yellow", "normal", "round", "free", "released", False, 74.0, 52.0, 10.5, 201, 4),
    ("Candover", PEACH, "white", "low", "round", "free", "released", False, 66.0, 40.0, 13.5, 197, 3),
    ("Dunmarrow", PEACH, "white", "normal", "round", "cling", "released", False, 63.0, 38.0, 12.0, 180, 3),
    ("Elmsworth", NECTARINE, "yellow", "normal", "round", "free", "released", True, 61.0, 55.0, 12.5, 186, 4),
    ("Farrowby", NECTARINE, "white", "low", "round", "semi-free", "released", False, 59.0, 48.0, 14.0, 205, 2),
    ("Glenhollow", PEACH, "yellow", "low", "flat", "cling", "released", False, 57.0, 35.0, 14.5, 193, 2),
    ("Harrowmead", PEACH, "red", "normal", "round", "cling", "released", False, 60.0, 42.0, 12.0, 222, 1),
    ("T 14-203", PEACH, "yellow", "normal", "round", "free", NUMBERED, False, 76.0, 58.0, 12.2, 214, 2),
    ("T 15-118", NECTARINE, "yellow", None, "round", "free", NUMBERED, False, 65.0, 50.0, None, 199, 1),
    ("T 16-007", None, None, "low", "flat", None, NUMBERED, False, 55.0, 30.0, 13.0, 230, 1),
    ("Unpicked", PEACH, "yellow", "normal", "round", "free", "released", False, None, None, None, None, 0),
)  # fmt: skip
FRUIT_A_SAMPLE = 10


def cultivar_frame() -> pd.DataFrame:
    columns = [
        "cultivar",
        "fruit_type",
        "flesh_colour",
        "acidity_class",
        "shape_type",
        "stone",
        "status",
        "check",
    ]
    frame = pd.DataFrame([row[:8] for row in CULTIVARS], columns=columns)
    texts = {name: frame[name].astype("str") for name in columns[:-1]}
    return frame.assign(
        **texts,
        flesh_texture="melting",
        protected=False,
        bacterial_spot=1.0,
        chill_requirement_h=850.0,
        note=np.nan,
    )


def fruit_frame() -> pd.DataFrame:
    """Ten fruit a sample, two picks a site-season, the second larger, softer and sweeter."""
    rng = np.random.default_rng(2024)
    rows = []
    for name, *_, size, firmness, sugar, first, seasons in CULTIVARS:
        for season in range(2021, 2021 + seasons):
            for site in ("Hill", "River")[: 1 + season % 2]:
                for pick in (1, 2):
                    late = pick - 1
                    fruits = pd.DataFrame(
                        {
                            "size": rng.normal(size + late, 3, FRUIT_A_SAMPLE),
                            "firmness": rng.normal(firmness - 8 * late, 6, FRUIT_A_SAMPLE),
                            "sugar": rng.normal(sugar + late / 2, 0.8, FRUIT_A_SAMPLE) if sugar else np.nan,
                            "cheek_difference": np.abs(rng.normal(4, 2, FRUIT_A_SAMPLE)),
                            "roundness": rng.normal(0.98, 0.02, FRUIT_A_SAMPLE),
                        }
                    )
                    # An early season (2021) to a late one (2024), the river site later than the hill.
                    day = first + 3 * (season - 2022) + 2 * (site == "River") + 5 * late
                    rows.append(
                        fruits.assign(
                            sample=f"{name} {season} {site} {pick}",
                            cultivar=name,
                            site=site,
                            season=season,
                            day=float(day),
                            pick=float(pick),
                        )
                    )
    return pd.concat(rows, ignore_index=True)


def summary_frame(fruit: pd.DataFrame) -> pd.DataFrame:
    """Sample summaries of ``fruit``: one row a sample, ratings from its cultivar and pick."""
    keys = ["sample", "cultivar", "site", "season", "day", "pick"]
    samples = fruit.groupby(keys, sort=False)
    columns = {}
    for trait in FRUIT_TRAITS:
        columns[trait] = samples[trait].mean()
        columns[f"{trait}_n"] = samples[trait].count().astype(float)
        columns[f"{trait}_ss"] = samples[trait].apply(lambda values: ((values - values.mean()) ** 2).sum())
    frame = pd.DataFrame(columns).reset_index()
    base = frame["cultivar"].str.len() % 5 + frame["pick"]
    ratings = {trait: base + place / 2 for place, trait in enumerate(SAMPLE_TRAITS)}
    date = pd.to_datetime(frame["season"].astype(str) + "-01-01") + pd.to_timedelta(
        frame["day"] - 1, unit="D"
    )
    return frame.assign(date=date, **ratings)


def market_set() -> dict[str, Market]:
    packer = Market(
        "packer",
        "Packer",
        "Large firm yellow fruit.",
        (
            Limit("class", "flesh_colour", ("yellow",)),
            Limit("trait", "size", at_least=63.5, share=0.8),
            Limit("trait", "sugar", at_least=9.0),
        ),
        (
            Wish("size", "larger", 58.0, 80.0, 80.0, 2.0),
            Wish("firmness", "target", 15.0, 50.0, 80.0, 1.0),
            Wish("sugar", "larger", 8.0, 15.0, 15.0, 1.0),
        ),
    )
    open_to_all = Market("open", "Open", "No limits.", (), (Wish("sugar", "larger", 8.0, 16.0, 16.0),))
    return {"packer": packer, "open": open_to_all}


def site_frame() -> pd.DataFrame:
    return pd.DataFrame({"site": ["Hill", "River"], "name": ["Hill", "River"], "latitude_deg": [37.1, 37.3]})


@pytest.fixture(scope="session")
def fruit() -> pd.DataFrame:
    return fruit_frame()


@pytest.fixture(scope="session")
def summaries(fruit: pd.DataFrame) -> pd.DataFrame:
    """Sample summaries of eleven coined cultivars, one to four seasons, at one or two sites."""
    return summary_frame(fruit)


@pytest.fixture(scope="session")
def catalogue(summaries: pd.DataFrame, fruit: pd.DataFrame) -> Catalogue:
    """Twelve coined cultivars: all classes, two without every class, one without sugar, one never picked."""
    trees = pd.DataFrame(
        {
            "site": ["Hill", "Hill", "River", "Hill"],
            "row": ["1", "1", "4", "2"],
            "position": ["1", "2", "7", "1"],
            "cultivar": ["Aldermere", "Aldermere", "Aldermere", "Briskwell"],
            "rootstock": ["seedling", "seedling", np.nan, "seedling"],
            "planted": [2015.0, 2015.0, 2016.0, 2015.0],
            "removed": [np.nan, np.nan, np.nan, 2020.0],
        }
    )
    bloom = pd.DataFrame(
        {
            "cultivar": ["Aldermere"],
            "site": ["Hill"],
            "year": [2022.0],
            "full_bloom": pd.to_datetime(["2022-03-20"]),
        }
    )
    return catalogues.catalogue(
        cultivar_frame(),
        summaries,
        fruit,
        sites=site_frame(),
        markets=market_set(),
        tables={"trees": trees, "bloom": bloom},
        records_title="Twelve coined cultivars",
        invented=True,
        version="hand-made",
    )


@pytest.fixture(scope="session")
def well_recorded(catalogue: Catalogue) -> Catalogue:
    """The same twelve with what is seldom recorded: every filter has something to part, and each has somebody it is not recorded of."""
    hours = [850, 600, np.nan, np.nan, 700, 1000, 450, np.nan, 850, 620, np.nan, 750]
    portions = [60, np.nan, 38, np.nan, 50, np.nan, 30, 72, np.nan, 45, np.nan, np.nan]
    textures = ["melting", "non-melting", "melting", "not recorded", "stony hard", "melting"] * 2
    cultivars = catalogue.cultivars.assign(
        flesh_texture=pd.Series(textures, index=catalogue.cultivars.index, dtype="str"),
        bacterial_spot=[0, 1, 2, 3, 4, 5, np.nan, 1, 2, np.nan, 0, 3],
        chill_requirement_h=hours,
        chill_requirement_cp=portions,
    )
    offers = [
        ("Aldermere", "Quillory Nursery", "2026", 120.0),
        ("Aldermere", "Ostravane Trees", "2026", 0.0),  # sold out
        ("Briskwell", "Ostravane Trees", "2026", np.nan),
        ("Candover", "Quillory Nursery", "2025", 80.0),  # of a former season
        ("Dunmarrow", "Ostravane Trees", "2026", 10.0),
        ("Elmsworth", "Quillory Nursery", "2026", 5.0),
        ("Elmsworth", "Ostravane Trees", "2026", 5.0),
    ]
    nursery = pd.DataFrame(offers, columns=["cultivar", "nursery", "season", "trees_available"])
    nursery = nursery.assign(rootstock="seedling", price_per_tree=8.5, bundle=10.0)
    warm = {"Hill": 20.0, "River": 18.5}  # °C over the year: chill runs short for some of the twelve
    made = [
        days("2015-10-01", "2022-10-31", mean=mean, seed=3).assign(site=site) for site, mean in warm.items()
    ]
    tables = {**catalogue.records_tables, "nursery": nursery, "weather": pd.concat(made)}
    tested = Fact(
        "virus tested", np.array(["yes", "no", "yes", "not recorded"] * 3)
    )  # of somebody's own table
    return with_facts(replace(catalogue, cultivars=cultivars, records_tables=tables), [tested])


@pytest.fixture(scope="session")
def without_chances(catalogue: Catalogue) -> Catalogue:
    """The same twelve, picking times and all, but with nothing a model of size could be fitted to: "packer" tells no chances, "open" does."""
    size = catalogue.worth["size"]
    plan = replace(size.plan, refused="Too few samples of size for a model.")
    return replace(catalogue, worth={**catalogue.worth, "size": replace(size, plan=plan, variance={})})


@pytest.fixture(scope="session")
def demo() -> Catalogue:
    """The catalogue of the invented scenario that comes with the project."""
    return catalogues.load(demo_data())


@pytest.fixture(scope="session")
def midsummer() -> float:
    return day_of(7, 14)


def _fingerprint(shared: Catalogue) -> dict[str, str]:
    frames = {
        "cultivars": shared.cultivars,
        "summaries": shared.summaries,
        "fruit": shared.fruit,
        "picks": shared.picks,
        "windows": shared.windows,
        "sites": shared.sites,
        **{
            f"values of {trait} {tuple(basis)}": frame
            for basis, figures in shared.figures.items()
            for trait, frame in figures.items()
        },
        **{f"worth in {trait}": worth.values for trait, worth in shared.worth.items()},
        **{f"table {name}": frame for name, frame in shared.records_tables.items()},
    }
    return {name: _digest(frame) for name, frame in frames.items()}


def _digest(frame: pd.DataFrame) -> str:
    rows = pd.util.hash_pandas_object(frame, index=True).to_numpy()
    columns = "|".join(map(str, frame.columns)).encode()
    return hashlib.sha256(columns + rows.tobytes()).hexdigest()


@pytest.fixture(scope="session", autouse=True)
def shared_catalogue_stays_as_it_was(demo: Catalogue):
    """The demo catalogue's frames hash the same after the run as before it."""
    before = _fingerprint(demo)
    yield
    after = _fingerprint(demo)
    changed = [name for name in before if before[name] != after.get(name)]
    assert not changed, f"written into during the run: {', '.join(changed)}"
