"""A variance kept off zero: the published example, the slope it adds, and what it leaves alone."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import optimize

from dashboard.mixed import fit
from dashboard.mixed.criterion import Model
from dashboard.mixed.design import checked
from tests.mixed import frames

# Effects of coaching in eight schools, and their standard errors (Rubin 1981, J. Educ. Stat. 6: 377-401, table 1).
EFFECT = np.array([28.0, 8.0, -3.0, 7.0, -1.0, 1.0, 18.0, 12.0])
ERROR = np.array([15.0, 10.0, 16.0, 11.0, 9.0, 11.0, 10.0, 18.0])
KNOWN = 1e8  # as if each school were the mean of so many scores that its error is known


def schools(reml: bool, off_zero: tuple[str, ...]):
    n = KNOWN / np.square(ERROR)
    halves = np.repeat([0, 1], 4)  # a group without a spread of its own, as a model has one at least
    return fit(
        EFFECT,
        np.ones((8, 1)),
        {"half": halves},
        n=n,
        within_ss=(n.sum() - 8) * KNOWN,
        reml=reml,
        held={"half": 0.0},
        off_zero=off_zero,
    )


def test_eight_schools_differ_by_what_is_published():
    """Maximum likelihood says 0, the prior 6.30 (Chung et al. 2013, Psychometrika 78: 685-709, from memory)."""
    assert schools(False, ()).variance["sample"] == 0
    found = schools(False, ("sample",))
    assert found.variance["sample"] ** 0.5 == pytest.approx(6.30, abs=0.006)
    assert found.at_zero == ()


@pytest.mark.parametrize("reml", [False, True])
def test_eight_schools_by_another_way(reml):
    """The likelihood of the eight written out, its best place found by a search along one line."""

    def less(spread: float) -> float:
        weight = 1 / (np.square(ERROR) + spread**2)
        mean = (weight * EFFECT).sum() / weight.sum()
        fall = (weight * np.square(EFFECT - mean)).sum() - np.log(weight).sum() + reml * np.log(weight.sum())
        return fall / 2 - np.log(spread)

    best = optimize.minimize_scalar(less, bounds=(0.1, 40), method="bounded", options={"xatol": 1e-9}).x
    assert schools(reml, ("sample",)).variance["sample"] ** 0.5 == pytest.approx(best, rel=1e-5)


def test_its_slope_is_that_of_its_criterion():
    asked = frames.sim_s()
    records = checked(asked["y"], asked["X"], asked["groups"])
    model = Model(records, True, ("cultivar",))
    ratios = np.full(len(model.variances) - 1, 0.3)
    point = model.at(ratios)
    for index in range(len(ratios)):
        step = 1e-5 * np.eye(len(ratios))[index]
        rise = (model.at(ratios + step).criterion - model.at(ratios - step).criterion) / 2e-5
        assert -2 * point.score[index] * point.sigma2 == pytest.approx(rise, rel=1e-4, abs=1e-4)
    assert point.criterion == pytest.approx(point.plain - np.log(0.3))


def test_units_of_measurement_change_nothing_else():
    asked = frames.from_means(frames.sim_s())
    inches = fit(**asked, off_zero=("cultivar",))
    asked |= {"y": asked["y"] * 25.4, "within_ss": asked["within_ss"] * 25.4**2}
    mm = fit(**asked, off_zero=("cultivar",))
    for name, variance in inches.variance.items():
        assert mm.variance[name] == pytest.approx(variance * 25.4**2, rel=1e-6)


def test_of_many_levels_it_says_next_to_nothing():
    """84 cultivars: the spread moves by about one part in 84, within a tenth of its error."""
    asked = frames.from_means(frames.sim_s())
    plain, kept = fit(**asked), fit(**asked, off_zero=("cultivar",))
    assert 0 < kept.variance["cultivar"] - plain.variance["cultivar"] < 0.2 * plain.variance_se["cultivar"]
    assert not kept.better_without("cultivar")


def test_what_is_no_variance_of_the_model_is_refused():
    with pytest.raises(ValueError, match="'nothing'"):
        fit(**frames.dyestuff(), off_zero=("nothing",))
