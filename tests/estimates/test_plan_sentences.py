"""What a plan says of small and odd records, word for word, and which parts of the model it then keeps."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.estimates.plan import plan
from dashboard.estimates.readings import readings
from tests.estimates.trials import trial

ONE_SITE = "All samples come from one site: what a cultivar owes to that site is within its value."
ONE_SEASON = "All samples come from one season: what a cultivar owes to that season is within its value."
NO_BOTH = "One site or one season: no separate part for a cultivar in one site-season."
ENTERED = "Cultivars entered in 1 season; a trend from older to newer ones is looked for from 5 on."
PICKS = "The number of the pick does not vary or was not written down, so picks are taken as alike."


def rough(what: str, freedom: int) -> str:
    return f"{what} rests on {freedom} degrees of freedom and is only roughly known."


def few(cultivars: int) -> str:
    return f"Only {cultivars} cultivars, so what is usual is known roughly and the model helps little."


def sentences(frame, firmness: bool = False) -> tuple[str, ...]:
    return plan(readings(frame.reset_index(drop=True), "size"), firmness=firmness).sentences


def test_one_site_in_one_season():
    """Six cultivars of two samples: 6 - 1 degrees of freedom between them, 12 - 6 between samples."""
    assert sentences(trial(6, 1, 1)) == (
        ONE_SITE,
        ONE_SEASON,
        NO_BOTH,
        rough("How much cultivars differ", 5),
        rough("How much samples of one cultivar in one site-season differ", 6),
        ENTERED,
        few(6),
    )


def test_two_sites_in_two_seasons():
    """Four cultivars: (4 - 1), (4 - 1)(2 - 1) of either kind and (4 - 1)(2 - 1)(2 - 1) of both."""
    assert sentences(trial(4, 2, 2)) == (
        rough("How much cultivars differ", 3),
        rough("How differently cultivars do from site to site", 3),
        rough("How differently cultivars do from season to season", 3),
        rough("How differently cultivars do in one site-season", 3),
        ENTERED,
        few(4),
    )


def test_blocks_that_never_met():
    frame = trial(12, 2, 3)
    block = frame["cultivar"] <= "C005"
    assert sentences(frame[block == (frame["site"] == "Hill")]) == (
        "No cultivar stood at two sites so that they can be compared: what it owes to its site is within its value.",
        NO_BOTH,
        ENTERED,
        "The cultivars fall into 2 groups that never shared a site in a season, not even through others. Nothing is compared "
        "between the groups.",
        few(12),
    )


def test_crops_of_young_trees():
    """Told apart from ten samples on; where nothing older is on record, from the oldest there is."""
    frame = trial(12, 2, 3, seed=1)
    crop = np.resize([1.0, 2.0, 3.0, 5.0, np.nan], len(frame))
    planned = plan(readings(frame.assign(crop=crop), "size"))
    unknown = int(np.isnan(crop).sum())
    assert planned.crops == (1, 2, 3)
    assert "Crops of young trees are told apart: crop 1, 2, 3. Values are of older ones." in planned.sentences
    assert (
        f"{unknown} samples of trees that were planted in no known year are taken as of older ones."
        in planned.sentences
    )
    young = plan(readings(frame.assign(crop=np.minimum(np.nan_to_num(crop, nan=1.0), 3.0)), "size"))
    assert young.crops == (1, 2)
    alone = 1.0 + frame["season"] - frame["season"].min()  # all planted in one year: crops are the seasons
    planned = plan(readings(frame.assign(crop=alone), "size"))
    assert planned.crops == ()
    assert (
        "First crops never stood beside older ones, so trees of all ages are taken as alike."
        in planned.sentences
    )
    few = np.full(len(frame), 4.0)
    few[:9] = 1.0
    assert plan(readings(frame.assign(crop=few), "size")).crops == ()
    assert plan(readings(frame, "size")).crops == ()


def test_picks_and_firmness():
    frame = trial(12, 3, 3)
    assert sentences(frame, firmness=True) == (
        ENTERED,
        few(12),
        "Values are at the same firmness at picking, the usual one of these records.",
    )
    assert sentences(frame.assign(pick=np.nan)) == (ENTERED, PICKS, few(12))
    missing = frame.assign(pick=np.where(np.arange(len(frame)) < 4, np.nan, frame["pick"]))
    assert sentences(missing) == (
        ENTERED,
        "4 samples without the number of their pick are taken as of the usual one.",
        few(12),
    )
    assert sentences(trial(12, 3, 3, 1)) == (
        "One sample a site-season: the luck of a site-season and of its sample cannot be told apart.",
        ENTERED,
        PICKS,
        few(12),
    )


@pytest.mark.parametrize(
    ("spoiled", "meaning", "refused"),
    [
        (lambda f: f.assign(size=np.nan), "nothing was measured", "There is no reading of size."),
        (
            lambda f: f.iloc[:1],
            "at Hill in 2020 only",
            "There is one sample with a reading of size; nothing can be judged by one.",
        ),
        (
            lambda f: f[f["cultivar"] == "C001"],
            "over sites and seasons",
            "Only C001 has a reading of size; there is nothing to set it against.",
        ),
        (
            lambda f: f.assign(size=60.0),
            "over sites and seasons",
            "Every sample has the same reading of size, 60; there is no variation to share out.",
        ),
        (
            lambda f: f.drop_duplicates("cultivar"),
            "at Hill in 2020 only",
            "Each cultivar has one sample with a reading of size, so cultivars cannot be told from samples.",
        ),
        (
            lambda f: f.assign(size=60 + 1e-9 * f["size"]),
            "over sites and seasons",
            "The samples differ by nothing but rounding in size; there is no variation to share out.",
        ),
    ],
)
def test_why_there_is_no_model(spoiled, meaning, refused):
    found = plan(readings(spoiled(trial(12, 3, 3)).reset_index(drop=True), "size"))
    assert (found.meaning, found.sentences) == (meaning, (refused,))


def test_what_the_fruit_of_samples_cannot_tell():
    frame = trial(12, 3, 3)
    single = frame.assign(size_n=1.0)
    assert sentences(single)[0] == (
        "Samples of one fruit: the spread among fruit cannot be told from that among samples."
    )
    alike = "The fruit of a sample are all alike, so samples count alike."
    assert sentences(frame.assign(size_ss=0.0))[0] == alike
    unknown = frame.assign(size_ss=np.where(np.arange(len(frame)) == 3, np.nan, frame["size_ss"]))
    assert sentences(unknown)[0] == (
        "The spread of the fruit within samples is not known for all of them, so samples count alike."
    )


def test_cultivars_that_came_later():
    frame = trial(12, 3, 3)
    late = frame[(frame["cultivar"] != "C000") | (frame["season"] > frame["season"].min())]
    assert sentences(late)[0] == (
        "Cultivars entered in 2 seasons; a trend from older to newer ones is looked for from 5 on."
    )
