"""What a command asks for becomes a question, or one clear sentence."""

from __future__ import annotations

import pytest

from dashboard.answers.question import Question
from dashboard.handout.asking import FIRST, asking, from_ranking, with_shortlist
from dashboard.market import MarketError
from dashboard.places import MARKETS


def test_without_a_shortlist_it_is_the_first_thirty_of_the_ranking(demo):
    asked = with_shortlist(asking(demo, "roadside_stand"))
    assert asking(demo, "roadside_stand").shortlist == ()
    page = Question(demo, market="roadside_stand")
    assert asked.shortlist == tuple(page.ranking.index[:30])
    assert FIRST == 30
    assert from_ranking(asked)
    assert not from_ranking(asking(demo, "roadside_stand", "Aldrum, Zelmor"))


def test_a_shortlist_on_the_page_is_kept(demo):
    asked = Question(demo, market="roadside_stand", shortlist=("Zelmor",), flesh_colour=("white",))
    assert with_shortlist(asked) is asked


def test_a_market_is_a_key_or_a_file(demo):
    by_key, by_file = asking(demo, "roadside_stand"), asking(demo, str(MARKETS / "roadside_stand.toml"))
    assert by_key.profile.limits == by_file.profile.limits
    assert by_key.shortlist == by_file.shortlist


def test_names_are_found_whatever_their_case_and_kept_in_order_once(catalogue):
    asked = asking(catalogue, "packer", ' candover , "T 14-203", ALDERMERE, Candover,, ')
    assert asked.shortlist == ("Candover", "T 14-203", "Aldermere")


def test_hyphens_and_spaces_in_a_name_are_free_where_one_alone_is_so_called(demo):
    assert asking(demo, shortlist="k14227, K14 039").shortlist == ("K14-227", "K14-039")


def test_a_name_with_a_comma_stands_in_quotation_marks(catalogue, summaries, fruit):
    from dashboard.answers import catalogue as catalogues

    cultivars, own, all_fruit = (
        frame.assign(cultivar=frame["cultivar"].astype(str).replace({"Aldermere": "Alder, mere"}))
        for frame in (catalogue.cultivars.reset_index(), summaries, fruit)
    )
    known = catalogues.catalogue(cultivars, own, all_fruit, sites=catalogue.sites, markets={})
    assert asking(known, "", '"Alder, mere", Candover').shortlist == ("Alder, mere", "Candover")


def test_a_site_is_a_key_or_a_name(demo):
    assert asking(demo, site="Ondry Ridge block").site == asking(demo, site="ONDRY").site == "ondry"


@pytest.mark.parametrize(
    ("wanted", "told"),
    [
        ({"market": "moon"}, "There is no market 'moon'; there are long_distance_shipper (Long-distance shipper), "),
        ({"shortlist": "Trenirin"}, "There is no cultivar 'Trenirin' in these records; did you mean Trenirrin?"),
        ({"shortlist": "0"}, "There is no cultivar '0'"),
        ({"site": "moon"}, "No reading at a site 'moon'; there are readings at maravel, ondry, tessock."),
    ],
)  # fmt: skip
def test_what_is_not_there_is_one_sentence(demo, wanted, told):
    with pytest.raises(ValueError, match=r".") as fault:
        asking(demo, **wanted)
    assert str(fault.value).startswith(told)
    assert "\n" not in str(fault.value)


def test_a_profile_that_cannot_be_read_is_one_sentence(demo):
    with pytest.raises(MarketError, match=r"nowhere\.toml: cannot be read"):
        asking(demo, "nowhere.toml")
