"""Ripe days between visits, worked out by hand, and what becomes of them in the model."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as some

from dashboard.ripening import picks
from dashboard.ripening.this_week import PASSED_OVER, this_week
from dashboard.ripening.visits import KEYS, ripe_days
from tests.ripening.told import FIRST, told


def seen(rows: list[tuple]) -> pd.DataFrame:
    """Samples from (cultivar, site, season, day, day, …)."""
    return pd.DataFrame([(*row[:3], float(day)) for row in rows for day in row[3:]], columns=[*KEYS, "day"])


WEEKLY = [("A", "x", 2024, 180, 187, 194, 201), ("B", "x", 2024, 187, 194), ("C", "x", 2024, 201)]


def test_the_first_ripe_day_lies_between_two_visits_and_so_does_the_last():
    """B, found on 187 and 194 of weekly visits: ripe first on one of 181 … 187, last on one of 194 … 200. Of seven equally likely
    days the variance is (49 - 1) / 12."""
    b = ripe_days(seen(WEEKLY)).set_index("cultivar").loc["B"]
    assert (b["first"], b["last"], b["middle"]) == (184.0, 197.0, 190.5)
    assert (b["first_off"], b["last_off"]) == (4.0, 4.0)
    assert np.var(np.arange(181, 188)) == 4.0
    assert b["every"] == 7


def test_before_the_first_visit_and_after_the_last_one_the_usual_interval_stands():
    found = ripe_days(seen(WEEKLY)).set_index("cultivar")
    assert (found.loc["A", "first"], found.loc["A", "last"]) == (177.0, 204.0)
    assert (found.loc["C", "first"], found.loc["C", "last"]) == (198.0, 204.0)


def test_a_visit_that_found_nothing_is_not_on_record():
    """From 194 to 215 nothing was picked anywhere: three weeks are no interval between visits, a week is; and one to 208 neither."""
    found = ripe_days(seen([*WEEKLY, ("D", "x", 2024, 222)])).set_index("cultivar")
    assert found.loc["D", "first"] == 219.0
    assert found.loc["C", "last"] == 204.0


def test_each_site_has_visits_of_its_own_and_one_without_two_takes_what_is_usual():
    rows = [
        *WEEKLY,
        ("B", "y", 2024, 190, 192, 194),
        ("A", "y", 2024, 188, 196),
        ("B", "z", 2024, 190),
    ]
    found = ripe_days(seen(rows)).set_index(["site", "cultivar"])
    assert found.loc["y", "every"].tolist() == [2.0, 2.0]
    assert found.loc[("y", "B"), ["first", "last"]].tolist() == [189.5, 194.5]
    # Steps of all sites: 7, 7, 7, 2, 2, 2, 2; their median.
    assert found.loc[("z", "B"), ["first", "last", "every"]].tolist() == [189.5, 190.5, 2.0]


def test_daily_visits_change_nothing_and_a_single_one_tells_of_no_interval():
    daily = seen([("A", "x", 2024, *range(180, 190)), ("B", "x", 2024, 184, 185)])
    for days in (daily, seen([("A", "x", 2024, 180), ("B", "x", 2024, 180)])):
        found, plain = ripe_days(days), picks(days)
        assert found[["first", "last"]].equals(plain[["first", "last"]])
        assert (found[["first_off", "last_off"]] == 0).all(axis=None)


def test_where_only_the_week_is_known_the_ends_are_those_of_the_week():
    """From Monday to Sunday; where in the week the visit was is not known either, so twice the variance."""
    days = seen([("A", "x", 2024, 180, 187), ("B", "x", 2024, 187)]).assign(slack=3.0)
    found = ripe_days(days).set_index("cultivar")
    assert found.loc["A", ["first", "last"]].tolist() == [177.0, 190.0]
    assert found.loc["B", ["first_off", "last_off"]].tolist() == [8.0, 8.0]
    # Beside exact days a week is no visit of its own: from 186 to 190, not from 187.
    mixed = pd.concat([seen([("C", "x", 2024, 186, 190, 194)]).assign(slack=0.0), days])
    assert ripe_days(mixed).set_index("cultivar").loc["C", "every"] == 4


def test_without_a_day_there_is_nothing():
    assert len(ripe_days(seen([]))) == 0
    assert len(ripe_days(seen([("A", "x", 2024, np.nan)]))) == 0


@given(
    some.lists(
        some.tuples(some.sampled_from("AB"), some.sampled_from("xy"), some.integers(150, 200)),
        min_size=1,
        max_size=30,
    )
)
def test_ripe_days_hold_the_days_of_picking_and_no_neighbouring_visit(rows):
    days = seen([(name, site, 2024, day) for name, site, day in rows])
    found, plain = ripe_days(days).set_index(KEYS), picks(days).set_index(KEYS)
    assert found.index.equals(plain.index)
    assert (found["first"] <= plain["first"]).all()
    assert (found["last"] >= plain["last"]).all()
    for key, row in found.iterrows():
        visits = days.loc[days["site"] == key[1], "day"]
        outside = (visits < plain.loc[key, "first"]) | (visits > plain.loc[key, "last"])
        assert not (outside & visits.between(row["first"], row["last"])).any()


def test_what_visits_leave_open_is_no_luck_of_the_fruit():
    """Residual 1 of the first day and of the days picked; visits every two days leave .25 at each end."""
    ripe = told()
    exact = ripe.peculiar("first"), ripe.peculiar("days")
    ripe.seen["first_off"], ripe.seen["last_off"], ripe.seen["every"] = 0.25, 0.25, 2.0
    assert (exact[0] - ripe.peculiar("first"), exact[1] - ripe.peculiar("days")) == (0.25, 0.5)
    ripe.seen["first_off"] = 3.0  # more than the residual: nothing is left of it, not less
    assert ripe.peculiar("first") == FIRST["cultivar:season"]
    assert (told().every("Hill"), ripe.every("Hill"), ripe.every("")) == ((1.0, 1.0), (2.0, 2.0), (2.0, 2.0))


def test_a_pick_of_this_season_weighs_the_less_the_longer_the_site_was_not_visited():
    """Shift by hand: 4 days late, known to within the cultivar's own 4.36 days² and 4 of weekly visits, against 9 of seasons."""
    picked = pd.DataFrame(
        {"cultivar": ["Aye"], "first": [207.0], "last": [207.0], "ripe": [204.0], "ripe_off": [4.0]}
    )
    found = this_week(told(), picked, "River", 208.0)
    assert found.shift == pytest.approx(4 * 9 / (9 + 0.36 + 4.0 + 4.0))
    assert found.rows.loc["Aye", ["picked", "first"]].tolist() == [207.0, 204.0]


def test_who_was_not_found_on_the_last_visit_is_over_or_was_passed_over():
    picked = pd.DataFrame({"cultivar": ["Aye"], "first": [204.0], "last": [204.0]})
    goes_on, then = (
        this_week(told(), picked, "Hill", 213.0, looked=looked).rows.loc["Aye", "chance"]
        for looked in (204.0, 211.0)
    )
    assert then == pytest.approx(goes_on * PASSED_OVER / (goes_on * PASSED_OVER + 1 - goes_on))
    # Bee, not picked so far, is the likelier in the coming days the longer nobody looked.
    late, long_ago = (
        this_week(told(), picked, "Hill", 213.0, looked=looked).rows.loc["Bee", "chance"]
        for looked in (212.0, 206.0)
    )
    assert 0 < late < long_ago < 1
