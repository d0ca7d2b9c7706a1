"""One cultivar before a market: what is told is the answer's, in the reader's units."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dashboard.answers.question import Question
from dashboard.answers.stand_ins import Change
from dashboard.market import Market, Wish
from dashboard.market.statements import statements
from dashboard.page.tabs.account import CHANGED, account_told, changed, costs_view, stand_ins_view
from dashboard.terms.traits import TRAITS
from dashboard.terms.units import N_PER_LBF
from dashboard.wording.figures import chance


@pytest.fixture(scope="module")
def asked(demo) -> Question:
    out = Question(demo, market="long_distance_shipper").fit
    small = [
        name
        for name, row in out.iterrows()
        if len(row["missed"]) == 1 and row["missed"][0][0].share is not None
    ]
    return Question(demo, market="long_distance_shipper", cultivar=str(small[0]))


def test_chances_are_labelled_apart(asked):
    said, row = str(account_told(asked)), asked.account.prospect
    assert f"every limit at once: {chance(row['clears'])}" in said
    assert f"limits on class and mean {chance(row['on_means'])}" in said
    assert f"limits on the share of fruit {chance(row['on_fruit'])}" in said
    assert f"Score to be expected {100 * row['expected']:.0f}" in said


def test_in_how_many_seasons_it_has_that_share_is_told(asked):
    said = str(account_told(asked))
    (limit,) = asked.account.seasons
    assert limit.share == 0.8
    assert 0 <= asked.account.seasons[limit] < 8
    assert "Season by season: 80 % of its fruit have size" in said


def test_a_market_may_ask_for_it_in_seasons(asked):
    lines = tuple(f"{line} seasons 8" if " share " in line else line for line in statements(asked.profile))
    strict = replace(asked, own=lines)
    assert strict.fit["clears"].mean() < asked.fit["clears"].mean()
    assert (strict.fit["verdict"] == "qualifies").sum() <= (asked.fit["verdict"] == "qualifies").sum()
    assert "in 8 seasons of 10" in str(account_told(strict))


@pytest.mark.parametrize("units", ["us", "si"])
def test_what_a_missed_share_would_take_is_told_as_a_mean(asked, units):
    told = replace(asked, units=units)
    ((limit, mean, low, _),) = told.account.needed
    trait = TRAITS[limit.key]
    assert f"at least {trait.written(low, units)}" in str(account_told(told))
    assert f"it is {trait.written(mean, units)}" in str(account_told(told))


def test_the_costs_are_the_account_s_dearest_first(asked):
    view = costs_view(asked)
    points = [int(row["cells"][4]) for row in view["rows"]]
    assert points == sorted(points, reverse=True)
    assert len(view["rows"]) == len(asked.profile.wishes)
    assert sum(int(row["cells"][3].removesuffix(" %")) for row in view["rows"]) == pytest.approx(100, abs=3)


def test_each_stand_in_has_its_gains_and_losses(asked):
    asked = replace(asked, apart=14)
    view = stand_ins_view(asked)
    assert len(view["rows"]) == len(asked.stand_ins) > 0
    for row, one in zip(view["rows"], asked.stand_ins, strict=True):
        gains, loses, unsure = row["cells"][3:6]
        for change in one.changes:
            more, less = CHANGED[change.trait]
            word = more if change.by > 0 else less
            sure = change.sure >= 0.9
            assert (f"{word} by" in gains) == (sure and change.better is True)
            assert (f"{word} by" in loses) == (sure and change.better is False)
            if not sure:
                assert TRAITS[change.trait].label.lower() in unsure.partition("not surely different: ")[2]
            elif change.better is None:
                assert f"{word} by" in unsure


@pytest.mark.parametrize(
    ("trait", "by", "better", "system", "told"),
    [
        ("firmness", -3.2 * N_PER_LBF, True, "us", "softer by 3.2 lb, nearer the ideal"),
        ("firmness", 3.2 * N_PER_LBF, False, "us", "firmer by 3.2 lb, farther from the ideal"),
        ("sugar", -1.25, False, "si", "less sweet by 1.2 °Brix"),
        ("red", 1.0, True, "us", "redder by 1.0 points of 10"),
        ("split_pit", -4.0, True, "us", "fewer split pits by 4 of 100 fruit"),
    ],
)
def test_a_change_is_told_by_what_it_is_not_by_its_sign(trait, by, better, system, told):
    market = Market("m", "M", "", (), (Wish("firmness", "target", 20.0, 50.0, 80.0), Wish("sugar", "larger", 8.0, 15.0, 15.0)))  # fmt: skip
    assert changed(Change(trait, by, 0.95, better), market, system) == told


def test_every_trait_has_its_two_words():
    assert set(CHANGED) == set(TRAITS)


def test_without_a_market_or_a_cultivar_there_is_no_account(demo):
    assert account_told(Question(demo, cultivar="Aldrum")) == ""
    assert costs_view(Question(demo, cultivar="Aldrum"))["rows"] == []


def test_a_cultivar_nobody_measured_is_told_without_figures(catalogue):
    asked = Question(catalogue, market="packer", cultivar="Unpicked")
    assert "It has no reading." in str(account_told(asked))
    assert all(row["cells"][2] == "not recorded" for row in costs_view(asked)["rows"])
    assert stand_ins_view(asked)["rows"] == []
