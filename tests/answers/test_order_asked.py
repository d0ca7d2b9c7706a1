"""What a link asks of an order of trees, and what would help where the list cannot fill the weeks."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from dashboard.answers import order_asked
from dashboard.answers.demand import Demand, alongside
from dashboard.answers.my_site import own_site, stations_of
from dashboard.answers.order_choices import amount, shares
from dashboard.answers.order_helped import Help, Reach, reached
from dashboard.answers.ordered import Order
from dashboard.answers.ordering import NOBODY, task
from dashboard.answers.planting import takes
from dashboard.answers.question import Question
from dashboard.order import Ordered
from dashboard.ripening.cover import SEED
from dashboard.terms.units import KG_PER_POUND
from dashboard.visit.state import State
from dashboard.wording import order_page as words

ASKED = (
    "&weekly=800&weeks=06-17+1200&acres=3.5&spacing=12x20&bears=90&tree_price=9.5&most_share=40&promise=90-60"
)
LIST = ("Rusvet", "Mulvet", "Quaskel")


@pytest.fixture(scope="module")
def asked(demo) -> Question:
    return Question(
        demo, market="roadside_stand", shortlist=LIST, opens="06-10", closes="07-12", weekly="800"
    )


def test_a_link_holds_the_whole_of_what_is_asked(demo):
    state = State(
        demo, f"?v=1{ASKED}&market=roadside_stand&shortlist={','.join(LIST)}&opens=06-10&closes=07-12"
    )
    assert state.notices == ()
    wanted = state.question.order_wanted
    pounds = [kg / KG_PER_POUND for kg in wanted.demand.kg]
    assert pounds == pytest.approx([800, 1200, 800, 800, 800 * 5 / 7])
    assert (wanted.acres, wanted.fill, wanted.worst, wanted.price) == (3.5, 0.9, 0.6, 9.5)
    assert wanted.trees_per_acre == pytest.approx(43_560 / 240)
    assert wanted.bears == pytest.approx(90 * KG_PER_POUND)
    assert (wanted.most_share, wanted.season_kind) == (0.4, "any")
    assert State(demo, state.link).question.order_wanted is wanted


@pytest.mark.parametrize(
    "part",
    ["weekly=-5", "weekly=1e9", "weekly=<b>", "weeks=06-17", "weeks=13-17+5", "acres=0", "spacing=1x1", "bears=99999", "tree_price=x", "promise=70-95", "promise=101-1", "money=0", "most_share=0"],
)  # fmt: skip
def test_what_no_order_can_be_asked_is_left_out_and_told(demo, part):
    state = State(demo, f"?v=1&{part}")
    name = part.partition("=")[0]
    assert getattr(state, name) == state.defaults[name]
    assert len(state.notices) == 1


def test_amounts_and_promises():
    assert [amount(text, 100, 1) for text in ("1", "99.5", "0", "101", "1e1", "")] == [
        1,
        99.5,
        None,
        None,
        None,
        None,
    ]
    assert (shares("95-70"), shares("70-95"), shares("0-0")) == ((0.95, 0.7), None, None)


def test_trees_that_bear_twice_as_much_bring_twice_as_much(asked):
    wanted = asked.order_wanted
    double = replace(wanted, bears=2 * wanted.usual)
    assert task(double, 20).supply == pytest.approx(2 * task(wanted, 20).supply)


def test_with_a_price_of_ones_own_what_nobody_offers_can_be_planned(demo):
    unoffered = "K15-030"
    asked = Question(
        demo, market="roadside_stand", shortlist=(unoffered,), opens="06-10", closes="06-20", weekly="100"
    )
    assert asked.order_wanted.left_out == (unoffered,)
    own = replace(asked, tree_price="9.5").order_wanted
    (row,) = own.offers.to_dict("records")
    assert (row["cultivar"], row["nursery"], row["price_per_tree"]) == (unoffered, NOBODY, 9.5)


def test_what_the_list_cannot_fill_is_told_with_who_would_help(asked):
    wanted = asked.order_wanted
    numbers = task(wanted)
    found = reached(Order(wanted, Ordered(numbers, numbers.useful, 0.0, 1.0)))
    assert found.short
    first = found.helps[0]
    assert first.name not in LIST
    assert set(first.short) <= set(found.short)
    with_it = replace(wanted, names=(*LIST, first.name))
    again = task(with_it)
    lowered = np.maximum(*again.lowered) > 0
    assert first.short == tuple(int(place) for place in np.flatnonzero(lowered))


def test_a_list_that_fills_the_weeks_is_told_nothing(asked):
    easy = replace(asked, promise="1-0").order_wanted
    numbers = task(easy)
    assert np.max(numbers.lowered) < 1e-9
    assert reached(Order(easy, Ordered(numbers, numbers.useful, 0.0, 1.0))).short == ()


def test_weeks_that_still_would_fall_short_are_no_more_than_there_are_for_two_buyers_either(asked):
    two = replace(asked, second="regional_wholesale", second_weekly="300").order_wanted
    numbers, weeks = task(two), len(two.demand.kg)
    order = Order(two, Ordered(numbers, numbers.useful, 0.0, 1.0))
    found = Reach(tuple(range(3 * weeks)), (Help("Sotrel", "a nursery", 9.5, tuple(range(1, 3 * weeks))),))
    assert f"and {weeks} weeks still would fall short" in words.helps_told(order, found)[0]


def test_fruit_of_two_buyers_is_what_suits_either_and_what_suits_both_counts_once(asked):
    two = replace(asked, second="regional_wholesale", second_weekly="300", shortlist=()).order_wanted
    numbers, weeks = task(two, 40), len(two.demand.kg)
    first, second, either = np.split(numbers.supply, 3, axis=2)
    assert (numbers.shared, two.kg[weeks : 2 * weeks] / KG_PER_POUND) == (weeks, pytest.approx([300, 300, 300, 300, 300 * 5 / 7]))  # fmt: skip
    assert two.kg[2 * weeks :] == pytest.approx(two.kg[:weeks] + two.kg[weeks : 2 * weeks])
    assert (either >= np.maximum(first, second) - 1e-9).all()
    assert (either <= first + second + 1e-9).all()
    refused = ~takes(asked.catalogue, two.buyers, two.basis).loc[list(two.candidates)].to_numpy()
    assert refused[:, 1].any()
    assert not second[:, refused[:, 1]].any()
    assert either[:, refused[:, 1]] == pytest.approx(first[:, refused[:, 1]])
    nobody = replace(asked, second="regional_wholesale").order_wanted
    assert (nobody.also, nobody.buyers) == (None, (asked.profile,))


def test_weeks_of_two_buyers_are_put_beside_each_other():
    first, second = alongside(Demand(170.0, (1.0, 2.0)), Demand(163.0, (5.0, 6.0)))
    assert (first.first, first.kg, second.kg) == (163.0, (0.0, 1.0, 2.0), (5.0, 6.0, 0.0))
    with pytest.raises(ValueError, match="let all begin on the same weekday"):
        alongside(Demand(170.0, (1.0,)), Demand(171.0, (1.0,)))


def test_an_order_for_weather_that_was_brought_is_remembered_with_the_visit_alone(asked):
    own = own_site(asked.catalogue, replace(stations_of(asked.catalogue)["maravel"], name="mine"), None)
    here = replace(asked, weather=own)
    before = order_asked._wanted.cache_info().currsize
    wanted = here.order_wanted
    assert (wanted.place, here.order_wanted) == (own, wanted)
    assert replace(here, acres="2").order_wanted is not wanted
    assert order_asked._wanted.cache_info().currsize == before


def test_a_place_that_was_chosen_takes_its_winters_and_frosts_from_the_crops(asked):
    """A year for all: what a season leaves is what the place says of it, cultivar by cultivar."""
    chosen = replace(asked, station="maravel").order_wanted
    assert asked.order_wanted.place is None
    assert chosen.place.name == "Maravel Station"
    plain, placed = task(asked.order_wanted, 60), task(chosen, 60)
    names = asked.catalogue.cultivars.index.get_indexer(chosen.candidates)
    left = chosen.place.left_of_crops(60, SEED)[:, names]
    assert 0.2 < left.min() < 1
    assert placed.supply == pytest.approx(plain.supply * left[..., None])
