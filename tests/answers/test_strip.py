"""The slate strip against the season's cover, day by day, and against what is named of each cultivar."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dashboard.answers import standing
from dashboard.answers.catalogue import Basis
from dashboard.answers.strip import selling, strip
from dashboard.market.verdict import MISSES, QUALIFIES, TAKEN
from dashboard.ripening.cover import Cover, draws

SPAN = (165.0, 235.0)
BASIS = Basis("", "picked")


def made(catalogue, slate, buyers=(None,), span=SPAN, certainty=8, least=1):
    return strip(catalogue, tuple(slate), buyers, BASIS, "any", span, least, certainty)


def test_a_day_is_covered_as_the_season_counts_it(demo):
    slate = tuple(demo.cultivars.index[:12])
    (row,) = made(demo, slate).rows
    cover = Cover(draws(demo.ripening, "", "any"), slate, SPAN, 1, 8)
    assert (row.cover.chance == cover.chance).all()
    assert [(gap.first, gap.last) for gap in row.gaps] == [(gap.first, gap.last) for gap in cover.gaps]
    assert row.longest == max(gap.last - gap.first + 1 for gap in cover.gaps)


def test_what_misses_the_buyer_covers_nothing_and_is_drawn_all_the_same(demo):
    market = next(iter(demo.markets.values()))
    verdict = standing.fits(demo, market, BASIS)["verdict"]
    picked = demo.windows.dropna(subset=["first"]).index
    misses = [name for name in picked if verdict[name] == MISSES][:4]
    takes = [name for name in picked if verdict[name] == QUALIFIES][:3]
    whole = made(demo, (*misses, *takes), (market,))
    assert {bar.name for bar in whole.bars} == {*misses, *takes}
    assert set(whole.rows[0].cover.names) == set(takes)
    assert {bar.verdicts for bar in whole.bars if bar.name in misses} == {(MISSES,)}
    assert not made(demo, misses, (market,)).rows[0].covered.any()


def test_each_buyer_has_a_row_of_its_own(demo):
    markets = tuple(demo.markets.values())[:2]
    slate = tuple(demo.windows.dropna(subset=["first"]).index[:40])
    rows = made(demo, slate, markets).rows
    assert [row.buyer for row in rows] == [market.name for market in markets]
    for row, market in zip(rows, markets, strict=True):
        verdict = standing.fits(demo, market, BASIS)["verdict"]
        assert set(row.cover.names) == {name for name in slate if verdict[name] in TAKEN}
        assert set(row.sure.names) == {name for name in slate if verdict[name] == QUALIFIES}
        assert (row.surely <= row.covered).all()


def test_bars_stand_in_order_of_picking_and_what_was_never_picked_is_named(demo):
    never = tuple(demo.windows.index[demo.windows["first"].isna()][:2])
    slate = (*tuple(demo.cultivars.index[:20]), *never)
    whole = made(demo, slate)
    starts = [bar.first for bar in whole.bars]
    assert starts == sorted(starts)
    assert {bar.name for bar in whole.bars} | set(whole.unpicked) == set(slate)
    assert set(never) <= set(whole.unpicked)


def test_an_empty_slate_covers_no_day(demo):
    (row,) = made(demo, ()).rows
    assert not row.covered.any()
    assert row.longest == len(row.cover.days) == 71


@pytest.mark.parametrize(("opens", "closes"), [(None, None), (170.0, None), (None, 200.0), (170.0, 200.0)])
def test_an_end_not_asked_for_is_that_of_the_season(demo, opens, closes):
    span = selling(demo, opens, closes, "", "any")
    whole = selling(demo, None, None, "", "any")
    assert span == (opens or whole[0], closes or whole[1])
    assert whole[0] <= demo.windows["first"].min()
    assert whole[1] >= demo.windows["last"].max()


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_one_more_cultivar_uncovers_nothing_and_what_is_left_bare_is_told(demo, data):
    picked = list(demo.windows.dropna(subset=["first"]).index)
    slate = data.draw(st.lists(st.sampled_from(picked), min_size=1, max_size=8, unique=True))
    certainty = data.draw(st.sampled_from([6, 7, 8, 9]))
    (row,) = made(demo, slate, certainty=certainty).rows
    (fewer,) = made(demo, slate[:-1], certainty=certainty).rows
    assert (fewer.covered <= row.covered).all()
    told = np.zeros(len(row.covered), dtype=bool)
    for first, last in row.cover.left_bare(slate[-1]):
        told[int(first - SPAN[0]) : int(last - SPAN[0]) + 1] = True
    assert (told == (row.covered & ~fewer.covered)).all()
    (surer,) = made(demo, slate, certainty=9).rows
    assert (surer.covered <= row.covered).all()
