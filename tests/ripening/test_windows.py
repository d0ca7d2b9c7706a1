"""What is made of the model's parts, worked out by hand: which variance enters where, and how wide that makes a window."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from dashboard.ripening import model
from dashboard.ripening.few_seasons import (
    Spread,
    assumed,
    assumption,
    half_width,
    half_width_over,
    weighed,
)
from dashboard.ripening.model import ANY, ripening
from dashboard.ripening.parts import CS, LOCAL, SEASON, _shown
from dashboard.ripening.this_week import this_week
from tests.ripening.told import DAYS, FIRST, told
from tests.ripening.trials import trial

OF_TWO_SIDES = 1.644854  # standard normal: 5 % lie above
OF_FIVE = 2.015048  # Student's t with 5 degrees of freedom, as six seasons give: 5 % lie above
ONE_IN_TEN = 1.281552  # standard normal: 10 % lie above
WHO = ["Aye", "Bee"]


def test_first_middle_and_last_with_their_errors():
    """Over the sites Bee lacks one of two: a quarter of its variance between sites is not known. Less than no day is none.

    What the seasons seen leave unknown of an ordinary one is more than these errors, so all of them is known by six seasons."""
    found = told().windows()
    assert found.loc[WHO, "first"].tolist() == [200.0, 210.0]
    assert found.loc[WHO, "middle"].tolist() == [205.0, 210.0]
    assert found.loc[WHO, "last"].tolist() == [210.0, 210.0]
    first, days = np.array([0.36, 0.8 + 2 / 4]), np.array([0.64, 1.2 + 0.5 / 4])
    for name, variance in (("first", first), ("middle", first + days / 4), ("last", first + days)):
        half = OF_FIVE * np.sqrt(variance)
        np.testing.assert_allclose(found.loc[WHO, f"{name}_low"], found.loc[WHO, name] - half, rtol=1e-6)
        np.testing.assert_allclose(found.loc[WHO, f"{name}_high"], found.loc[WHO, name] + half, rtol=1e-6)
    np.testing.assert_allclose(found.loc[WHO, "se"], np.sqrt(first + days / 4))
    assert found.loc["Unpicked"].drop("unseen").isna().all()
    assert not found["unseen"].any()


@pytest.mark.parametrize(("site", "lacks"), [("Hill", [0.0, 0.0]), ("River", [0.0, 1.0]), ("", [0.0, 0.25])])
def test_what_was_not_seen_of_a_cultivar_at_a_site_is_not_known(site, lacks):
    ripe = told()
    assert ripe.unseen_variance("first", site).tolist() == [2.0 * share for share in lacks]
    assert ripe.unseen_variance("days", site).tolist() == [0.5 * share for share in lacks]
    assert ripe.windows(site)["unseen"].tolist() == [False, False, site == "River"]
    assert (ripe.known_site("River"), ripe.known_site("Valley")) == ("River", "")


@pytest.mark.parametrize("kind", ["ordinary", ANY])
def test_the_outer_ends_are_those_of_a_season_not_known_beforehand(kind):
    """Satterthwaite (1946): six seasons give the common part five degrees of freedom, the sum more."""
    found = told().windows("Hill", kind)
    own = {"first": np.array([0.36, 0.8]) + 4, "last": np.array([0.36 + 0.64, 0.8 + 1.2]) + 4 + 1.25}
    common = {"first": 9.0, "last": 9.5}
    half = {}
    for end in own:
        total = own[end] + common[end]
        half[end] = np.sqrt(total) * stats.t.ppf(0.95, 5 * (total / common[end]) ** 2)
    np.testing.assert_allclose(found.loc[WHO, "not_before"], [200, 210] - half["first"])
    np.testing.assert_allclose(found.loc[WHO, "not_after"], [210, 210] + half["last"])
    same = found.loc[WHO, "first_low"].equals(found.loc[WHO, "not_before"].rename("first_low"))
    assert same == (kind == ANY) == (found.loc["Aye", "last_high"] == found.loc["Aye", "not_after"])


@pytest.mark.parametrize(("kind", "sign"), [("early", -1), ("ordinary", 0), ("late", 1), (ANY, 0)])
def test_an_early_season_is_the_earliest_of_ten(kind, sign):
    """The spread of seasons at a site is 3 days; what it moves, it moves alike. Who needs the outer ends is not moved."""
    ripe = told()
    assert ripe.shift(kind) == pytest.approx(sign * 3 * ONE_IN_TEN, rel=1e-6)
    moved = ripe.windows("Hill", kind).drop(columns="unseen") - ripe.windows("Hill").drop(columns="unseen")
    for name in ("first", "middle", "last"):
        assert moved.loc[WHO, name].tolist() == pytest.approx([sign * 3 * ONE_IN_TEN] * 2, rel=1e-6)
    assert (moved.loc[WHO, ["se", "not_before", "not_after"]] == 0).all(axis=None)


def test_without_a_spread_of_seasons_the_normal_one_is_left():
    """And no degree of freedom counts as one."""
    assert half_width(np.array([4.0]), 0.0, 1, 0.95) == pytest.approx([2 * OF_TWO_SIDES], rel=1e-6)
    # Student's t with 1 degree of freedom has its 95th percentile at 6.314 (any table).
    assert half_width(np.array([0.0]), 4.0, 1, 0.95) == pytest.approx([2 * 6.314], rel=1e-4)
    assert half_width(np.array([0.0]), 4.0, 0, 0.95) == pytest.approx([2 * 6.314], rel=1e-4)
    assert half_width(np.array([0.0]), 4.0, 2, 0.95) == pytest.approx([2 * 2.920], rel=1e-4)  # 2 degrees


def test_spreads_all_alike_likely_leave_student_s_t():
    """Where each spread is as likely as its double or half, without an end, the mean of four seasons' normal shifts lies within
    t · s / 2 of theirs (Box & Tiao 1973, Bayesian Inference in Statistical Analysis, 2.4, from memory): 2.353 with 3 degrees of freedom."""
    sd = np.geomspace(0.01, 3000, 600)
    found = weighed(Spread(np.square(sd), np.full(600, 1 / 600)), 9.0, 0.0, 4)
    half = half_width_over(np.zeros(1), found._replace(variance=found.variance / 4), 0.95)
    assert half == pytest.approx([2.353 * 3 / 2], rel=1e-3)
    alone = half_width_over(np.array([3.0]), Spread(np.array([1.0]), np.ones(1)), 0.95)
    assert alone == pytest.approx([2 * OF_TWO_SIDES], rel=1e-6)


def test_what_was_seen_of_few_seasons_moves_what_is_assumed():
    """One season says nothing; of more, what is noise in their means is no spread of seasons."""
    before = assumed("first")
    assert np.sqrt(before.variance[[0, -1]]).tolist() == pytest.approx([1, 16])
    np.testing.assert_allclose(weighed(before, 0.0, 1.0, 1).chance, before.chance)
    quiet, usual, rough = (weighed(before, square, 1.0, 3).mean for square in (2.0, 25.0, 100.0))
    assert quiet < before.mean < rough
    assert quiet < usual < rough
    assert weighed(before, 2.0, 1.9, 5).mean < weighed(before, 2.0, 0.1, 5).mean


def test_seasons_of_which_nothing_is_sure_say_nothing():
    """Their errors are as large as their spread, or by the last bits larger."""
    for error in (5.0, 5.0001):
        found = SimpleNamespace(
            effect={SEASON: pd.Series([1e-9, -1e-9])}, effect_se={SEASON: pd.Series([error, error])}, variance={SEASON: 25.0}
        )  # fmt: skip
        told = weighed(assumed("first"), *_shown(found), 2)
        np.testing.assert_allclose(told.chance, assumed("first").chance, rtol=0.01)


def test_what_rests_on_an_assumption_is_said():
    assert [len(assumption(seasons).split(". ")) for seasons in (1, 3, 4, 5)] == [3, 3, 2, 2]
    for seasons in (1, 2, 3):
        assert "rests more on that than on the records" in assumption(seasons)
    assert "2 seasons only" in assumption(2)
    assert "from 1 to 16 days" in assumption(5)
    assert assumption(6) == ""


def test_one_season_leaves_its_shift_and_each_one_s_luck_unknown():
    """What may be assumed of seasons for all, two days for one: so much more of an ordinary season, and 4 for the error and 4 for the next."""
    one, six, of_all = told(seasons=1), told(), assumed("first").mean
    assert (one.untold("first"), six.untold("first")) == (of_all, 0.0)
    assert one.common("first") == six.common("first") + of_all
    assert one.peculiar("first") == six.peculiar("first") + 4
    assert (one.unseen_variance("first", "Hill") - six.unseen_variance("first", "Hill")).tolist() == [
        4.0,
        4.0,
    ]
    grown = np.square(one.windows("Hill").loc[WHO, "se"]) - np.square(six.windows("Hill").loc[WHO, "se"])
    assert grown.tolist() == pytest.approx([of_all + 4 + 0.25 * (assumed("days").mean + 1)] * 2)


def test_a_part_that_was_not_fitted_varies_by_nothing():
    ripe = told(days={})
    assert (ripe.peculiar("days"), ripe.common("days")) == (0.0, 0.0)
    assert (ripe.peculiar("first"), ripe.common("first")) == (4.0, 9.0)
    assert told(first={SEASON: 2.0}).common("first") == 2.0
    assert told(first={LOCAL: 2.0}).common("first") == 2.0
    del ripe.fits["days"]
    assert ripe.unseen_variance("days", "River").tolist() == [0.0, 0.0]


def test_days_from_a_check_never_seen_at_a_site_carry_what_is_not_known_of_both():
    made = trial(30, seed=3)
    ripe = ripening(
        made.picks[(made.picks["site"] != "River") | (made.picks["cultivar"] != "C000")], made.cultivars
    )
    assert CS in ripe.kept
    assert ripe.never_at("River")[0]
    found = ripe.from_check("C000", "River")
    known = np.flatnonzero(ripe.known)
    first, days = (ripe.expected(part, "River") for part in ("first", "days"))
    for row in (1, 2, 5, 9):
        less = np.zeros((1, len(known)))
        less[0, [row, 0]] = 1, -1
        apart = [one.contrast(less) for one in (first, days)]
        unseen = [ripe.unseen_variance(part, "River")[[row, 0]].sum() for part in ("first", "days")]
        variance = apart[0].variance[0] + unseen[0] + (apart[1].variance[0] + unseen[1]) / 4
        told_of = found.iloc[known[row]]
        assert told_of["from_check"] == pytest.approx(apart[0].estimate[0] + apart[1].estimate[0] / 2)
        assert told_of["se"] == pytest.approx(np.sqrt(variance))
        assert told_of["high"] - told_of["from_check"] == pytest.approx(OF_TWO_SIDES * np.sqrt(variance))
        assert told_of["from_check"] - told_of["low"] == pytest.approx(OF_TWO_SIDES * np.sqrt(variance))


def test_the_walk_s_chances_by_hand():
    """Aye picked on day 204, so 4 late; the shift weighs that against the spread of seasons; Bee, not picked, moves along."""
    today = 206.0
    picked = pd.DataFrame({"cultivar": ["Aye", "Aye"], "first": [205.0, 204.0], "last": [205.0, 206.0]})
    found = this_week(told(), picked, "River", today)
    apart = 0.36 + 4.0
    precision = 1 / 9 + 1 / apart
    shift = 4 / apart / precision
    assert (found.shift, found.shift_se, found.told_by) == (
        pytest.approx(shift),
        pytest.approx(precision**-0.5),
        1,
    )
    aye, bee = found.rows.loc["Aye"], found.rows.loc["Bee"]
    assert (aye["first"], aye["last"], aye["picked"]) == (204.0, 214.0, 204.0)
    assert (bee["first"], bee["last"]) == (pytest.approx(210 + shift), pytest.approx(210 + shift))
    assert np.isnan(bee["picked"])
    goes_on = stats.norm.sf((today - 0.5 - 214) / np.sqrt(0.64 + 1.25 + 0.5))
    assert aye["chance"] == pytest.approx(goes_on)
    spread = np.sqrt(0.8 + 2.0 + 4.0 + 1 / precision)
    unripe, then = (stats.norm.sf((day - 0.5 - 210 - shift) / spread) for day in (today, today + 7))
    assert bee["chance"] == pytest.approx((unripe - then) / unripe)
    (shorter,) = this_week(told(), picked, "River", today, ahead=3).rows.loc[["Bee"], "chance"]
    then = stats.norm.sf((today + 3 - 0.5 - 210 - shift) / spread)
    assert shorter == pytest.approx((unripe - then) / unripe)


def test_one_being_picked_goes_on_as_long_as_its_days_and_the_season_s_vary():
    """Aye since 204 for ten days, so until 214: on 213 it goes on for sure to within its own and the season's 2.39 days²."""
    picked = pd.DataFrame({"cultivar": ["Aye"], "first": [204.0], "last": [204.0]})
    chance = this_week(told(), picked, "Hill", 213.0).rows.loc["Aye", "chance"]
    assert chance == pytest.approx(stats.norm.sf((212.5 - 214) / np.sqrt(0.64 + 1.25 + 0.5)))


def test_where_seasons_do_not_differ_no_pick_moves_the_walk():
    picked = pd.DataFrame({"cultivar": ["Aye"], "first": [230.0], "last": [230.0]})
    still = {name: 0.0 if name in (SEASON, LOCAL) else value for name, value in FIRST.items()}
    found = this_week(told(first=still, days=DAYS), picked, "Hill", 206.0)
    assert (found.shift, found.shift_se) == (0.0, 0.0)


@pytest.mark.parametrize(
    ("day", "asked", "remark"),
    [
        # Bee, expected on day 210 and unpicked; its spread is 3.715 days, so fewer than 5 % are unripe from 6.1 days after.
        (216.0, True, False),
        (217.0, False, True),
        (231.0, False, True),  # three weeks after its last day
        (232.0, True, False),
    ],
)
def test_when_a_cultivar_is_overdue_and_when_no_longer_asked_after(day, asked, remark):
    nothing = pd.DataFrame({"cultivar": [], "first": [], "last": []})
    row = this_week(told(), nothing, "Hill", day).rows.loc["Bee"]
    assert np.isfinite(row["chance"]) == asked
    assert row["remark"].startswith("overdue") == remark
    assert (row["chance"] == 0) == (day > 231)


def test_two_seasons_and_two_sites_are_what_a_spread_needs():
    """Every cultivar at every site in every season; a single one of either says nothing of how they differ."""
    for sites, seasons, kept in ((1, 2, {SEASON}), (2, 2, {SEASON, CS})):
        random = np.random.default_rng(1)
        rows = [
            (f"C{c:02d}", f"S{s}", 2020 + y, 200 + 5 * c + 3 * y + s + (c * s) % 3 + random.normal())
            for c in range(12)
            for s in range(sites)
            for y in range(seasons)
        ]
        picks = pd.DataFrame(rows, columns=["cultivar", "site", "season", "first"])
        picks = picks.assign(middle=picks["first"] + 2, last=picks["first"] + 4 + random.random(len(picks)))
        assert kept <= set(ripening(picks, pd.Index(sorted(set(picks["cultivar"])))).kept)


@pytest.mark.parametrize(("rows", "few"), [(6, True), (7, False)])
def test_three_records_beyond_its_cultivars_are_what_a_model_needs(rows, few):
    picks = trial(4, 1, 3, seed=4).picks.iloc[:rows]
    names = pd.Index(sorted(set(picks["cultivar"])))
    assert len(names) == 4
    assert ripening(picks, names).refused.startswith("Too few") == few


def test_terms_are_given_up_from_the_last_and_what_fails_alone_is_told(monkeypatch):
    made, usual = trial(20, seed=4), model.fitted
    tried = []

    def at_most(most: int):
        def fitted(seen, part, kept, sites):
            tried.append(kept)
            if len(kept) > most:
                raise ValueError("it would not settle.")
            return usual(seen, part, kept, sites)

        return fitted

    monkeypatch.setattr(model, "fitted", at_most(1))
    ripe = ripening(made.picks, made.cultivars)
    assert (ripe.kept, ripe.refused) == (("cultivar",), "")
    assert ripe.windows("Hill")["middle"].notna().any()
    assert [len(kept) for kept in tried[:5]] == [5, 4, 3, 2, 1]
    assert all(kept == tried[0][: len(kept)] for kept in tried)
    monkeypatch.setattr(model, "fitted", at_most(0))
    refused = ripening(made.picks, made.cultivars).refused
    assert refused == "The ripening model could not be fitted: these records do not tell its parts apart."
