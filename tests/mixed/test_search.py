"""The ways down the criterion one by one: where the search begins, its careful step, and its rescue."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.mixed import fit, reml
from dashboard.mixed.criterion import Model
from dashboard.mixed.design import checked
from tests.mixed import frames
from tests.mixed.dense import trial

PUBLISHED = ("dyestuff", "pastes", "penicillin")  # criteria by lme4, see tests/reference/README.md


def search(asked: dict, held: dict | None = None) -> reml._Search:
    return reml._Search(Model(checked(**asked)), held or {})


@pytest.mark.parametrize("name", PUBLISHED)
def test_the_rescue_alone_finds_the_published_optimum(name):
    asked, published = getattr(frames, name)(), frames.vector(name)
    one = search(asked)
    assert one.rescue(one.floor())
    assert one.point.criterion == pytest.approx(fit(**asked).criterion, abs=1e-6)
    assert one.point.criterion == pytest.approx(published["reml_criterion"], abs=1e-4)
    assert not one.low.any()
    assert one.theta.tolist() == one.point.sigma.tolist()


def test_the_rescue_comes_down_to_no_spread_where_there_is_none():
    """Dyestuff2 was made so that its batches show no spread (Box & Tiao 1973); the search then says so outright."""
    one = search(frames.dyestuff2())
    one.rescue(one.floor())
    assert one.point.criterion == pytest.approx(frames.vector("dyestuff2")["reml_criterion"], abs=1e-4)
    one.run()
    assert one.zero() == ("Batch",)
    assert one.low.tolist() == [True, False]


def test_where_all_ratios_are_held_there_is_nothing_to_rescue():
    one = search(frames.dyestuff(), {"Batch": 0.5})
    before = one.point
    assert one.rescue(one.floor())
    assert one.point is before
    assert one.point.sigma[0] == pytest.approx(0.5 * one.point.sigma2)


def test_the_rescue_keeps_what_it_cannot_better():
    asked = frames.pastes()
    one = search(asked)
    one.run()
    before = one.point.criterion
    one.rescue(one.floor())
    assert one.point.criterion <= before


@pytest.mark.parametrize("seed", range(4))
def test_a_careful_step_never_raises_the_criterion(seed):
    """EM steps never do (Dempster, Laird & Rubin 1977, J. R. Stat. Soc. B 39: 1-38); they end where the slope is nought."""
    asked = trial(seed, sampled=bool(seed % 2))
    one = search(asked)
    for _ in range(5):
        before = one.point.criterion
        step = one.em(one.link.T @ one.point.score, one.floor())
        assert one.at(step).criterion <= before + 1e-9
        assert one.move(step, one.floor())
    best = search(asked)
    best.run()
    free = ~best.low
    still = best.em(best.link.T @ best.point.score, best.floor())
    np.testing.assert_allclose(still[free], best.theta[free], rtol=1e-4)


def test_the_careful_step_of_a_balanced_one_way_layout_is_the_textbook_s():
    """Batches of equal size: the new variance is the mean of squared effects and their error variances (Laird & Ware 1982,
    Biometrics 38: 963-974), by REML."""
    asked = frames.dyestuff()
    one = search(asked)
    step = one.em(one.link.T @ one.point.score, np.zeros(2))
    batch, rest = one.theta
    table = pd.DataFrame({"y": np.asarray(asked["y"], float), "batch": np.asarray(asked["groups"]["Batch"])})
    away = table.groupby("batch")["y"].mean() - table["y"].mean()
    size, batches = 5, 6
    shrunk = batch / (batch + rest / size)
    error = batch * (1 - shrunk) + batch * shrunk / batches  # about the truth, the mean being estimated too
    assert step[0] == pytest.approx(np.mean(np.square(shrunk * away)) + error)


def test_the_search_begins_with_the_spread_shared_out_evenly():
    one = search(frames.dyestuff())
    y = np.asarray(frames.dyestuff()["y"], float)
    assert one.start() == pytest.approx([y.var(ddof=1) / 2] * 2)
    sampled = search(trial(1, sampled=True))
    asked = trial(1, sampled=True)
    inner = asked["within_ss"] / (np.sum(asked["n"]) - len(asked["n"]))
    assert sampled.start()[-1] == pytest.approx(inner)


def test_a_step_too_long_is_halved_until_it_leads_down():
    one = search(frames.dyestuff())
    one.run()
    best = one.theta.copy()
    other = search(frames.dyestuff())
    start = other.point.criterion
    far = other.theta + (best - other.theta) * 64  # beyond the best on the far side
    floor = other.floor()
    assert other.move(np.maximum(far, floor), floor)
    assert other.point.criterion <= start
    assert not one.move(best * 1e3, one.floor() * 0) or one.point.criterion <= start


def test_a_search_cut_short_says_so(monkeypatch):
    monkeypatch.setattr(reml, "_STEPS", 1)
    cut = fit(**frames.pastes())
    assert not cut.converged
    assert cut.iterations == 1
    monkeypatch.undo()
    assert fit(**frames.pastes()).converged


def test_differences_are_named_by_both_and_faults_name_what_there_is():
    asked = frames.penicillin()
    fitted = fit(**asked)
    plates = list(fitted.effect["plate"].index[:3])
    sums = fitted.predict([1.0], {"plate": plates})
    pairs = sums.difference(plates[:2], plates[1:])
    assert pairs.index.tolist() == [(plates[0], plates[1]), (plates[1], plates[2])]
    np.testing.assert_allclose(pairs.estimate, sums.estimate[:2] - sums.estimate[1:])
    with pytest.raises(ValueError, match=r"^'x' is not a group of this model; they are plate, sample\.$"):
        fitted.predict([1.0], {"x": plates})
    last = fitted.predict([1.0], {"plate": [plates[0], None]})
    assert last.weights.shape == (2, fitted.model.width)
    assert last.estimate[1] == pytest.approx(fitted.beta.iloc[0])
