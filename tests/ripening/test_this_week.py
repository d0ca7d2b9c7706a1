"""The season's shift from the picks so far, and what that says of the coming days."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.ripening.model import ripening
from dashboard.ripening.this_week import this_week
from tests.ripening.trials import trial

NOTHING = pd.DataFrame({"cultivar": [], "first": [], "last": []})


@pytest.fixture(scope="module")
def made():
    return trial(80, seed=11)


@pytest.fixture(scope="module")
def ripe(made):
    return ripening(made.picks, made.cultivars)


def so_far(ripe, shift: float, today: float) -> pd.DataFrame:
    first = ripe.windows("Hill")["first"].dropna() + shift
    first = first[first <= today]
    return pd.DataFrame({"cultivar": first.index, "first": first.to_numpy(), "last": first.to_numpy()})


def test_before_any_pick_the_season_is_an_ordinary_one(ripe):
    told = this_week(ripe, NOTHING, "Hill", 150.0)
    assert told.shift == 0
    assert told.shift_se == pytest.approx(np.sqrt(ripe.common("first")))
    assert told.told_by == 0


@pytest.mark.parametrize("shift", [-8.0, 8.0])
def test_a_few_picks_tell_the_season_s_shift(ripe, shift):
    told = this_week(ripe, so_far(ripe, shift, 185.0), "Hill", 185.0)
    assert told.shift == pytest.approx(shift, abs=1.5)
    assert told.shift_se < 0.4 * np.sqrt(ripe.common("first"))


def test_two_picks_weigh_as_jointly_normal_ones_do(ripe):
    """Covariance of the two days and the shift by hand: what is off by the same for both is not counted twice."""
    names = ripe.windows("Hill")["first"].dropna().index[:2]
    expected = ripe.windows("Hill").loc[names, "first"].to_numpy()
    picked = pd.DataFrame({"cultivar": names, "first": expected + np.array([3.0, 6.0]), "last": expected + 8})
    rows = ripe.cultivars[ripe.known].get_indexer(names)
    error = ripe.expected("first", "Hill").covariance()[np.ix_(rows, rows)]
    assert error[0, 1] > 0.1
    alone = (ripe.unseen_variance("first", "Hill") + ripe.peculiar("first"))[rows]
    common = ripe.common("first")
    (a, b), (_, d) = error + np.diag(alone) + common
    inverse = np.array([[d, -b], [-b, a]]) / (a * d - b * b)
    told = this_week(ripe, picked, "Hill", 300.0)
    assert told.shift == pytest.approx(common * inverse.sum(axis=0) @ [3.0, 6.0])
    assert told.shift_se == pytest.approx(np.sqrt(common - common**2 * inverse.sum()))


def test_the_chance_is_the_share_of_seasons_like_this_one(made, ripe):
    """What was foretold a week ahead in the last season of the trial came about as often as was said."""
    season = made.picks["season"].max()
    before = ripening(made.picks[made.picks["season"] < season], made.cultivars)
    now = made.picks[(made.picks["season"] == season) & (made.picks["site"] == "Hill")].set_index("cultivar")
    foretold, came = [], []
    for today in np.arange(160.0, 220.0, 7.0):
        seen = now[now["first"] < today - 0.5].reset_index()
        told = this_week(before, seen, "Hill", today).rows
        rest = [
            name
            for name in now.index
            if name not in set(seen["cultivar"]) and np.isfinite(told["chance"].get(name, np.nan))
        ]
        foretold += told.loc[rest, "chance"].tolist()
        came += ((now.loc[rest, "first"] >= today - 0.5) & (now.loc[rest, "first"] < today + 6.5)).tolist()
    assert len(came) > 40
    assert np.mean(foretold) == pytest.approx(np.mean(came), abs=0.08)
    assert np.corrcoef(foretold, came)[0, 1] > 0.5


def test_one_past_its_time_is_asked_after_for_three_weeks(ripe):
    last = ripe.windows("Hill")["last"].dropna()
    name = last.index[0]
    after = [this_week(ripe, NOTHING, "Hill", last[name] + days).rows.loc[name] for days in (15.0, 40.0)]
    assert np.isnan(after[0]["chance"])
    assert "overdue" in after[0]["remark"]
    assert (after[1]["chance"], after[1]["remark"]) == (0.0, "")


def test_a_picked_one_goes_on_for_its_days(ripe):
    name = ripe.windows("Hill")["first"].dropna().index[0]
    picked = pd.DataFrame({"cultivar": [name], "first": [200.0], "last": [200.0]})
    chances = [
        this_week(ripe, picked, "Hill", today).rows.loc[name, "chance"] for today in (201.0, 207.0, 225.0)
    ]
    assert chances[0] > 0.9 > chances[1] > 0.1 > chances[2]


def test_no_model_and_no_such_site_are_told(ripe, made):
    with pytest.raises(ValueError, match="Too few"):
        this_week(ripening(made.picks.iloc[:2], made.cultivars), NOTHING, "Hill", 200.0)
    with pytest.raises(ValueError, match="Nowhere"):
        this_week(ripe, NOTHING, "Nowhere", 200.0)
