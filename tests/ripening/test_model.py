"""Ripening windows against simulated truth, and what the model does with too few or odd records."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from dashboard.places import demo_data
from dashboard.ripening.few_seasons import half_width
from dashboard.ripening.model import ANY, ripening
from dashboard.ripening.parts import CS, CY, LOCAL, SEASON
from tests.ripening.left_out import left_out
from tests.ripening.trials import CHECKS, SITES, Trial, trial


def judged(seeds: range) -> dict[str, np.ndarray]:
    """Over simulated trials, at every site a cultivar was seen at: errors and whether intervals hold; checks left out."""
    found: dict[str, list] = {
        name: [] for name in ("error", "raw", "beside", "held", "known", "unknown", "seasons")
    }
    for seed in seeds:
        made = trial(seed=seed)
        ripe = ripening(made.picks, made.cultivars)
        counts = made.picks.groupby("cultivar")["season"].nunique().reindex(made.cultivars)
        beside = days_from_check(made)
        for site in SITES:
            windows, truth = ripe.windows(site), made.lasting[site]
            use = (
                ~windows["unseen"] & windows["middle"].notna() & (np.arange(len(windows)) >= CHECKS)
            ).to_numpy()
            raw = (
                made.picks[made.picks["site"] == site]
                .groupby("cultivar")["middle"]
                .mean()
                .reindex(made.cultivars)
            )
            alone = np.square(windows["se"]) + ripe.peculiar("first") + 0.25 * ripe.peculiar("days")
            known = np.abs(windows["middle"] + made.shift[site] - made.coming[site]) <= 1.645 * np.sqrt(alone)
            common = ripe.common("first") + 0.25 * ripe.common("days")
            half = half_width(alone.to_numpy(), common, ripe.df, 0.95)
            unknown = np.abs(windows["middle"] - made.coming[site]) <= half
            held = windows["middle_low"].le(truth) & windows["middle_high"].ge(truth)
            for name, column in (
                ("error", windows["middle"] - truth), ("raw", raw - truth), ("beside", beside[site] - truth), ("held", held),
                ("known", known), ("unknown", unknown), ("seasons", counts),
            ):  # fmt: skip
                found[name].append(column[use].to_numpy())
    return {name: np.concatenate(parts) for name, parts in found.items()}


def days_from_check(made: Trial) -> pd.DataFrame:
    """The plain way: a check's own average and the mean difference from it in the same site-season."""
    check = made.picks[made.picks["cultivar"] == "C000"]
    beside = made.picks.merge(
        check[["site", "season", "middle"]], on=["site", "season"], suffixes=("", "_check")
    )
    apart = (
        (beside["middle"] - beside["middle_check"]).groupby(beside["cultivar"]).mean().reindex(made.cultivars)
    )
    return pd.DataFrame({site: apart + check.loc[check["site"] == site, "middle"].mean() for site in SITES})


def told(found: dict[str, np.ndarray]) -> str:
    one = found["seasons"] == 1
    lines = ["seasons of a cultivar: within 3 days: model, raw mean, days from one check | RMSE"]
    for name, rows in (
        ("one", one),
        ("two or three", (found["seasons"] > 1) & (found["seasons"] < 4)),
        ("more", found["seasons"] > 3),
    ):
        each = [found[key][rows] for key in ("error", "raw", "beside")]
        within = " ".join(f"{np.mean(np.abs(part) <= 3):.2f}" for part in each)
        lines.append(f"{name:14} {within} | " + " ".join(f"{np.sqrt(np.mean(part**2)):.2f}" for part in each))
    lines.append(" ".join(f"{key} {found[key].mean():.3f}" for key in ("held", "known", "unknown")))
    return "\n".join(lines)


@pytest.fixture(scope="module")
def few() -> dict[str, np.ndarray]:
    return judged(range(8))


def test_one_season_is_enough_to_come_within_days(few):
    one = few["seasons"] == 1
    assert np.mean(np.abs(few["error"][one]) <= 3) >= 0.6
    assert np.mean(np.abs(few["raw"][one]) <= 3) <= 0.5
    assert np.std(few["error"]) < np.std(few["beside"]) < np.std(few["raw"])


def test_intervals_of_the_cultivar_s_own_part_hold(few):
    # Cultivars of one trial share its seasons, so eight trials leave a wide band.
    assert 0.8 <= few["held"].mean() <= 0.97
    assert 0.86 <= few["known"].mean() <= 0.94


@pytest.mark.slow
def test_intervals_hold_and_one_season_suffices():
    found = judged(range(3000, 3150))
    print("\n" + told(found))
    assert np.mean(np.abs(found["error"][found["seasons"] == 1]) <= 3) >= 0.65
    for name in ("held", "known", "unknown"):
        assert 0.88 <= found[name].mean() <= 0.92, name


def test_the_demo_s_truth_is_found(demo):
    truth = pd.read_csv(demo_data() / "truth" / "ripening.csv").set_index("cultivar")["middle_day"]
    windows = demo.ripening.windows("maravel")
    own = windows[~windows["unseen"] & windows["middle"].notna() & windows.index.isin(truth.index)]
    error = own["middle"] - truth[own.index]
    one = demo.windows.loc[own.index, "seasons"] == 1
    assert one.sum() > 20
    assert (error[one].abs() <= 3).mean() >= 0.65
    assert (
        (own["middle_low"] <= truth[own.index]).mean() > 0.9 < (truth[own.index] <= own["middle_high"]).mean()
    )


def test_a_season_of_another_kind_moves_every_date_alike():
    made = trial(40, seed=1)
    ripe = ripening(made.picks, made.cultivars)
    ordinary, late = ripe.windows("Hill"), ripe.windows("Hill", "late")
    by = late["first"] - ordinary["first"]
    assert by.dropna().to_numpy() == pytest.approx(stats.norm.ppf(0.9) * np.sqrt(ripe.common("first")))
    early = ripe.windows("Hill", "early")
    assert (ordinary["last"] - early["last"]).dropna().to_numpy() == pytest.approx(by.dropna().to_numpy())
    coming = ripe.windows("Hill", ANY)
    assert (coming["first_low"] < ordinary["first_low"])[ripe.known].all()
    assert (coming["last_high"] > ordinary["last_high"])[ripe.known].all()


def test_what_was_never_grown_at_a_site_is_said_and_less_sure():
    made = trial(60, seed=2)
    ripe = ripening(made.picks, made.cultivars)
    windows = ripe.windows("River")
    there = set(made.picks.loc[made.picks["site"] == "River", "cultivar"])
    assert set(windows.index[windows["unseen"]]) == set(made.picks["cultivar"]) - there
    own = made.picks["cultivar"].value_counts()
    alike = [name for name in windows.index if own.get(name, 0) == 3]
    unseen = windows.loc[alike, "unseen"].to_numpy()
    assert windows.loc[alike, "se"][unseen].min() > windows.loc[alike, "se"][~unseen].median()


def test_days_from_the_check_carry_no_season():
    made = trial(40, seed=3)
    ripe = ripening(made.picks, made.cultivars)
    beside, windows = ripe.from_check("C000", "Hill"), ripe.windows("Hill")
    assert (beside["from_check"] - (windows["middle"] - windows.loc["C000", "middle"])).abs().max() < 1e-9
    assert beside.loc["C000", "se"] == 0
    others = beside.index[1:]
    assert (beside["se"] < np.hypot(windows["se"], windows.loc["C000", "se"]))[others].mean() > 0.9


def test_a_cultivar_without_picks_is_unknown_not_absent():
    made = trial(20, seed=4)
    names = made.cultivars.append(pd.Index(["Unpicked"]))
    windows = ripening(made.picks, names).windows()
    assert windows.loc["Unpicked"].drop("unseen").isna().all()
    assert list(windows.index) == list(names)


@pytest.mark.parametrize(
    ("sites", "seasons", "kept"),
    [(1, 6, {SEASON}), (3, 1, {CS}), (1, 1, set()), (3, 6, {SEASON, CS, LOCAL, CY})],
)
def test_terms_that_the_records_cannot_tell_apart_are_left_out(sites, seasons, kept):
    made = trial(30, sites, seasons, seed=5)
    ripe = ripening(made.picks, made.cultivars)
    if sites == seasons == 1:
        assert "Too few" in ripe.refused
    else:
        assert set(ripe.kept) - {"cultivar"} <= kept
        assert ripe.windows()["middle"].notna().any()


@pytest.mark.parametrize("rows", [0, 1, 5])
def test_too_few_picks_refuse_with_one_sentence(rows):
    made = trial(20, seed=6)
    ripe = ripening(made.picks.iloc[:rows], made.cultivars)
    assert ripe.refused.endswith(".")


def test_all_on_the_same_day_refuses_with_one_sentence():
    picks = trial(20, seed=7).picks.assign(first=200.0, middle=203.0, last=206.0)
    assert "same day" in ripening(picks, pd.Index(sorted(picks["cultivar"].unique()))).refused


def test_one_pick_a_season_each_is_a_window_of_a_day():
    """As in small blocks: first and last are one day, so there is nothing to fit in how long picking lasts."""
    picks = trial(30, seed=8).picks
    picks = picks.assign(middle=picks["first"], last=picks["first"])
    windows = ripening(picks, pd.Index(sorted(picks["cultivar"].unique()))).windows("Hill")
    assert (windows["first"] == windows["last"]).all()
    assert (windows["middle_low"] < windows["middle"]).all()


def test_a_season_left_out_is_foretold_better_than_from_plain_means(demo):
    picks = demo.picks[demo.picks["season"] >= 2020]
    picks = picks.assign(cultivar=picks["cultivar"].astype(str), site=picks["site"].astype(str))
    found = left_out(picks, demo.cultivars.index, demo.checks)
    model, beside, raw = (
        np.sqrt(np.mean(np.square(found[way]))) for way in ("model", "days from check", "raw mean")
    )
    assert len(found) > 200
    assert model < beside < raw
