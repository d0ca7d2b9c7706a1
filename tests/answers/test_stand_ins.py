"""Who could stand in for a cultivar, and what would be gained and lost."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.answers import catalogue as catalogues
from dashboard.answers.catalogue import Basis
from dashboard.answers.stand_ins import MOST, SAME, stand_ins
from dashboard.estimates.comparisons import difference
from dashboard.market import Market, Wish
from dashboard.terms.traits import UNKNOWN

BASIS = Basis()
SWEET = Market("m", "M", "", (), (Wish("sugar", "larger", 8, 14, 14), Wish("firmness", "target", 10, 35, 60)))


@pytest.fixture(scope="module")
def name(demo) -> str:
    return str(demo.windows["seasons"].idxmax())


def test_they_are_of_the_same_class_and_ripen_within_the_days(demo, name):
    facts, windows = demo.cultivars, catalogues.windows_at(demo)
    for apart in (3, 14):
        found = stand_ins(demo, name, SWEET, BASIS, apart)
        assert 0 < len(found) <= MOST
        for one in found:
            assert one.name != name
            for field in SAME:
                pair = {facts.loc[one.name, field], facts.loc[name, field]}
                assert len(pair - {UNKNOWN}) <= 1
                assert (UNKNOWN in pair) == (field in one.unknown)
            assert one.days == pytest.approx(windows.loc[one.name, "middle"] - windows.loc[name, "middle"])
            assert abs(one.days) <= apart


def test_the_nearest_comes_first_and_nearness_is_of_what_the_market_weighs(demo, name):
    found = stand_ins(demo, name, SWEET, BASIS, 14)
    away = [one.distance for one in found]
    assert away == sorted(away)
    sugar = demo.values["sugar"]["estimate"]
    firmness = demo.values["firmness"]["estimate"]
    first = found[0]
    by = [(sugar[first.name] - sugar[name]) / 6, (firmness[first.name] - firmness[name]) / 50]
    assert first.distance == pytest.approx(np.sqrt(np.mean(np.square(by))))


def test_every_change_has_the_sign_and_sureness_of_the_difference(demo, name):
    one = stand_ins(demo, name, SWEET, BASIS, 14)[0]
    assert [change.trait for change in one.changes] == ["sugar", "firmness", "size"]
    for change in one.changes:
        told = difference(demo.worth[change.trait], one.name, name)
        assert change.by == told.estimate
        assert change.sure == max(told.above, 1 - told.above)


def test_better_is_what_the_market_says_or_the_trait_where_it_does_not(demo, name):
    values = demo.values
    for one in stand_ins(demo, name, SWEET, BASIS, 14):
        better = {change.trait: change.better for change in one.changes}
        if values["sugar"]["estimate"][[name, one.name]].max() < 14:
            assert better["sugar"] == (
                values["sugar"]["estimate"][one.name] > values["sugar"]["estimate"][name]
            )
        off = (values["firmness"]["estimate"] - 35).abs()
        assert better["firmness"] == (off[one.name] < off[name])
    plain = stand_ins(demo, name, None, BASIS, 14)
    assert {change.trait for change in plain[0].changes} == {"size", "firmness", "sugar"}
    assert all(c.better is None for one in plain for c in one.changes if c.trait == "firmness")


def test_status_is_kept_to_and_nobody_has_no_stand_in(demo, catalogue, name):
    for one in stand_ins(demo, name, None, BASIS, 14, ("released",)):
        assert demo.cultivars["status"][one.name] == "released"
    assert stand_ins(demo, "Nobody", None, BASIS, 7) == ()
    assert stand_ins(catalogue, "Unpicked", None, BASIS, 7) == ()  # nobody knows when it ripens


def test_whose_class_is_not_recorded_in_full_stands_in_both_ways(demo):
    """Who may stand in for another may be stood in for by it; that a fact is missing is told."""
    acidity = demo.cultivars["acidity_class"]
    unsure = [name for name in acidity.index[acidity == UNKNOWN] if demo.windows["middle"].notna()[name]]
    for name in unsure[:5]:
        for one in stand_ins(demo, str(name), None, BASIS, 14):
            assert "acidity_class" in one.unknown
            back = stand_ins(demo, one.name, None, BASIS, 14)
            assert str(name) in {other.name for other in back} or len(back) == MOST
