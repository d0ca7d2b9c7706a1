"""An answer in words: right by hand, and the same on paper as on the page."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from dashboard.answers.catalogue import load
from dashboard.answers.question import Question
from dashboard.handout.worth import standing
from dashboard.market import Wish
from dashboard.page.tabs import account as page_account
from dashboard.page.tabs.season_tables import weeks_view, windows_view
from dashboard.wording import facts
from dashboard.wording import figures as words
from dashboard.wording.account import account_told
from dashboard.wording.figures import chance, of_hundred
from tests.handout.reading import plain
from tests.records.small import tables, write_folder


@pytest.mark.parametrize(
    ("part", "told"),
    [(0.0, "under 1 %"), (0.004, "under 1 %"), (0.01, "1 %"), (0.5, "50 %"), (0.99, "99 %"), (0.996, "over 99 %"), (1.0, "over 99 %"), (float("nan"), "–")],
)  # fmt: skip
def test_a_chance_is_never_a_plain_nothing_or_all(part, told):
    assert words.chance(part) == told


def test_so_many_seasons_of_a_hundred_are_never_all_or_none():
    assert [words.of_hundred(part) for part in (0.0, 0.57, 1.0)] == ["under 1", "57", "over 99"]


def test_figures_are_written_with_what_is_not_known_of_them():
    nan = float("nan")
    row = {"size": 66.294, "size_low": 62.992, "size_high": 69.596}
    assert words.interval("size", row, "us") == "2.61 (2.48–2.74)"
    assert words.interval("size", row, "si") == "66.3 (63.0–69.6)"
    assert words.interval("size", {**row, "size_low": nan}, "us") == "2.61 (?)"
    assert words.interval("size", {**row, "size": nan}, "us") == "–"
    assert words.score({"score": 0.624, "score_low": 0.48, "score_high": 0.741}) == "62 (48–74)"
    assert words.score({"score": 0.624, "score_low": nan, "score_high": nan}) == "62"
    assert words.score({"score": nan, "score_low": nan, "score_high": nan}) == "–"
    seen = {"seasons": 1, "sites": 2, "samples": 3}
    assert words.evidence(seen) == "1 season, 2 sites, 3 samples"
    assert words.evidence({**seen, "samples": 0}) == "not sampled"


def test_kinds_lists_and_counts():
    flat = {"shape_type": "flat", "flesh_colour": "white", "fruit_type": "nectarine", "status": "released"}
    assert words.kind(flat) == "flat white nectarine"
    assert words.kind({**flat, "flesh_colour": "not recorded", "shape_type": "round"}) == "nectarine"
    assert words.kind({**flat, "status": "numbered selection"}) == "flat white nectarine, selection"
    assert words.listed([f"C{n}" for n in range(9)]) == "C0, C1, C2, C3, C4, C5 and 3 more"
    assert [words.counted(n, "day") for n in (0, 1, 2000)] == ["0 days", "1 day", "2,000 days"]


def test_names_and_bases(demo):
    assert [words.site_name(demo, site) for site in ("ondry", "nowhere")] == ["Ondry Ridge block", "nowhere"]
    assert (
        words.basis_told(Question(demo))
        == "adjusted for site and year (mixed model), over sites and seasons, fruit as picked"
    )
    there = words.basis_told(Question(demo, site="ondry", ripeness="equal"))
    assert (
        there
        == "adjusted for site and year (mixed model), at Ondry Ridge block, size and sugar at equal firmness"
    )


def test_records_of_ratings_alone_say_what_their_figures_stand_for(tmp_path):
    grids = tables()
    del grids["fruit"][1:]
    known = load(write_folder(tmp_path, grids))
    assert "nothing was measured" not in words.basis_told(Question(known))
    assert ", over sites and seasons, " in words.basis_told(Question(known))


@pytest.mark.parametrize("system", ["us", "si"])
def test_every_fact_on_record_is_told(demo, system):
    name = str(demo.windows["seasons"].idxmax())
    dossier = Question(demo, cultivar=name, units=system).dossier
    told = dict(facts.facts(demo, dossier, system))
    assert told["Flesh color"] == dossier["facts"]["flesh_colour"]
    assert (
        f"{len(dossier['yields'].groupby(['site', 'year'], observed=True))} crops"
        in told[f"Yield per tree ({'lb' if system == 'us' else 'kg'})"]
    )
    assert int(dossier["trees"]["trees"].sum()) == sum(
        int(part.split()[0]) for part in told["Trees standing"].split("; ")
    )


def test_a_price_is_told_with_its_currency_or_that_none_is_stated(demo):
    name = str(demo.records_tables["nursery"].query("trees_available > 0")["cultivar"].iloc[-1])
    dossier = Question(demo, cultivar=name).dossier
    (told,) = [told for label, told in facts.facts(demo, dossier, "us") if label.startswith("Nursery offers")]
    assert re.search(r"USD \d+\.\d\d a tree", told)
    unsaid = replace(demo, currency="")
    (told,) = [
        told for label, told in facts.facts(unsaid, dossier, "us") if label.startswith("Nursery offers")
    ]
    assert re.search(r"\d+\.\d\d a tree \(currency not stated\)", told)
    assert "USD" not in told


def test_an_offer_without_a_price_says_so():
    assert words.price(float("nan"), "USD", "a tree") == "price not stated"


@pytest.mark.parametrize("market", ["roadside_stand", "long_distance_shipper", "low_acid_white_speciality"])
def test_the_account_is_told_as_on_the_page(demo, market):
    asked = Question(demo, market=market)
    told = 0
    for name in asked.ranking.index[::25]:
        one = replace(asked, cultivar=str(name))
        assert account_told(one) == plain(page_account.account_told(one))
        told += len(account_told(one))
    assert told > 15


def test_filters_are_told_in_words(demo):
    asked = Question(
        demo, fruit_type=("peach",), flesh_colour=("white", "red"), status=("released",), ripening=("07a",), seasons=3
    )  # fmt: skip
    told = words.filters_told(asked)
    assert told == (
        "fruit type peach; flesh color white or red; status released; picked in Jul 1–15; picked in at least 3 seasons"
    )
    asked = Question(demo, ripening=("07a",), flesh_colour=("red",), fruit_type=("nectarine",), seasons=5)
    assert asked.emptied is not None
    assert (
        words.filters_told(asked)
        == "fruit type nectarine; flesh color red; picked in Jul 1–15; picked in at least 5 seasons"
    )
    assert words.filters_told(Question(demo)) == "none"


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
    from dashboard.answers.among import among

    name = "Trenirrin"
    page = among(demo.values, name)
    assert len(page) > 5
    for one in page:
        tied = one.known - one.above - one.below
        here = standing(demo.values[one.trait]["estimate"], demo.values[one.trait].loc[name])[0]
        np.testing.assert_allclose(here, (one.below + tied / 2) / one.known)


@pytest.mark.parametrize(
    ("part", "told"),
    [(0.797, "79"), (0.8, "80"), (0.196, "19"), (0.2, "20"), (0.8996, "89"), (0.745, "74"), (0.496, "50")],
)
def test_a_chance_is_not_rounded_up_to_a_mark_that_it_misses(part, told):
    """Or 80 % would stand beside “may qualify”, and fruit in 80 of 100 years in a gap."""
    assert of_hundred(part) == told
    assert chance(part) == f"{told} %"


def test_dates_in_any_year_are_said_to_be_those_of_an_ordinary_one(demo):
    asked = Question(demo, season_kind="any")
    for view in (weeks_view, windows_view):
        assert "an ordinary year" in view(asked, 1)["title"]
