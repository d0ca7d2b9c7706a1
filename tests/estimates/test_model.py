"""The fitted values: right where an answer is known, nearer the truth than raw averages, never a traceback."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.estimates import COLUMNS, METHOD, MODEL_METHOD, cultivar_values, trait_values, worth, worths
from dashboard.estimates.averages import average_values
from dashboard.estimates.plan import BY_SITE, CULTIVAR, RESIDUAL
from dashboard.estimates.readings import readings
from dashboard.mixed import Patterns
from dashboard.places import demo_data
from dashboard.terms.traits import TRAITS
from tests.estimates.trials import judged, trial


def truth(trait: str, index: pd.Index) -> pd.Series:
    return pd.read_csv(demo_data() / "truth" / "values.csv").set_index("cultivar")[trait].reindex(index)


def test_a_balanced_trial_gives_the_values_of_the_textbook():
    """One site, one season, two samples a cultivar: the value is the mean drawn in by the share of its reliability.

    Variances of the one-way classification by mean squares (Searle, Casella & McCulloch 1992, Variance Components,
    ch. 3): in balanced data REML gives the same.
    """
    frame = trial(20, 1, 1, 2).assign(pick=1.0)
    means = frame.groupby("cultivar")["size"].mean()
    between = 2 * means.var()
    within = frame.groupby("cultivar")["size"].var().mean()
    share = 1 - within / between
    found = worth(frame, "size", off_zero=())
    expected = means.mean() + share * (means - means.mean())
    assert found.values["estimate"].to_numpy() == pytest.approx(expected.to_numpy(), rel=1e-6)
    assert found.variance[CULTIVAR] == pytest.approx((between - within) / 2, rel=1e-5)


@pytest.mark.parametrize(("trait", "least"), [("size", 1.3), ("sugar", 1.35), ("firmness", 1.3)])
def test_the_demo_truth_is_found_better_than_by_raw_averages(demo, trait, least):
    fair = demo.worth[trait].values["estimate"]
    raw = average_values(readings(demo.summaries, trait))["estimate"]
    true = truth(trait, fair.index)
    error = np.sqrt(((fair - true) ** 2).mean())
    assert np.sqrt(((raw - true) ** 2).mean()) / error >= least


@pytest.mark.parametrize("trait", ["size", "sugar", "firmness", "red"])
def test_the_demo_truth_lies_in_nine_of_ten_intervals(demo, trait):
    values = demo.worth[trait].values
    true = truth(trait, values.index)
    held = ((values["low"] <= true) & (true <= values["high"]))[true.notna() & values["low"].notna()]
    # The truth is over all seasons to come and one set of records is one draw, hence the wide band.
    assert 0.84 <= held.mean() <= 0.95


def test_the_spreads_the_demo_was_drawn_with_are_found(demo):
    drawn = pd.read_csv(demo_data() / "truth" / "variance_components.csv").set_index(["trait", "term"])["sd"]
    for trait in ("size", "sugar", "firmness"):
        found = demo.worth[trait].variance
        assert found[RESIDUAL] ** 0.5 == pytest.approx(drawn[trait, "fruit"], rel=0.03)
        assert found["sample"] ** 0.5 == pytest.approx(drawn[trait, "sample"], rel=0.1)
        assert found["cultivar:season"] ** 0.5 == pytest.approx(drawn[trait, "cultivar:season"], rel=0.25)


def test_a_cultivar_seen_less_is_less_sure(demo):
    values = demo.worth["sugar"].values
    once, often = values[values["seasons"] == 1], values[values["seasons"] >= 5]
    assert once["se"].median() > 1.2 * often["se"].median()
    assert once["reliability"].median() < often["reliability"].median()


@pytest.mark.slow
def test_every_trait_has_the_columns_of_raw_averages(summaries):
    for trait, frame in cultivar_values(summaries).items():
        assert tuple(frame.columns) == COLUMNS
        raw = average_values(readings(summaries, trait))
        assert frame.index.equals(raw.index)
        for column in ("fruit", "samples", "sites", "seasons"):
            assert frame[column].tolist() == raw[column].tolist()


def test_the_model_is_named_as_the_method(summaries):
    assert set(trait_values(summaries, "size")["method"]) == {MODEL_METHOD}


def test_values_at_a_site_differ_from_those_over_sites(demo):
    found = demo.worth["size"]
    here, over = found.at["ondry"], found.values
    stood = here["samples"] > 0
    assert (here["estimate"] - over["estimate"])[stood].std() > 0.1
    # Where it never stood, what it owes to the site is wholly unknown.
    gone = ~stood & over["estimate"].notna()
    assert (here["se"][gone] ** 2 > over["se"][gone] ** 2 + 0.5 * found.variance[BY_SITE]).all()
    assert (here["reliability"][gone] <= over["reliability"][gone]).all()


def test_a_site_that_is_not_there_is_refused(summaries):
    with pytest.raises(ValueError, match="Valley"):
        trait_values(summaries, "size", site="Valley")


def test_intervals_and_values_stay_within_what_can_be_measured(demo):
    for trait in ("split_pit", "cracked_tip", "fuzz", "red"):
        values = demo.values[trait].dropna(subset="estimate")
        top = 10 if TRAITS[trait].quantity == "rating" else 100
        assert values[["estimate", "low"]].min().min() >= 0
        assert values[["estimate", "high"]].max().max() <= top
        assert (values["low"] <= values["estimate"]).all()
        assert (values["estimate"] <= values["high"]).all()


def test_two_runs_give_the_same_numbers(summaries):
    pd.testing.assert_frame_equal(trait_values(summaries, "size"), trait_values(summaries, "size"))


def test_the_order_of_the_samples_does_not_matter(summaries):
    shuffled = summaries.sample(frac=1, random_state=3).reset_index(drop=True)
    one, other = trait_values(summaries, "size"), trait_values(shuffled, "size")
    numbers = ["estimate", "se", "low", "high"]
    assert one[numbers].to_numpy() == pytest.approx(other[numbers].to_numpy(), rel=1e-5)


SPOILT = {
    "nothing": lambda frame: frame.iloc[:0],
    "one sample": lambda frame: frame.iloc[:1],
    "two samples": lambda frame: frame.iloc[:2],
    "one cultivar": lambda frame: frame[frame["cultivar"] == "C000"],
    "two cultivars": lambda frame: frame[frame["cultivar"].isin(["C000", "C001"])],
    "all equal": lambda frame: frame.assign(size=60.0, size_ss=0.0),
    "all missing": lambda frame: frame.assign(size=np.nan),
    "a third missing": lambda frame: frame.assign(size=frame["size"].where(frame.index % 3 != 0)),
    "one sample each": lambda frame: frame.drop_duplicates("cultivar"),
    "no spread within": lambda frame: frame.assign(size_ss=0.0),
    "one fruit each": lambda frame: frame.assign(size_n=1.0, size_ss=0.0),
    "no count": lambda frame: frame.drop(columns=["size_n", "size_ss"]),
    "no picks": lambda frame: frame.drop(columns="pick"),
    "no sites": lambda frame: frame.assign(site=np.nan),
    "a million": lambda frame: frame.assign(size=frame["size"].where(frame.index != 5, 1e6)),
    "whole numbers": lambda frame: frame.assign(size=frame["size"].round(-1)),
    "cultivars alike": lambda frame: frame.assign(size=60.0 + frame.index % 2),
}  # fmt: skip


@pytest.mark.alike(3)
@pytest.mark.parametrize("spoil", SPOILT.values(), ids=SPOILT)
@pytest.mark.parametrize(("sites", "seasons"), [(1, 1), (2, 3)])
def test_bad_records_give_a_clear_statement_never_a_traceback(spoil, sites, seasons):
    frame = spoil(trial(sites=sites, seasons=seasons)).reset_index(drop=True)
    found = worth(frame, "size")
    if found.modelled:
        assert found.values["se"].dropna().gt(0).all()
        assert np.isfinite(found.values["estimate"].dropna()).all()
    else:
        assert found.plan.refused.endswith(".")
        assert set(found.values["method"]) <= {METHOD}
    assert all(sentence.endswith(".") for sentence in found.plan.sentences)
    assert found.values["estimate"].dropna().lt(100).all()


def test_a_million_leaves_the_other_cultivars_as_they_were():
    frame = trial()
    spoilt = frame.assign(size=frame["size"].where(frame.index != 5, 1e6))
    one, other = worth(frame, "size").values, worth(spoilt, "size").values
    assert (one["estimate"] - other["estimate"]).abs().max() < 1


def test_random_scraps_of_records_give_values_or_a_reason():
    for seed in range(25):
        rng = np.random.default_rng(seed)
        whole = trial(int(rng.integers(2, 9)), int(rng.integers(1, 4)), int(rng.integers(1, 5)), 2, seed=seed)
        frame = whole[rng.random(len(whole)) < rng.uniform(0.1, 0.9)].reset_index(drop=True)
        if rng.random() < 0.3:
            frame["size"] = frame["size"].round(-1)
        for summaries, trait in ((frame, "size"), (judged(frame), "attractiveness")):
            found = worth(summaries, trait)
            seen = found.group >= 0
            assert found.plan.refused or found.modelled
            assert found.values["estimate"].notna().to_numpy().tolist() == seen.tolist()


def test_newer_and_better_cultivars_are_not_drawn_to_the_old_mean():
    """Entries improve by 2 mm a season; without a trend the newest would be drawn down."""
    rng = np.random.default_rng(5)
    rows = []
    for number in range(60):
        enters, value = number % 6, rng.normal(0, 1)
        rows += [
            (f"C{number:03d}", "Hill", 2015 + season, 60 + 2.0 * enters + value + rng.normal(0, 2))
            for season in range(enters, min(enters + 2, 6))
            for _ in range(2)
        ]
    frame = pd.DataFrame(rows, columns=["cultivar", "site", "season", "size"])
    found = worth(frame, "size")
    assert found.plan.cohort
    newest = [f"C{number:03d}" for number in range(60) if number % 6 == 5]
    oldest = [f"C{number:03d}" for number in range(60) if number % 6 == 0]
    rise = found.values.loc[newest, "estimate"].mean() - found.values.loc[oldest, "estimate"].mean()
    assert rise == pytest.approx(10, abs=2)


def test_equal_firmness_takes_out_what_softer_fruit_adds():
    frame = trial(24, 2, 3)
    rng = np.random.default_rng(8)
    own = rng.normal(0, 6, 24)[frame["cultivar"].str[1:].astype(int)]
    softer = own + rng.normal(0, 3, len(frame))
    frame = frame.assign(firmness=45 - softer, size=frame["size"] + 0.5 * softer)
    plain, equal = worth(frame, "size").values, worth(frame, "size", equal_firmness=True).values
    by_cultivar = pd.Series(own).groupby(frame["cultivar"]).first()
    assert (
        abs(np.corrcoef(equal["estimate"], by_cultivar)[0, 1])
        < np.corrcoef(plain["estimate"], by_cultivar)[0, 1]
    )
    with pytest.raises(ValueError, match="equal firmness"):
        worth(frame, "firmness", equal_firmness=True)


def test_cultivars_that_are_soft_by_nature_are_not_taken_for_riper():
    """Soft ones no larger, fruit of one cultivar larger the softer it is: one slope for both would find hardly any."""
    frame = trial(24, 2, 3)
    rng = np.random.default_rng(8)
    own = rng.normal(0, 10, 24)[frame["cultivar"].str[1:].astype(int)]
    away = rng.normal(0, 4, len(frame))
    frame = frame.assign(firmness=45 - own - away, size=frame["size"] + 0.5 * away)
    plain, equal = worth(frame, "size").values, worth(frame, "size", equal_firmness=True).values
    by_cultivar = pd.Series(own).groupby(frame["cultivar"]).first()
    moved = equal["estimate"] - plain["estimate"]
    # Picked as firm as the others, one that is 10 N softer by nature would be 5 mm smaller.
    assert np.polyfit(by_cultivar, moved, 1)[0] == pytest.approx(-0.5, abs=0.1)
    # Further from its own firmness the value is less sure.
    farther = by_cultivar.abs().to_numpy()
    assert np.corrcoef(farther, (equal["se"] - plain["se"]).to_numpy())[0, 1] > 0.5


def test_every_trait_of_the_small_records_has_a_value_or_a_reason(summaries):
    for found in worths(summaries, ("Aldermere", "Elmsworth")).values():
        assert found.modelled or found.plan.refused


def test_what_the_fits_of_several_traits_share_changes_none_of_them():
    """Size and red skin are read of the same samples, attractiveness of fewer, size at equal firmness with columns of its own."""
    frame, patterns = trial(14, 2, 4).assign(red=lambda one: judged(one)["attractiveness"]), Patterns()
    frame["attractiveness"] = frame["red"].where(frame.index % 7 > 0)
    for trait, equal in (
        ("size", False),
        ("red", False),
        ("attractiveness", False),
        ("size", True),
        ("size", False),
    ):
        alone = worth(frame, trait, equal_firmness=equal)
        shared = worth(frame, trait, equal_firmness=equal, patterns=patterns)
        pd.testing.assert_frame_equal(shared.values, alone.values, rtol=1e-8)
        assert shared.variance == pytest.approx(alone.variance, rel=1e-8)
