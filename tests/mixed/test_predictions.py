"""Effects, any sum of them, and their errors."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from scipy import sparse

from dashboard.mixed import fit
from tests.mixed import frames
from tests.mixed.dense import Dense, trial


@pytest.fixture(scope="module", params=[False, True], ids=["records", "samples"])
def fitted(request):
    ours = fit(**trial(8, sampled=request.param))
    assert not ours.at_zero
    return ours, Dense(ours.model, ours.best.point.sigma)


def _weights(ours, fixed, effects):
    """The same weights on (fixed, then every random term) as ``Dense.inverse`` has them."""
    parts = [np.asarray(fixed, dtype=float)]
    for term in ours.model.random:
        parts.append(np.array([[effects.get(term.name) == level for level in term.levels]], dtype=float)[0])
    return np.concatenate(parts)


def test_errors_of_sums_are_those_of_hendersons_equations(fitted):
    ours, dense = fitted
    labels = ours.effect["c"].index
    sums = ours.predict([1.0, 0.5], {"c": labels, "env": pd.Series({3: 1.0})})
    K = np.array([_weights(ours, [1.0, 0.5], {"c": label, "env": 3}) for label in labels])
    expected = K @ dense.inverse @ K.T
    np.testing.assert_allclose(sums.covariance(), expected, rtol=1e-7)
    np.testing.assert_allclose(sums.variance, np.diag(expected), rtol=1e-7)
    estimate = ours.beta.iloc[0] + 0.5 * ours.beta.iloc[1] + ours.effect["c"] + ours.effect["env"][3]
    np.testing.assert_allclose(sums.estimate, estimate, rtol=1e-12)
    assert list(sums.index) == list(labels)


def test_standard_errors_of_every_effect_are_those_of_hendersons_equations(fitted):
    ours, dense = fitted
    start = 2
    for term in ours.model.random:
        inside = slice(start, start + len(term.levels))
        np.testing.assert_allclose(
            ours.effect_se[term.name], np.sqrt(np.diag(dense.inverse)[inside]), rtol=1e-7
        )
        assert (ours.effect_sd[term.name] <= ours.effect_se[term.name] * (1 + 1e-9)).all()
        start += len(term.levels)


def test_differences_and_contrasts_are_the_same_thing(fitted):
    ours, _ = fitted
    sums = ours.predict([1.0, 0.0], {"c": ours.effect["c"].index})
    fresh = ours.predict([1.0, 0.0], {"c": ours.effect["c"].index})
    one = sums.difference([0, 1], [2, 5])
    C = np.zeros((2, len(sums.index)))
    C[0, [0, 2]], C[1, [1, 5]] = (1, -1), (1, -1)
    assert sums.variance.shape == (11,)  # sums now holds its parts: contrasts take the short way
    for other in (sums.contrast(C), fresh.contrast(sparse.csr_array(C))):
        np.testing.assert_allclose(other.estimate, one.estimate, rtol=1e-12)
        np.testing.assert_allclose(other.variance, one.variance, rtol=1e-10)
    covariance = sums.covariance()
    np.testing.assert_allclose(one.variance, np.diag(C @ covariance @ C.T), rtol=1e-10)


def test_matrices_labels_and_missing_labels_say_the_same(fitted):
    ours, _ = fitted
    levels = ours.effect["env"].index
    by_label = ours.predict(effects={"env": [levels[4], None, levels[0]]})
    matrix = np.zeros((3, len(levels)))
    matrix[0, 4] = matrix[2, 0] = 1
    np.testing.assert_allclose(by_label.estimate, ours.predict(effects={"env": matrix}).estimate)
    assert by_label.estimate[1] == 0
    assert by_label.variance[1] == 0


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({"effects": {"c": [99]}}, "99 is not a level of 'c'"),
        ({"effects": {"d": [1]}}, "'d' is not a group"),
        ({"fixed": [1.0]}, "1 columns; X has 2"),
        ({"fixed": np.ones((3, 2)), "effects": {"c": [1, 2]}}, "2 and of 3"),
        ({"effects": {"c": np.ones((1, 4))}}, "4 columns for 11 levels"),
    ],
)
def test_sums_that_cannot_be_formed_say_why(fitted, asked, sentence):
    with pytest.raises(ValueError, match=sentence):
        fitted[0].predict(**asked)


def test_unknown_names_in_differences_and_wrong_contrasts_say_why(fitted):
    sums = fitted[0].predict(effects={"c": [0, 1]})
    with pytest.raises(ValueError, match="7 is not among the sums"):
        sums.difference(7, 0)
    with pytest.raises(ValueError, match="3 weights for 2 sums"):
        sums.contrast(np.ones((1, 3)))


def test_balanced_one_way_variances_are_the_mean_squares():
    """Dyestuff (Davies 1949): MS between 11271.5, within 2451.25, five records a batch: (MSb - MSw) / n = 1764.05."""
    ours = fit(**frames.dyestuff())
    assert ours.variance["Batch"] == pytest.approx(1764.05, rel=1e-9)
    assert ours.variance["residual"] == pytest.approx(2451.25, rel=1e-9)
    mean = ours.predict([1.0]).small_sample().iloc[0]
    assert mean["se"] == pytest.approx(np.sqrt(11271.5 / 30), rel=1e-9)
    assert mean["df"] == pytest.approx(5, rel=1e-4)  # batches less one


def test_a_balanced_split_plot_has_the_degrees_of_freedom_of_its_strata():
    """Oats (Yates 1935): 10 for whole plots and 45 for split plots; marginal means as R emmeans prints them."""
    ours = fit(**frames.oats())
    rows = ours.predict(np.eye(6)).small_sample()
    assert rows["df"].iloc[1:3].tolist() == pytest.approx([10, 10], rel=1e-4)
    # Without the interaction, its 6 degrees of freedom join the 45 of the split plots.
    assert rows["df"].iloc[3:].tolist() == pytest.approx([51, 51, 51], rel=1e-4)
    third = 1 / 3
    nitrogen = ours.predict(np.array([[1, third, third, *row] for row in np.eye(4)[:, 1:]])).small_sample()
    assert nitrogen["estimate"].round(1).tolist() == [79.4, 98.9, 114.2, 123.4]
    assert nitrogen["df"].tolist() == pytest.approx([6.64] * 4, abs=0.02)
    quarter = 1 / 4
    variety = ours.predict(
        np.array([[1, *row, quarter, quarter, quarter] for row in np.eye(3)[:, 1:]])
    ).small_sample()
    assert variety["se"].tolist() == pytest.approx([7.80] * 3, abs=0.005)
    assert variety["df"].tolist() == pytest.approx([8.87] * 3, abs=0.02)


def test_estimates_that_lean_on_uncertain_variances_get_wider_errors():
    d = frames.simulated("sim_s_fruit")
    means = fit(**frames.from_means(frames.sim_s()))
    sums = means.predict([1.0, 0.0], {"cultivar": means.effect["cultivar"].index})
    small = sums.small_sample()
    assert (small["se"] > sums.se).all()
    assert (small["se"] < 1.2 * sums.se).all()
    assert (small["df"] > 2).all()
    assert len(small) == d["cultivar"].nunique()


def test_errors_of_the_variances_of_a_balanced_one_way_layout():
    """var(MS) = 2 MS^2 / df, so se(residual) = MSw sqrt(2/24) and se(batch) from both mean squares."""
    errors = fit(**frames.dyestuff()).variance_se
    assert errors["residual"] == pytest.approx(2451.25 * np.sqrt(2 / 24), rel=1e-6)
    between = np.sqrt(2 * 11271.5**2 / 5 + 2 * 2451.25**2 / 24) / 5
    assert errors["Batch"] == pytest.approx(between, rel=1e-6)
    assert np.isnan(fit(**frames.dyestuff2()).variance_se["Batch"])


def _alpha_design() -> pd.DataFrame:
    return pd.read_csv(frames.REFERENCE.parent / "alpha_design.csv")


def test_heritabilities_of_an_alpha_design_are_the_published_ones():
    """John & Williams 1995, p. 146: 24 oat genotypes, 3 replicates of 6 blocks; figures tests/reference/README.md."""
    d = _alpha_design()
    X, block = frames.treatment(d, "rep"), d["rep"] + d["block"]
    ours = fit(d["yield"], X, {"gen": d["gen"], "block": block})
    assert ours.criterion == pytest.approx(93.19382024, abs=1e-6)
    sg = ours.variance["gen"]
    assert sg == pytest.approx(0.14290210, rel=1e-5)
    assert ours.variance["block"] == pytest.approx(0.07021833, rel=1e-5)
    assert ours.variance["residual"] == pytest.approx(0.08161713, rel=1e-5)
    pairs = [(a, b) for i, a in enumerate(ours.effect["gen"].index) for b in ours.effect["gen"].index[:i]]
    first, second = zip(*pairs, strict=True)
    blup = ours.predict(effects={"gen": ours.effect["gen"].index}).difference(first, second).variance.mean()
    assert blup == pytest.approx(0.05455037, rel=1e-5)
    assert 1 - blup / (2 * sg) == pytest.approx(0.809134, abs=1e-6)  # Cullis, Smith & Coombes 2006
    assert 1 - np.square(ours.effect_se["gen"]).mean() / sg == pytest.approx(0.775420, abs=1e-6)
    # Genotypes fixed, blocks random with the variances of that model.
    asked = {"y": d["yield"], "X": X.drop(columns="(Intercept)"), "groups": {"gen": d["gen"], "block": block}}
    blue = fit(**asked, fixed="gen")
    assert blue.variance["block"] == pytest.approx(0.06194, abs=5e-6)
    assert blue.variance["residual"] == pytest.approx(0.08523, abs=5e-6)
    means = blue.predict(effects={"gen": ours.effect["gen"].index})
    printed = {
        "G01": 5.146433,
        "G02": 4.517265,
        "G03": 3.537934,
        "G04": 4.528828,
        "G05": 5.075944,
        "G06": 4.575394,
    }
    steps = means.difference(list(printed)[1:], ["G01"] * 5).estimate  # the book adds a constant to all
    np.testing.assert_allclose(steps, np.array(list(printed.values()))[1:] - printed["G01"], atol=2e-6)
    spread = means.difference(first, second).variance.mean()
    assert spread == pytest.approx(0.07010875, rel=1e-5)
    assert sg / (sg + spread / 2) == pytest.approx(0.803017, abs=1e-6)  # Piepho & Moehring 2007


def test_a_fit_names_itself_in_a_line():
    text = repr(fit(**frames.dyestuff()))
    assert text == "Fit(30 records, criterion 319.654277, variances: Batch 1764.05, residual 2451.25)"


def test_a_variance_at_zero_leaves_the_small_sample_figures_finite():
    """Dyestuff2: with no batch variance the mean has the residual's 29 degrees of freedom."""
    row = fit(**frames.dyestuff2()).predict([1.0]).small_sample().iloc[0]
    assert row["df"] == pytest.approx(29, rel=1e-4)
    assert row["se"] == pytest.approx(0.678388, rel=1e-5)
