"""Expected scores, chances of limits and of the first places: against plain counting, and what must hold of any draws."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from dashboard.market import Limit, Market, Wish, desirability, overall
from dashboard.market.prospects import among_first, expected, log_welcome, outlook, scores, traits_of

SWEET = Wish("sugar", "larger", 8, 14, 14, 2.0)
LARGE = Wish("size", "larger", 50, 75, 75, 3.0)
FIRM = Wish("firmness", "target", 20, 45, 70, 1.0, 2.0)
ENOUGH = Limit("trait", "size", at_least=60.0)
FRUIT = Limit("trait", "size", at_least=58.0, share=0.8)
YELLOW = Limit("class", "flesh_colour", ("yellow",))
MARKET = Market("m", "M", "", (YELLOW, ENOUGH, FRUIT), (SWEET, LARGE, FIRM))
SPANS = {FRUIT: (62.0, float("inf"))}


def drawn(count: int = 400, cultivars: int = 12, seed: int = 1) -> dict[str, np.ndarray]:
    rng = np.random.default_rng(seed)
    means = {"sugar": (11, 2), "size": (62, 5), "firmness": (45, 12)}
    return {
        trait: (rng.normal(mean, sd, cultivars) + rng.normal(0, sd / 3, (count, cultivars))).astype(
            np.float32
        )
        for trait, (mean, sd) in means.items()
    }


def cultivars(count: int = 12) -> pd.DataFrame:
    colours = ["yellow", "white", "not recorded"]
    names = pd.Index([f"C{n:02d}" for n in range(count)], name="cultivar")
    return pd.DataFrame({"flesh_colour": [colours[n % 7 % 3] for n in range(count)]}, index=names)


def look(market: Market = MARKET, draws: dict | None = None, known: pd.DataFrame | None = None):
    draws = drawn() if draws is None else draws
    known = cultivars() if known is None else known
    return outlook(market, known, draws, SPANS, [log_welcome(w, draws[w.key]) for w in market.wishes])


def test_every_figure_is_the_plain_count_over_the_draws():
    draws, known, found = drawn(), cultivars(), look()
    told = expected(found, known.index)
    for row, name in enumerate(known.index):
        score = [
            float(overall([float(desirability(w, draws[w.key][d, row])) for w in MARKET.wishes], [2, 3, 1]))
            for d in range(400)
        ]
        yellow = known["flesh_colour"][name] == "yellow"
        mean, fruit = draws["size"][:, row] >= 60, draws["size"][:, row] >= 62
        assert told["expected"][name] == pytest.approx(np.mean(score), abs=1e-5)
        assert told["score_low"][name] == pytest.approx(np.quantile(score, 0.1), abs=0.01)
        assert told["score_high"][name] == pytest.approx(np.quantile(score, 0.9), abs=0.01)
        unread = known["flesh_colour"][name] == "not recorded"  # then only what was read can rule it out
        at_best = {"clears": (mean & fruit).mean(), "on_means": mean.mean()} if unread else {}
        wanted = {"clears": (yellow * mean * fruit).mean(), "on_means": (yellow * mean).mean()}
        for figure, best in at_best.items():
            wanted[figure] = np.nan if best >= 0.2 else best
        assert told["clears"][name] == pytest.approx(wanted["clears"], nan_ok=True)
        assert told["on_means"][name] == pytest.approx(wanted["on_means"], nan_ok=True)
        assert told["on_fruit"][name] == pytest.approx(fruit.mean())
        by_class = np.nan if unread else float(yellow)
        assert found.by_limit[:, row] == pytest.approx([by_class, mean.mean(), fruit.mean()], nan_ok=True)


def test_a_chance_of_one_limit_is_the_exact_normal_tail():
    """Against SciPy's normal distribution."""
    rng = np.random.default_rng(3)
    draws = {"size": (61 + 2 * rng.standard_normal((200_000, 1))).astype(np.float32)}
    only = Market("m", "M", "", (ENOUGH,), ())
    told = expected(look(only, draws, cultivars(1)), cultivars(1).index)
    assert told["clears"].iloc[0] == pytest.approx(stats.norm.sf(60, 61, 2), abs=0.004)
    assert np.isnan(told["expected"].iloc[0])  # nothing is wished for


def test_the_chances_of_the_first_places_add_up_to_the_places_or_to_who_clears():
    found, everyone = look(), np.ones(12, dtype=bool)
    clearing = (found.clears & (found.score > 0)).sum(axis=1)  # who scores nothing takes no place
    for top in (1, 3, 5, 50):
        assert among_first(found, everyone, top).sum() == pytest.approx(
            np.minimum(clearing, top).mean(), abs=1e-6
        )


def test_only_who_is_asked_about_stands_in_the_way():
    found, pool = look(), np.arange(12) % 2 == 0
    part = among_first(found, pool, 2)
    assert (part[~pool] == 0).all()
    assert (part[pool] >= among_first(found, np.ones(12, dtype=bool), 2)[pool]).all()


def test_who_has_no_reading_has_no_score_and_no_chance_of_a_place():
    draws = drawn()
    draws["sugar"][:, 4] = np.nan
    found = look(draws=draws)
    told = expected(found, cultivars().index)
    assert np.isnan(told.iloc[4][["expected", "score_low", "score_high"]].astype(float)).all()
    assert np.isnan(among_first(found, np.ones(12, dtype=bool), 3)[4])
    draws["size"][:, 4] = np.nan
    assert look(draws=draws).clears[:, 4].sum() == 0  # what nobody can judge is not cleared


def test_more_doubt_widens_the_interval_and_gives_no_lucky_place():
    """Two cultivars of the same estimate, one seen little: it may be first more often, but is not expected to be better."""
    rng = np.random.default_rng(4)
    base = rng.standard_normal((4000, 2))
    draws = {"sugar": (11 + base * [0.2, 1.5]).astype(np.float32)}
    told = expected(look(Market("m", "M", "", (), (SWEET,)), draws, cultivars(2)), cultivars(2).index)
    wide = told["score_high"] - told["score_low"]
    assert wide.iloc[1] > 4 * wide.iloc[0]
    assert told["expected"].iloc[1] <= told["expected"].iloc[0] + 0.01


def test_traits_of_a_market_are_named_once():
    assert traits_of(MARKET) == ("size", "sugar", "firmness")


small = st.floats(0.015625, 1, width=32)


@settings(max_examples=60)
@given(
    st.lists(st.lists(small, min_size=3, max_size=3), min_size=1, max_size=6),
    st.floats(0.01, 100),
    st.randoms(),
)
def test_only_ratios_of_weights_count_and_the_order_of_wishes_does_not(rows, factor, random):
    logs = [np.log(np.array(column, dtype=np.float32))[None, :] for column in zip(*rows, strict=True)]
    weights = [2.0, 3.0, 1.0]
    base = scores(weights, logs)
    assert scores([w * factor for w in weights], logs) == pytest.approx(base, rel=1e-4)
    order = random.sample(range(3), 3)
    assert scores([weights[n] for n in order], [logs[n] for n in order]) == pytest.approx(base, rel=1e-4)
    plain = overall(np.array(rows), weights)
    assert base[0] == pytest.approx(plain, rel=1e-4)


@settings(max_examples=40)
@given(st.integers(0, 11), st.sampled_from(["sugar", "size"]), st.floats(0, 5))
def test_a_better_trait_lowers_neither_score_nor_chance(row, trait, by):
    draws = drawn(100)
    better = {key: values.copy() for key, values in draws.items()}
    better[trait][:, row] += np.float32(by)
    before, after = (expected(look(draws=each), cultivars().index).iloc[row] for each in (draws, better))
    for figure in ("expected", "score_low", "score_high", "clears", "on_means", "on_fruit"):
        if before[figure] == before[figure]:  # what nobody recorded stays open
            assert not after[figure] < before[figure] - 1e-6, figure


@settings(max_examples=20)
@given(st.permutations(range(12)))
def test_the_order_of_the_cultivars_does_not_matter(order):
    draws, known, rows = drawn(100), cultivars(), np.array(order)
    mixed = look(draws={trait: values[:, rows] for trait, values in draws.items()}, known=known.iloc[rows])
    plain = look(draws=draws)
    told, as_was = expected(mixed, known.index[rows]), expected(plain, known.index)
    pd.testing.assert_frame_equal(told.loc[known.index], as_was)
    everyone = np.ones(12, dtype=bool)
    assert among_first(mixed, everyone, 3) == pytest.approx(among_first(plain, everyone, 3)[rows])
