"""Windows, days from the check, and days of the season written as dates on both halves of the earth."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pandas as pd
import pytest

from dashboard.ripening import (
    BANDS,
    day_label,
    day_of,
    days_without,
    half_label,
    half_span,
    halves,
    main_check,
    picks,
    ripening_band,
    season_of,
    windows,
)
from dashboard.terms.traits import UNKNOWN


def cultivars(*names: str, checks: tuple[str, ...] = ()) -> pd.DataFrame:
    return pd.DataFrame({"check": [name in checks for name in names]}, index=pd.Index(names, name="cultivar"))


def picked(rows: list[tuple]) -> pd.DataFrame:
    """picks from (cultivar, site, season, day, day, …)."""
    days = [(*row[:3], day) for row in rows for day in row[3:]]
    return picks(pd.DataFrame(days, columns=["cultivar", "site", "season", "day"]))


def test_where_a_day_may_be_off_the_ends_are_the_farthest_it_may_have_been():
    days = pd.DataFrame(
        [("A", "x", 2024, 187.0, 3.0), ("A", "x", 2024, 189.0, 0.0), ("B", "x", 2024, 187.0, 3.0)],
        columns=["cultivar", "site", "season", "day", "slack"],
    )
    found = picks(days).set_index("cultivar")
    assert found.loc["A", ["first", "middle", "last"]].tolist() == [184, 188, 190]
    assert found.loc["B", ["first", "middle", "last"]].tolist() == [184, 187, 190]


@pytest.mark.parametrize("south", [False, True])
def test_every_day_of_the_season_is_the_date_in_the_calendar(south):
    first = date(2021, 7, 1) if south else date(2022, 1, 1)  # neither span holds a 29 February
    for number in range(1, 366):
        day = first + timedelta(days=number - 1)
        assert day_of(day.month, day.day, south) == number
        assert day_label(number, south) == f"{day:%b} {day.day}"
        assert day_label(number, south, form="long") == f"{day:%B} {day.day}"


def test_a_southern_season_runs_over_new_year_without_a_break():
    assert day_of(1, 1, south=True) == day_of(12, 31, south=True) + 1 == 185
    assert day_of(6, 30, south=True) == 365


def test_the_leap_day_shares_its_number_with_the_first_of_march():
    assert day_of(2, 29) == day_of(3, 1) == 60
    assert day_of(2, 29, south=True) == day_of(3, 1, south=True) == 244


@pytest.mark.parametrize(("month", "day"), [(0, 1), (13, 1), (2, 30), (4, 31), (7, 0)])
def test_a_date_that_is_in_no_calendar_is_refused(month, day):
    with pytest.raises(ValueError, match="1 to"):
        day_of(month, day)


def test_a_fraction_of_a_day_is_written_as_the_nearest_day():
    assert day_label(195.4) == "Jul 14"
    assert day_label(195.5) == "Jul 15"
    assert day_label(np.nan) == "–"


def test_an_unknown_form_is_refused():
    with pytest.raises(ValueError, match="short or long"):
        day_label(1, form="roman")


def test_picks_have_one_row_a_cultivar_site_and_season():
    frame = picked(
        [("A", "Hill", 2021, 190, 195, 195, 203), ("A", "River", 2021, 200), ("B", "Hill", 2022, 180)]
    )
    assert frame.columns.tolist() == ["cultivar", "site", "season", "first", "middle", "last"]
    assert frame.loc[0, ["first", "middle", "last"]].tolist() == [190, 196, 203]  # each day counts once
    assert len(frame) == 3


def test_windows_are_means_over_site_seasons_and_extremes_seen():
    frame = windows(picked([("A", "Hill", 2021, 190, 200), ("A", "Hill", 2022, 196, 210)]), cultivars("A"))
    row = frame.loc["A"]
    assert (row["first"], row["middle"], row["last"]) == (193, 199, 205)
    assert (row["earliest"], row["latest"]) == (190, 210)
    assert row["se"] == pytest.approx(np.sqrt(2 * 4**2 / 1) / np.sqrt(2))
    assert (row["seasons"], row["sites"]) == (2, 1)


def test_days_from_the_check_compare_within_the_same_site_and_season_only():
    early_year, late_year = 180, 200  # the year shifts both; the difference of 10 days does not move
    frame = windows(
        picked(
            [
                ("Check", "Hill", 2021, early_year),
                ("Check", "Hill", 2022, late_year),
                ("A", "Hill", 2021, early_year + 10),
                ("B", "Hill", 2022, late_year - 5),
                ("C", "River", 2022, 230),
            ]
        ),
        cultivars("A", "B", "C", "Check", "Never", checks=("Check",)),
    )
    assert frame.attrs["check"] == "Check"
    assert frame.loc[["A", "B", "Check"], "from_check"].tolist() == [10, -5, 0]
    assert np.isnan(frame.loc["C", "from_check"])
    assert frame.loc["Never", ["seasons", "sites"]].tolist() == [0, 0]
    assert np.isnan(frame.loc["Never", "middle"])


def test_the_main_check_is_the_one_seen_most_and_the_first_by_name_of_equals():
    seen = picked(
        [("B", "Hill", 2021, 1), ("B", "Hill", 2022, 1), ("A", "Hill", 2021, 1), ("C", "Hill", 2023, 1)]
    )
    assert main_check(seen, cultivars("A", "B", "C", checks=("A", "B"))) == "B"
    assert main_check(seen, cultivars("A", "B", "C", checks=("C", "A"))) == "A"
    assert main_check(seen, cultivars("A", "B", "C")) == ""


def test_bands_are_fifths_of_the_season_and_equal_days_share_one():
    middles = pd.DataFrame({"middle": [*range(180, 190), np.nan]}, index=list("abcdefghijk"))
    band = ripening_band(middles)
    assert band.tolist() == [name for name in BANDS for _ in range(2)] + [UNKNOWN]
    assert ripening_band(pd.DataFrame({"middle": [200.0, 200.0, 200.0]})).nunique() == 1
    assert ripening_band(middles.iloc[:0]).empty


@pytest.mark.parametrize("south", [False, True])
def test_half_months_cover_the_year_once_each(south):
    every = [f"{month:02d}{part}" for month in range(1, 13) for part in "ab"]
    days = [
        day for half in every for day in np.arange(half_span(half, south)[0], half_span(half, south)[1] + 1)
    ]
    assert sorted(days) == list(range(1, 366))


def test_half_months_are_labelled_by_their_days():
    assert half_label("07a") == "Jul 1–15"
    assert half_label("02b") == "Feb 16–28"


def test_half_months_on_offer_run_from_the_first_pick_to_the_last():
    season = pd.DataFrame({"first": [day_of(6, 20), day_of(7, 20)], "last": [day_of(7, 2), day_of(8, 1)]})
    assert halves(season) == ("06b", "07a", "07b", "08a")
    southern = pd.DataFrame({"first": [day_of(12, 20, True)], "last": [day_of(1, 3, True)]})
    assert halves(southern, south=True) == ("12b", "01a")
    assert halves(season.iloc[:0]) == ()


def test_no_picks_give_windows_full_of_gaps(summaries):
    frame = windows(picks(summaries.iloc[:0]), cultivars("A", "B", checks=("A",)))
    assert frame["middle"].isna().all()
    assert frame.attrs["check"] == ""
    assert windows(picks(summaries.iloc[:0]), cultivars()).empty


def test_an_interval_rests_on_the_spread_of_all_together():
    """A's middles 195 and 205, B's 210, 220 and 230: squares 50 + 200 on three degrees of freedom, whose t is 2.3534 (any table)."""
    seen = picked(
        [
            ("A", "Hill", 2021, 195),
            ("A", "River", 2021, 205),
            *(("B", "Hill", 2020 + n, 210 + 10 * n) for n in range(3)),
        ]
    )
    frame = windows(seen, cultivars("A", "B"))
    se = np.sqrt(250 / 3) / np.sqrt([2, 3])
    np.testing.assert_allclose(frame["se"], se)
    np.testing.assert_allclose(frame["low"], [200, 220] - 2.3534 * se, rtol=1e-5)
    np.testing.assert_allclose(frame["high"], [200, 220] + 2.3534 * se, rtol=1e-5)
    assert frame["sites"].tolist() == [2, 1]
    assert frame["seasons"].tolist() == [1, 3]
    assert set(frame["method"]) == {"raw averages"}


def test_a_row_without_day_or_name_is_no_pick_and_a_stranger_has_no_window():
    days = pd.DataFrame(
        [
            ("A", "Hill", 2021, 190.0),
            ("A", "Hill", 2021, np.nan),
            (None, "Hill", 2021, 150.0),
            ("X", "Hill", 2021, 140.0),
        ],
        columns=["cultivar", "site", "season", "day"],
    )
    frame = windows(picks(days), cultivars("A", checks=("A",)))
    assert frame.loc["A", ["first", "middle", "last", "from_check"]].tolist() == [190, 190, 190, 0]
    assert main_check(picks(days), pd.DataFrame(index=["A"])) == ""


def test_days_without_a_pick_are_those_between_windows():
    """Windows 190–195.4 and 199.6–203: day 195 still, day 200 first; of a season that begins at 188."""
    season = pd.DataFrame({"first": [190.0, 199.6], "last": [195.4, 203.0]})
    assert days_without(season, (188.4, 205.0)) == [(188.0, 189.0), (196.0, 199.0), (204.0, 205.0)]
    assert days_without(season, (190.0, 195.0)) == []
    assert season_of(season) == (190.0, 203.0)
    assert np.isnan(season_of(season.iloc[:0])).all()


@pytest.mark.parametrize(("last", "count"), [(180.5, 1), (181.4, 1), (181.5, 2)])
def test_a_half_month_is_offered_when_a_rounded_day_lies_in_it(last, count):
    """Day 181 is 30 June."""
    assert len(halves(pd.DataFrame({"first": [170.0], "last": [last]}))) == count
    assert len(halves(pd.DataFrame({"first": [363.0 - last], "last": [363.0 - last]}))) == 1
