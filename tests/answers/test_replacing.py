"""Who closes a gap, who is needed and who could go: against taking off and adding one by one."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from dashboard.answers.planning import plan
from dashboard.answers.planting import Pool
from dashboard.answers.replacing import closers, droppable, needed
from dashboard.answers.selling import Wanted
from dashboard.ripening import day_of


@pytest.fixture(scope="module")
def stand(demo) -> Wanted:
    return Wanted(demo, (demo.markets["roadside_stand"],), day_of(6, 10), day_of(8, 31))


def covered(asked: Wanted, names: tuple[str, ...], market: int = 0) -> np.ndarray:
    cover = asked.cover(names, market)
    return cover.chance >= cover.wanted


@pytest.mark.parametrize("least", [1, 2])
def test_closers_of_a_gap_add_what_adding_them_adds(stand, least):
    asked = replace(stand, least=least)
    names = plan(stand).names[::2]
    gap = asked.cover(names).gaps[0]
    told = closers(asked, names, (gap.first, gap.last))
    assert not set(told.index) & set(names)
    likely = told["clears 0"]
    order = list(zip(told["closes"] * likely, told["adds"] * likely, told["worth"], strict=True))
    assert order == sorted(order, reverse=True)
    days = slice(int(gap.first - asked.first), int(gap.last - asked.first) + 1)
    before = asked.cover(names).chance[days]
    for name in told.index[:5]:
        with_it = asked.cover((*names, name))
        assert told.loc[name, "closes"] == (with_it.chance[days] >= asked.certainty / 10).sum()
        assert told.loc[name, "adds"] == pytest.approx((with_it.chance[days] - before).sum())
        assert told.loc[name, "chance"] == pytest.approx(with_it.chance[days].min())
        alone = replace(asked, least=1).cover((name,)).chance[days].mean()
        assert told.loc[name, "both"] == pytest.approx(alone * told.loc[name, "clears 0"])
    assert told["nurseries"].map(len).max() > 0


def test_nothing_closes_days_that_are_covered(stand):
    assert closers(stand, plan(stand).names, (day_of(7, 1), day_of(7, 9))).empty


def test_who_is_needed_is_who_leaves_a_gap(stand):
    names = tuple(stand.candidates[::9])
    told = needed(stand, names)
    assert list(told) == list(names)
    for name in names:
        lost = covered(stand, names) & ~covered(stand, tuple(one for one in names if one != name))
        days = [day - stand.first for start, end in told[name][0] for day in np.arange(start, end + 1)]
        np.testing.assert_array_equal(np.flatnonzero(lost), days)


def barer(asked: Wanted, names: tuple[str, ...], name: str) -> float:
    """Days of a season that are bare without it and not with it, of those that lie in gaps."""
    before, after = (asked.cover(one) for one in (names, tuple(other for other in names if other != name)))
    return float((before.chance - after.chance)[before.chance < before.wanted].sum())


def test_who_gives_a_gap_the_fruit_it_has_cannot_be_dropped(stand):
    """Alone it covers no day surely, so nothing new would be a gap without it; yet its days would lie barer."""
    name = next(one for one in stand.candidates if barer(stand, (one,), one) >= 5)
    assert not any(needed(stand, (name,))[name])
    assert droppable(stand, (name,)).alone == ()


def test_who_could_go_alone_and_who_together(stand):
    names = tuple(stand.candidates[::6])
    told = droppable(stand, names)
    unneeded = {name for name, days in needed(stand, names).items() if not any(days)}
    assert set(told.alone) <= unneeded
    for name in unneeded - set(told.alone):
        assert barer(stand, names, name) >= 1
    assert set(told.together) <= set(told.alone)
    left = tuple(name for name in names if name not in told.together)
    assert (covered(stand, left) >= covered(stand, names)).all()
    assert droppable(stand, left).alone == (), "more could go than were told"
    assert droppable(stand, plan(stand).names) == droppable(stand, ())


def test_what_a_list_holds_beside_the_candidates_covers_nothing(demo, stand):
    missing = next(
        name for name in demo.cultivars.index
        if name not in stand.candidates and demo.ripening.known[demo.cultivars.index.get_loc(name)]
    )  # fmt: skip
    names = (*plan(stand).names, missing)
    assert needed(stand, names)[missing] == ((),)
    assert droppable(stand, names).together == (missing,)
    barred = replace(stand, pool=Pool(barred=(names[0],)))
    assert any(needed(barred, names)[names[0]])


def test_a_gap_of_one_buyer_is_closed_by_what_that_buyer_takes(demo, stand):
    both = replace(stand, markets=(*stand.markets, demo.markets["low_acid_white_speciality"]))
    names = plan(stand).names
    gap = both.cover(names, 1).gaps[0]
    told = closers(both, names, (gap.first, gap.last), market=1)
    assert set(told["verdict 1"]) <= {"qualifies", "may qualify"}
    assert len(told) < len(closers(both, (), (gap.first, gap.last), market=0))
