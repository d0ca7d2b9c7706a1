"""A few cultivars side by side: the same figures as everywhere, drawn diameters that fit them, differences told or refused."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.answers import catalogue as catalogues
from dashboard.answers.catalogue import Basis
from dashboard.answers.question import Question
from dashboard.answers.side_by_side import MOST, diameters, offered, side_by_side
from dashboard.estimates.comparisons import difference
from dashboard.estimates.many import SURE, holm, mistaken
from dashboard.page.tabs.differing import differing
from dashboard.terms.traits import FRUIT_TRAITS, TRAITS
from tests.estimates.trials import judged, trial
from tests.records.small import tables, write_folder

THREE = ("Briskwell", "Candover", "Glenhollow")
RATINGS = tuple(key for key, trait in TRAITS.items() if trait.quantity == "rating")


def of_summaries(catalogue, summaries: pd.DataFrame):
    """A catalogue of a simulated trial."""
    known = pd.DataFrame({"cultivar": sorted(summaries["cultivar"].unique())})
    fruit = pd.DataFrame({"cultivar": [], **{trait: [] for trait in FRUIT_TRAITS}})
    dated = summaries.assign(day=200.0, date=pd.Timestamp("2020-07-18"))
    return catalogues.catalogue(known, dated, fruit, sites=catalogue.sites, markets=catalogue.markets)


def test_every_trait_of_each_is_there_as_on_every_other_tab(catalogue):
    asked = Question(catalogue, beside=THREE)
    found = asked.side_by_side
    assert list(found.values) == list(TRAITS)
    for trait, frame in found.values.items():
        pd.testing.assert_frame_equal(frame, asked.values[trait].loc[list(THREE)])
    assert found.counts.loc["Briskwell"].to_dict() == {"fruit": 120, "samples": 12, "sites": 2, "seasons": 4}
    assert found.windows.index.tolist() == list(THREE)


def test_at_a_site_the_figures_are_of_that_site_and_the_differences_over_all(catalogue):
    over, at = (Question(catalogue, beside=THREE, site=site).side_by_side for site in ("", "River"))
    assert at.values["size"].equals(catalogue.figures[Basis("River")]["size"].loc[list(THREE)])
    assert not at.values["size"].equals(over.values["size"])
    told = [
        [(t.trait, t.by.first, t.by.estimate, t.chance) for t in found.differences] for found in (over, at)
    ]
    assert told[0] == told[1]


def test_at_equal_firmness_the_differences_in_size_are_of_fruit_at_equal_firmness(demo):
    names = tuple(demo.cultivars.index[[3, 40]])
    found = side_by_side(demo, names, Basis("", "equal"))
    by = next(told.by for told in found.differences if told.trait == "size")
    own = demo.figures[Basis("", "equal")]["size"]["estimate"]
    assert by.estimate == pytest.approx(own[by.first] - own[by.second])
    assert by.estimate != pytest.approx(
        demo.values["size"]["estimate"][by.first] - demo.values["size"]["estimate"][by.second]
    )


def test_each_pair_in_each_trait_is_looked_at_once_the_higher_one_first(catalogue):
    found = Question(catalogue, beside=THREE).side_by_side
    pairs = {frozenset(pair) for pair in combinations(THREE, 2)}
    not_told = {trait for traits in found.refused.values() for trait in traits}  # ratings without any scatter
    assert not_told == set(RATINGS)
    assert len(found.differences) == len(pairs) * (len(TRAITS) - len(not_told))
    for told in found.differences:
        assert told.by.estimate >= 0
        assert frozenset((told.by.first, told.by.second)) in pairs
        again = difference(catalogue.worth[told.trait], told.by.first, told.by.second)
        assert (told.by.estimate, told.by.se, told.by.df) == (again.estimate, again.se, again.df)
    assert sorted(map(id, (*found.real, *found.alike))) == sorted(map(id, found.differences))


def test_the_chances_are_adjusted_for_all_that_is_looked_at(demo):
    names = tuple(demo.cultivars.index[[3, 40, 77, 120, 200, 310]])
    found = side_by_side(demo, names, Basis())
    raw = np.array([mistaken(told.by) for told in found.differences])
    assert len(raw) == 15 * len(TRAITS)
    assert [told.chance for told in found.differences] == pytest.approx(holm(raw))
    assert 0 < len(found.real) < (raw <= SURE).sum()  # some that stand out alone do not after looking at all
    assert all(told.chance <= SURE for told in found.real)
    assert not any(told.chance <= SURE for told in found.alike)


def test_two_far_apart_are_told_apart_and_two_alike_are_not(catalogue):
    """Sizes were drawn about 74 and 63 mm, firmness about 52 and 38 N."""
    found = Question(catalogue, beside=("Briskwell", "Dunmarrow")).side_by_side
    by_trait = {told.trait: told for told in found.differences}
    assert by_trait["size"].by.first == "Briskwell"
    assert by_trait["size"].sure
    assert not by_trait["roundness"].sure  # both were drawn about 0.98


def test_a_cultivar_without_readings_is_refused_by_name(catalogue):
    found = Question(catalogue, beside=("Briskwell", "Unpicked")).side_by_side
    assert found.differences == ()
    assert "Unpicked has no reading of size." in found.refused
    assert np.isnan(found.fruit["Unpicked"].size)
    assert np.isnan(found.days_after["Unpicked"])
    sugar = Question(catalogue, beside=("Briskwell", "T 15-118")).side_by_side
    assert sugar.refused.pop("T 15-118 has no reading of sugar.") == ("sugar",)
    assert list(sugar.refused.values()) == [RATINGS]


def test_without_a_model_the_reason_is_told_once_for_all_its_traits(catalogue):
    made = of_summaries(catalogue, trial().drop_duplicates("cultivar").reset_index(drop=True))
    assert not made.worth["size"].modelled
    found = side_by_side(made, ("C000", "C001", "C002"), Basis())
    assert found.differences == ()
    assert "size" in found.refused[made.worth["size"].plan.refused]


def test_cultivars_that_never_met_even_through_others_are_refused(catalogue):
    frame = trial(14, 2, 3)
    block = frame["cultivar"] <= "C006"
    made = of_summaries(catalogue, frame[block == (frame["site"] == "Hill")].reset_index(drop=True))
    found = side_by_side(made, ("C000", "C001", "C010"), Basis())
    assert {(t.by.first, t.by.second) for t in found.differences if t.trait == "size"} <= {
        ("C000", "C001"),
        ("C001", "C000"),
    }
    refusals = [why for why, traits in found.refused.items() if "size" in traits]
    assert len(refusals) == 2
    assert all("never shared a site" in why and "C010" in why for why in refusals)


def test_what_a_difference_stands_for_is_told_by_trait(catalogue):
    """Ratings from one season only: their differences are of that season."""
    whole = trial(12, 2, 3)
    rating = judged(whole)["attractiveness"].where(whole["season"] == 2020)
    made = of_summaries(catalogue, whole.assign(attractiveness=rating.to_numpy()))
    found = side_by_side(made, ("C000", "C001"), Basis())
    assert found.meanings["over sites and seasons"][0] == "size"
    assert found.meanings["over sites, in 2020 only"] == ("attractiveness",)
    words = differing(Question(made, beside=("C000", "C001")))
    assert "over sites, in 2020 only: attractiveness" in words


def test_six_at_most_each_once_and_only_those_there(catalogue):
    many = tuple(catalogue.cultivars.index[:8])
    found = side_by_side(catalogue, (*many, many[0]), Basis())
    assert found.names == many[:MOST]
    assert found.left_out == many[MOST:]
    with pytest.raises(ValueError, match="Nobody"):
        side_by_side(catalogue, ("Briskwell", "Nobody"), Basis())


def test_one_alone_differs_from_nobody(catalogue):
    found = side_by_side(catalogue, ("Briskwell",), Basis())
    assert found.differences == ()
    assert found.refused == {}


def test_nothing_is_set_side_by_side_until_it_is_asked_for(catalogue):
    asked = Question(catalogue, chosen=("Candover",), shortlist=THREE)
    assert asked.side_by_side is None
    assert asked.offered == THREE  # one alone is not enough
    assert Question(catalogue, chosen=THREE[:2], shortlist=THREE).offered == THREE[:2]
    assert Question(catalogue).offered == ()
    assert offered(tuple("abcdefgh")) == tuple("abcdef")


def test_asking_again_gives_the_same_object_and_a_market_moves_nothing(catalogue):
    asked = Question(catalogue, beside=THREE)
    for other in ({}, {"market": "packer"}, {"units": "si"}, {"stone": ("cling",)}, {"shortlist": THREE}):
        assert Question(catalogue, beside=THREE, **other).side_by_side is asked.side_by_side
    for other in ({"site": "River"}, {"season_kind": "late"}, {"ripeness": "equal"}):
        assert Question(catalogue, beside=THREE, **other).side_by_side is not asked.side_by_side


def test_days_after_the_earliest_are_those_of_the_middles(catalogue):
    found = Question(catalogue, beside=THREE).side_by_side
    assert found.days_after.min() == 0
    assert found.days_after["Briskwell"] - found.days_after["Candover"] == pytest.approx(
        found.windows["middle"]["Briskwell"] - found.windows["middle"]["Candover"]
    )


@given(st.floats(20, 120), st.floats(0.5, 2))
def test_the_drawn_diameters_give_back_size_and_roundness(size, roundness):
    suture, cross = diameters(size, roundness)
    assert (suture + cross) / 2 == pytest.approx(size)
    assert suture / cross == pytest.approx(roundness)


def test_without_a_roundness_a_fruit_is_round():
    assert diameters(60.0, float("nan")) == (60.0, 60.0)


def test_a_fruit_is_drawn_from_its_figures_and_facts(catalogue):
    fruit = side_by_side(catalogue, ("Glenhollow", "T 16-007"), Basis()).fruit
    own = catalogue.values
    flat = fruit["Glenhollow"]
    assert (flat.flesh_colour, flat.stone, flat.shape_type) == ("yellow", "cling", "flat")
    assert flat.size == own["size"].loc["Glenhollow", "estimate"]
    assert flat.red == pytest.approx(own["red"].loc["Glenhollow", "estimate"] / 10)
    assert fruit["T 16-007"].stone == "not recorded"


def test_the_photographs_of_each_the_newest_first(tmp_path):
    grids = tables()
    names = ("photo", "S1.jpg", "S2.jpg; S2 cut.jpg", "", "")
    grids["samples"] = [[*row, name] for row, name in zip(grids["samples"], names, strict=True)]
    known = catalogues.load(write_folder(tmp_path / "records", grids))
    found = side_by_side(known, ("Alvane", "Brintel", "T 12-034"), Basis()).photographs
    assert set(found) == {"Alvane"}
    assert [(one.file, one.site, one.date) for one in found["Alvane"]] == [
        ("S2.jpg", "high", pd.Timestamp("2024-07-05")),
        ("S2 cut.jpg", "high", pd.Timestamp("2024-07-05")),
        ("S1.jpg", "low", pd.Timestamp("2023-07-01")),
    ]


def test_worth_is_of_the_same_traits(demo):
    """A difference needs what stands behind the values; that of equal firmness is kept, too."""
    assert list(demo.worth) == list(TRAITS)
    assert list(demo.equal) == list(TRAITS)
