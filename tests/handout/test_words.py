"""The words of the handout are those of the page."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from dashboard.comparison import Comparison
from dashboard.filters import Filters, _described
from dashboard.handout import facts, words
from dashboard.handout.account import account_told
from dashboard.handout.season_page import gap_told
from dashboard.handout.worth import standing
from dashboard.market import Wish
from dashboard.traits import TRAITS
from dashboard.views import account as page_account
from dashboard.views import chances as page_chances
from dashboard.views import facts as page_facts
from dashboard.views import gaps as page_gaps
from dashboard.views import listing as page_listing
from dashboard.views import season as page_season
from dashboard.views import words as page_words
from tests.handout.reading import plain


@pytest.mark.parametrize("part", [0.0, 0.004, 0.01, 0.5, 0.99, 0.996, 1.0, float("nan")])
def test_a_chance_is_written_as_on_the_page(part):
    assert words.chance(part) == page_chances.chance(part)


@pytest.mark.parametrize("system", ["us", "si"])
def test_rows_are_written_as_on_the_page(demo, system):
    asked = Comparison(demo, market="long_distance_shipper", units=system)
    rows = asked.ranking.to_dict("records")
    assert [words.score(row) for row in rows] == [page_listing.score(row) for row in rows]
    assert [words.kind(row) for row in rows] == [page_listing._kind(row) for row in rows]
    for key in TRAITS:
        assert [words.interval(key, row, system) for row in rows] == [
            page_words.interval(key, row, system) for row in rows
        ]


@pytest.mark.parametrize("system", ["us", "si"])
def test_limits_are_written_as_on_the_page(demo, system):
    for market in demo.markets.values():
        for limit in market.limits:
            assert words.limit_told(limit, system) == page_words.limit_told(limit, system)


def test_names_and_bases_are_written_as_on_the_page(demo):
    for site in ("", "ondry", "nowhere"):
        assert words.site_name(demo, site) == page_words.site_name(demo, site)
    for asked in (
        Comparison(demo),
        Comparison(demo, site="ondry", ripeness="equal"),
    ):
        assert words.basis_told(asked) == page_words.basis_told(asked)
    assert words.YEARS == page_season.YEARS
    assert words.WAYS == page_account.WAYS
    names = [f"C{number}" for number in range(9)]
    assert words.listed(names) == page_words.listed(names)
    assert [words.counted(n, "day") for n in (0, 1, 2000)] == [page_words.counted(n, "day") for n in (0, 1, 2000)]  # fmt: skip


@pytest.mark.parametrize("system", ["us", "si"])
def test_facts_are_those_of_the_page(demo, catalogue, system):
    for known in (demo, catalogue):
        for name in known.cultivars.index[:: 1 if known is catalogue else 7]:
            dossier = Comparison(known, cultivar=name, units=system).dossier
            assert facts.facts(known, dossier, system) == page_facts.facts(known, dossier, system)


@pytest.mark.parametrize("market", ["roadside_stand", "long_distance_shipper", "low_acid_white_speciality"])
def test_the_account_is_told_as_on_the_page(demo, market):
    asked = Comparison(demo, market=market)
    told = 0
    for name in asked.ranking.index[::25]:
        one = replace(asked, cultivar=str(name))
        assert account_told(one) == plain(page_account.account_told(one))
        told += len(account_told(one))
    assert told > 15


def test_gaps_are_told_as_on_the_page(demo):
    asked = Comparison(demo, shortlist=("Aldrum", "Trenirrin"))
    assert asked.cover.gaps
    for gap in asked.cover.gaps:
        assert gap_told(gap, False) == page_gaps._gap(gap, False)


def test_filters_are_told_in_words(demo):
    asked = Comparison(
        demo, fruit_type=("peach",), flesh_colour=("white", "red"), status=("released",), ripening=("07a",), seasons=3
    )  # fmt: skip
    told = words.filters_told(asked)
    assert told == (
        "fruit type peach; flesh colour white or red; status released; picked in 1–15 Jul; picked in at least 3 seasons"
    )
    assert "1–15 Jul" in _described("ripening", Filters(ripening=("07a",)))
    assert words.filters_told(Comparison(demo)) == "none"


def test_a_wish_says_where_it_is_met(catalogue):
    """By hand: of weights 2, 1 and 1 the first is half; 58 mm and 80 mm are the bounds of the packer's size."""
    told = [words.wish_told(wish, 4.0, "si") for wish in catalogue.markets["packer"].wishes]
    assert (
        told[0]
        == "size, the more the better: nothing at 58.0 mm, met in full at 80.0 mm (50 % of all weights)"
    )
    assert told[1] == (
        "firmness, neither more nor less: nothing at 15 N and at 80 N, met in full at 50 N (25 % of all weights)"
    )


def test_a_bound_between_two_decimals_is_written_out():
    """By hand: 60.325 mm are 2 3/8 in, 2.375 in."""
    wish = Wish("size", "larger", 50.8, 60.325, 60.325)
    assert words.wish_told(wish, 1.0, "us") == (
        "size, the more the better: nothing at 2.00 in, met in full at 2.375 in (100 % of all weights)"
    )


def test_a_long_name_is_cut_inside_a_sentence():
    assert words.called("Aldermere") == "Aldermere"
    assert words.called("W" * 200) == "W" * 40 + "…"


def test_the_place_among_all_is_that_of_the_page(demo):
    from dashboard.charts.standing import standings

    name = "Trenirrin"
    page = standings(demo.values, name, "us").set_index("trait")
    for key, trait in TRAITS.items():
        if trait.label in page.index:
            here = standing(demo.values[key]["estimate"], demo.values[key].loc[name])
            np.testing.assert_allclose(100 * np.array(here), page.loc[trait.label, ["at", "low", "high"]].astype(float))  # fmt: skip
