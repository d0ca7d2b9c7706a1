"""Two lists: parted by hand, covered as the cover counts, and what one closes for the other is what adding it closes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from dashboard.answers.comparing import compared, ready
from dashboard.answers.planning import plan
from dashboard.answers.planting import nurseries
from dashboard.answers.question import Question
from dashboard.answers.selling import Wanted, days_in
from dashboard.ripening import day_of
from dashboard.wording.lists import compared_told


@pytest.fixture(scope="module")
def stand(demo) -> Wanted:
    return Wanted(
        demo, (demo.markets["roadside_stand"], demo.markets["pick_your_own"]), day_of(6, 10), day_of(8, 31)
    )


def covered(asked: Wanted, names: tuple[str, ...], market: int) -> np.ndarray:
    cover = asked.cover(names, market)
    return cover.chance >= cover.wanted


def test_two_lists_are_parted_in_their_order(stand, demo):
    a, b, c, d = demo.cultivars.index[:4]
    found = compared(stand, (c, a, b), (d, b, a))
    assert (found.both, found.mine, found.other) == ((a, b), (c,), (d,))
    assert found.names == (a, b, c, d)


def test_days_and_what_would_close_are_those_of_the_cover(stand):
    mine, other = plan(stand).names[::2], plan(replace(stand, certainty=6)).names[1::2]
    found = compared(stand, mine, other)
    together = tuple(dict.fromkeys((*mine, *other)))
    assert found.days == 83
    for market in (0, 1):
        one, two, both = (covered(stand, names, market) for names in (mine, other, together))
        assert found.cover[market] == (one.sum(), two.sum())
        for spans, had in ((found.mine_closed[market], one), (found.other_closed[market], two)):
            days = {day for first, last in spans for day in np.arange(first, last + 1)}
            assert days == {stand.first + at for at in np.flatnonzero(both & ~had)}
    assert sum(map(days_in, found.mine_closed)) > 0


def test_a_list_beside_itself_closes_nothing_and_nothing_beside_a_list_is_closed_by_all_of_it(stand):
    names = plan(stand).names
    same = compared(stand, names, names)
    assert (same.mine, same.other) == ((), ())
    assert same.mine_closed == same.other_closed == ((), ())
    none = compared(stand, (), names)
    assert [days_in(spans) for spans in none.mine_closed] == [count for _, count in none.cover]
    assert [count for count, _ in none.cover] == [0, 0]


def test_what_the_filters_leave_out_of_the_other_list_is_told_beside_its_days(demo):
    """Selections on the other list count, and while only released ones are asked for it is said with and without them."""
    asked = Question(demo, market="roadside_stand", opens="06-10", closes="08-31", season_kind="any")
    other = plan(asked.wanted).names
    numbered = {name for name in other if demo.cultivars.at[name, "status"] == "numbered selection"}
    assert 0 < len(numbered) < len(other)
    released = replace(asked, other=other, status=("released",))
    found = released.compared
    assert set(found.outside) == numbered
    rest = tuple(name for name in other if name not in numbered)
    assert found.passing == (int(covered(released.wanted, rest, 0).sum()),)
    assert found.passing[0] < found.cover[0][1] == 83
    told = " ".join(compared_told(released, found))
    assert f"{len(numbered)} of the other list do not pass your filters" in told
    assert f"the other list 83 ({found.passing[0]} with only those that pass your filters)." in told
    free = replace(asked, other=(*other, *demo.cultivars.index[~demo.ripening.known][:1]))
    assert free.compared.outside == ()
    assert "pass your filters" not in " ".join(compared_told(free, free.compared))


def test_without_a_ripening_model_who_is_on_which_list_is_told_all_the_same(stand, demo):
    refused = replace(
        stand, catalogue=replace(demo, ripening=replace(demo.ripening, refused="Too few picks."))
    )
    a, b = demo.cultivars.index[:2]
    found = compared(refused, (a,), (b,))
    assert (found.mine, found.other, found.days, found.cover) == ((a,), (b,), 0, ())


def test_the_lists_that_stand_ready_part_the_records_by_their_offers(demo):
    lists = ready(demo)
    offered = nurseries(demo)
    assert all(offered[name] for name in lists[True])
    assert not any(offered[name] for name in lists[False])
    assert set(lists[True]) | set(lists[False]) == set(demo.cultivars.index)
    assert ready(replace(demo, records_tables={})) == {}
