"""What is read off one fit, against the analysis of variance of balanced trials; and what happens when no fit is found."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from dashboard.estimates import EQUAL_FIRMNESS, METHOD, model, worth, worths
from dashboard.estimates.averages import average_values
from dashboard.estimates.plan import BY_BOTH, BY_SEASON, BY_SITE, CULTIVAR, ENVIRONMENT
from dashboard.estimates.readings import readings
from dashboard.mixed import fit
from dashboard.terms.traits import TRAITS
from tests.estimates.trials import judged, trial


@pytest.fixture(scope="module")
def frame() -> pd.DataFrame:
    """C003 never stood at River."""
    whole = trial(16, 2, 3, seed=4)
    return whole[(whole["cultivar"] != "C003") | (whole["site"] == "Hill")].reset_index(drop=True)


@pytest.fixture(scope="module")
def found(frame):
    return worth(frame, "size")


def test_the_interval_is_student_s_t_about_the_estimate(found):
    for values in (found.values, *found.at.values()):
        half = values["se"] * stats.t.ppf(0.95, values["df"])
        assert (values["high"] - values["estimate"]).to_numpy() == pytest.approx(half.to_numpy())
        assert (values["estimate"] - values["low"]).to_numpy() == pytest.approx(half.to_numpy())
        assert values["df"].between(1, 500).all()


def test_reliability_is_what_the_records_take_from_the_doubt(found):
    """1 - PEV / variance (Henderson 1975); at a site of what lasts there."""
    over = 1 - found.pev / found.variance[CULTIVAR]
    assert found.values["reliability"].to_numpy() == pytest.approx(over)
    there = found.at["River"]
    assert there["reliability"].between(0, 1).all()
    lasting = found.variance[CULTIVAR] + found.variance[BY_SITE]
    # The error that is told is a little above that of known variances, which reliability is of.
    known = (1 - there["reliability"]) * lasting
    assert (known <= there["se"] ** 2 * (1 + 1e-9)).all()
    assert known.to_numpy() == pytest.approx((there["se"] ** 2).to_numpy(), rel=0.15)


def test_of_one_that_never_stood_at_a_site_it_is_unknown_what_it_owes_to_it(found):
    never = "C003"
    here, over = found.at["River"], found.values
    more = here.loc[never, "se"] ** 2 - over.loc[never, "se"] ** 2
    assert more > 0.9 * found.variance[BY_SITE]
    others = here.index != never
    assert (here["se"] ** 2 - over["se"] ** 2)[others].max() < 0.6 * more
    assert here.loc[never, ["samples", "fruit", "sites", "seasons"]].tolist() == [0, 0, 0, 0]
    assert here.loc["C000", ["samples", "fruit", "sites", "seasons"]].tolist() == [6, 60, 1, 3]


def test_error_variances_are_those_of_their_two_parts(frame, found):
    """diag(own) + shared shared' has the error variances; where cultivars go together in all of it, in ``shared`` alone."""
    tangled = worth(trial(6, 3, 6, 1, seed=2).sample(frac=0.6, random_state=1).reset_index(drop=True), "size")
    for one in (found, tangled):
        assert one.own + np.square(one.shared).sum(axis=1) == pytest.approx(one.pev)
        assert (one.pev < np.square(one.values["se"])).all()


def test_what_is_expected_of_a_cultivar_is_the_mean_of_the_trial():
    """Balanced and without a trend: the mean of all samples, whoever it is."""
    frame = trial(16, 2, 3, seed=4)
    found = worth(frame, "size")
    assert found.usual == pytest.approx(np.full(16, frame["size"].mean()))


def test_picks_and_site_seasons_are_counted():
    frame = trial(16, 2, 3, 4, seed=4)
    found = worth(frame.assign(size=frame["size"] + 3 * frame["pick"]), "size")
    assert found.pick_step == pytest.approx(3, abs=0.3)
    assert found.pick_variance == pytest.approx((1.5**2 + 0.5**2) / 2)
    assert found.site_seasons == {"Hill": 3, "River": 3}
    alike = worth(frame.assign(pick=1.0), "size")
    assert (alike.pick_step, alike.pick_variance) == (0.0, 0.0)


def test_listed_site_seasons_have_the_variance_of_the_analysis_of_variance():
    """Two sites, one season, each cultivar at both: with d the difference of the sites' means and MS the mean square of
    cultivars by sites, sites lie apart by d² / 2, of which MS / cultivars is error (Snedecor & Cochran, two-way table)."""
    frame = trial(16, 2, 1, seed=4).assign(pick=1.0)
    found = worth(frame, "size", off_zero=())
    cells = frame.groupby(["cultivar", "site"])["size"].mean().unstack()
    d = cells["Hill"].mean() - cells["River"].mean()
    assert found.plan.environment == "fixed"
    assert (found.level, found.site_level) == (0.0, pytest.approx(d**2 / 2))
    mean_square = (cells["Hill"] - cells["River"]).var() / 2
    assert found.variance[ENVIRONMENT] == pytest.approx(max(0.0, d**2 / 2 - mean_square / 16), rel=1e-4)


def test_the_next_season_is_foretold_by_how_seasons_differ_at_one_site():
    frame = trial(16, 2, 2, seed=4).assign(pick=1.0)
    found = worth(frame, "size")
    means = frame.groupby(["site", "season"])["size"].mean()
    assert found.level == pytest.approx(means.groupby("site").var().mean())
    assert 0.5 * means.var() < found.variance[ENVIRONMENT] < means.var()
    alike = frame["size"] - frame.groupby(["site", "season"])["size"].transform("mean") + 60
    none = worth(frame.assign(size=alike), "size")
    assert none.level == pytest.approx(0, abs=1e-9)
    assert none.variance[ENVIRONMENT] == 0.0


def test_where_cultivars_do_not_differ_it_is_never_told_as_certain():
    frame = trial(8, 1, 1)
    alike = frame.assign(size=60.0 + frame.index % 2, pick=1.0)
    found = worth(alike, "size")
    assert found.variance[CULTIVAR] > 0
    assert CULTIVAR not in found.at_zero
    assert found.plan.notes[-1].startswith("By these records alone, cultivars differ by no more than chance.")
    assert found.values["estimate"].to_numpy() == pytest.approx(60.5)
    assert found.difference_variance(np.array([[1.0, -1.0] + 6 * [0.0]]))[0] > 0.01
    plain = worth(alike, "size", off_zero=())
    assert plain.variance[CULTIVAR] == 0
    assert plain.difference_variance(np.array([[1.0, -1.0] + 6 * [0.0]]))[0] == 0
    assert not any("no more than chance" in note for note in worth(trial(8, 1, 1), "size").plan.notes)


def test_what_cannot_be_told_apart_is_said_once():
    """Each site-season picked once, at a time of its own: the model is fitted without picks, and says so."""
    two = trial(8, 2, 2)
    found = worth(two.assign(pick=2.0 * (two["season"] - 2020) + (two["site"] == "Hill")), "size")
    alike = "Picks cannot be told from site-seasons, so they are taken as alike."
    assert found.plan.notes.count(alike) == 1


def test_ratings_end_where_their_scale_does():
    found = worth(judged(trial(12, 2, 3, spread=25.0)), "attractiveness")
    for values in (found.values, *found.at.values()):
        assert values[["estimate", "low", "high"]].min(axis=None) == 0
        assert values[["estimate", "low", "high"]].max(axis=None) == 10
        assert (values["se"] > 0).all()


def test_a_cultivar_without_a_reading_has_gaps_and_no_samples(frame):
    found = worth(frame.assign(size=frame["size"].where(frame["cultivar"] != "C005")), "size")
    row = found.values.loc["C005"]
    assert row[["estimate", "se", "low", "high", "reliability", "df"]].isna().all()
    assert row[["fruit", "samples", "sites", "seasons"]].tolist() == [0, 0, 0, 0]
    assert found.group.tolist() == [-1 if name == "C005" else 0 for name in found.values.index]
    for array in (found.usual, found.pev, found.own, found.shared):
        assert np.isnan(array[5]).all()
        assert np.isfinite(np.delete(array, 5, axis=0)).all()
    stood = (
        frame.assign(spot=frame["site"] + frame["season"].astype(str)).groupby("cultivar")["spot"].nunique()
    )
    seen = np.bincount(found.seen[:, 0], minlength=16)
    assert seen.tolist() == stood.where(stood.index != "C005", 0).tolist()
    assert set(found.seen[:, 1]) == set(range(6))


def test_a_part_that_cannot_be_fitted_is_left_out_with_what_was_wrong(frame, monkeypatch):
    def stubborn(y, X, groups, **known):
        if BY_BOTH in groups:
            raise ValueError("it runs off.")
        if BY_SEASON in groups:
            raise np.linalg.LinAlgError("it is singular.")
        return fit(y, X, groups, **known)

    monkeypatch.setattr(model, "fit", stubborn)
    found = worth(frame, "size")
    assert found.modelled
    assert found.plan.kept == (CULTIVAR, BY_SITE)
    assert found.plan.dropped == {
        BY_BOTH: "How differently cultivars do in one site-season was left out of the model: these records do not tell its parts apart.",
        BY_SEASON: "How differently cultivars do from season to season was left out of the model: these records do not tell its parts apart.",
    }


def test_when_nothing_can_be_fitted_raw_averages_stand_in_with_the_reason(frame, monkeypatch):
    def unsettled(*records, **known):
        done = fit(*records, **known)
        return replace(done, best=replace(done.best, converged=False))

    monkeypatch.setattr(model, "fit", unsettled)
    found = worth(frame, "size")
    assert not found.modelled
    assert found.plan.refused == "The model could not be fitted: the search for its spreads did not settle."
    assert found.plan.kept == ()
    assert set(found.plan.dropped) == {BY_SITE, BY_SEASON, BY_BOTH}
    pd.testing.assert_frame_equal(found.values, average_values(readings(frame, "size")))
    assert list(found.at) == ["Hill", "River"]
    hill = frame[frame["site"] == "Hill"]
    assert found.at["Hill"]["estimate"].to_numpy() == pytest.approx(
        hill.groupby(["cultivar", "season"])["size"].mean().groupby("cultivar").mean().to_numpy()
    )
    assert set(found.values["method"]) == {METHOD}
    assert found.group.tolist() == [0] * 16
    assert len(found.seen) == 16 * 6 - 3


def test_every_trait_and_two_at_equal_firmness_are_answered(frame):
    """Where firmness differs and size goes with it, the two sizes differ."""
    softer = frame.assign(size=frame["size"] - 0.5 * (frame["firmness"] - 45)).drop(
        columns=["size_n", "size_ss"]
    )
    told = worths(softer, ("C000",))
    assert list(told) == [*TRAITS, "size at equal firmness", "sugar at equal firmness"]
    assert EQUAL_FIRMNESS == {"size": "size at equal firmness", "sugar": "sugar at equal firmness"}
    said = "Values are at the same firmness at picking, the usual one of these records."
    assert said in told["size at equal firmness"].plan.notes
    assert said not in told["size"].plan.notes
    apart = told["size"].values["estimate"] - told["size at equal firmness"].values["estimate"]
    assert apart.abs().max() > 0.1
    for trait in ("firmness", "cheek_difference"):
        with pytest.raises(
            ValueError, match=rf"^{TRAITS[trait].label} cannot be judged at equal firmness\.$"
        ):
            worth(frame, trait, equal_firmness=True)


def test_samples_without_firmness_are_left_out_at_equal_firmness(frame):
    unknown = frame.assign(firmness=frame["firmness"].where(frame.index >= 5))
    assert worth(unknown, "size", equal_firmness=True).values["samples"].sum() == len(frame) - 5
    assert worth(unknown, "size").values["samples"].sum() == len(frame)
