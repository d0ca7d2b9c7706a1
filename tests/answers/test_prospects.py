"""What a market may expect: true to the truth behind the demo, quick, remembered, and refused where nothing can be foretold."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pandas as pd
import pytest

from dashboard.answers import catalogue as catalogues
from dashboard.answers import prospects
from dashboard.answers.catalogue import Basis
from dashboard.market import Limit, Market, Wish
from dashboard.market.prospects import among_first, log_welcome, outlook, traits_of
from dashboard.places import demo_data
from tests.conftest import cultivar_frame, fruit_frame, site_frame, summary_frame

BASIS = Basis()
FRUIT = Limit("trait", "size", at_least=60.0, share=0.8)
PLAIN = Market("p", "P", "", (FRUIT,), (Wish("sugar", "larger", 8, 14, 14),))


def of_the_truth(demo, market: Market):
    """The market's outlook on what the cultivars truly are, told at the level of the estimates; and whose it is."""
    truth = pd.read_csv(demo_data() / "truth" / "values.csv", index_col="cultivar").reindex(
        demo.cultivars.index
    )
    seen = demo.windows["seasons"].to_numpy() > 0
    true = {}
    for trait in traits_of(market):
        level = float((demo.values[trait]["estimate"] - truth[trait])[seen].mean())
        true[trait] = (truth[trait].to_numpy() + level)[None, :]
    spans = {limit: prospects.span(demo, limit, BASIS) for limit in market.limits if limit.share is not None}
    return outlook(
        market, demo.cultivars, true, spans, [log_welcome(w, true[w.key]) for w in market.wishes]
    ), seen


def test_eighty_per_cent_intervals_of_the_score_hold_the_true_score_of_the_demo(demo):
    held, scores = [], []
    for market in demo.markets.values():
        true, seen = of_the_truth(demo, market)
        told = prospects.prospects(demo, market, BASIS)
        inside = (told["score_low"] <= true.score[0]) & (true.score[0] <= told["score_high"])
        some = seen & (true.score[0] > 0) & told["expected"].notna().to_numpy()
        held += inside[some].tolist()
        scores.append(np.corrcoef(told["expected"][some], true.score[0][some])[0, 1])
    assert np.mean(held) == pytest.approx(0.80, abs=0.05)  # about 1,700, of 355 cultivars
    assert min(scores) > 0.7


def test_chances_come_true_as_often_as_they_say_on_the_demo(demo):
    """Of all limits holding, and of a place among the first: told against what the truth behind the records says."""
    limits, firsts = [], []
    for market in demo.markets.values():
        true, seen = of_the_truth(demo, market)
        found = prospects.outlooks(demo, market, BASIS)
        classes = np.array([limit.kind == "class" for limit in market.limits])
        right = seen & (found.by_limit[classes].min(axis=0, initial=1) > 0)
        limits += zip(found.clears.mean(axis=0)[right], true.clears[0][right], strict=True)
        for top in (3, 5, 10):
            pairs = zip(among_first(found, seen, top), among_first(true, seen, top), strict=True)
            firsts += [pair for pair, known in zip(pairs, seen, strict=True) if known and pair[0] == pair[0]]
    for told, edges, within in (
        (limits, (0, 0.1, 0.3, 0.7, 0.9, 1.001), 0.06),
        (firsts, (0, 0.05, 0.3, 1.001), 0.08),
    ):
        said, held = np.array(told, dtype=float).T
        for low, high in pairwise(edges):
            some = (said >= low) & (said < high)
            assert some.sum() >= 50
            assert held[some].mean() == pytest.approx(said[some].mean(), abs=within), (low, high)


def test_who_rests_on_one_season_has_the_wider_interval(demo):
    told = prospects.prospects(demo, demo.markets["roadside_stand"], BASIS)
    wide = told["score_high"] - told["score_low"]
    seasons = demo.windows["seasons"]
    assert wide[seasons == 1].mean() > 1.4 * wide[seasons >= 5].mean()


def test_a_site_and_equal_firmness_have_prospects_of_their_own(demo):
    market = demo.markets["regional_wholesale"]
    over = prospects.prospects(demo, market, BASIS)
    for basis in (Basis("tessock"), Basis("", "equal")):
        here = prospects.prospects(demo, market, basis)
        assert here["expected"].notna().sum() > 300
        assert not np.allclose(here["expected"], over["expected"], equal_nan=True)


def test_moving_a_weight_draws_nothing_anew(demo, monkeypatch):
    market = demo.markets["roadside_stand"]
    prospects.prospects(demo, market, BASIS)
    for name in ("long_run_draws", "log_welcome", "errors", "means_for_share"):
        monkeypatch.setattr(prospects, name, lambda *_, **__: pytest.fail("worked out again"))
    first, *rest = market.wishes
    moved = replace(market, wishes=(replace(first, weight=first.weight + 1), *rest))
    assert prospects.prospects(demo, moved, BASIS) is not None


def test_shares_are_of_fruit_to_come_where_a_model_tells_and_counted_elsewhere(demo):
    told = prospects.shares(demo, PLAIN, BASIS)
    assert set(told) == {FRUIT}
    low, _ = prospects.span(demo, FRUIT, BASIS)
    estimate = demo.values["size"]["estimate"].to_numpy()
    # A share to be expected allows for the error of the mean, too, so the two agree but close to the limit.
    clear = np.abs(estimate - low) > 1.0
    assert ((told[FRUIT] >= 0.8) == (estimate >= low))[clear & ~np.isnan(estimate)].all()


@pytest.fixture(scope="module")
def sparse():
    """Three cultivars, one site, one season, one sample each: nothing a model could be fitted to."""
    fruit = fruit_frame()
    few = fruit[(fruit["season"] == 2022) & (fruit["site"] == "Hill") & (fruit["pick"] == 1)]
    few = few[few["cultivar"].isin(["Aldermere", "Briskwell", "Candover"])]
    return catalogues.catalogue(
        cultivar_frame(), summary_frame(few), few, sites=site_frame(), markets={"p": PLAIN}, version="sparse"
    )


def test_without_a_model_nothing_is_foretold_and_the_reason_is_given(sparse):
    assert prospects.outlooks(sparse, PLAIN, BASIS) is None
    assert prospects.prospects(sparse, PLAIN, BASIS) is None
    assert prospects.shaken_scores(sparse, PLAIN, BASIS) is None
    assert prospects.refused(sparse, PLAIN, BASIS)
    assert prospects.shares(sparse, PLAIN, BASIS) == {}
    assert prospects.refused(sparse, None, BASIS) == ""
