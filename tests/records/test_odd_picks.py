"""Picks that the rest of the records speaks against: off the season, and of trees that did not stand."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.records.findings import Findings
from dashboard.records.odd_picks import suspect_picks
from dashboard.records.sheets import sheet_of

SITES = pd.DataFrame({"site": ["low", "high"], "latitude_deg": [45.0, 45.2]})
EARLY = {2021: 0, 2022: -10, 2023: 9}  # days by which a season is later than usual
CULTIVARS = 12


def picks(seed: int = 0) -> pd.DataFrame:
    """Three seasons at two sites, each cultivar picked twice, a week apart; a season is early or late as a whole."""
    chance = np.random.default_rng(seed)
    rows = [
        (f"C{cultivar}", site, season, 155 + 5 * cultivar + 4 * (site == "high") + moved + 7 * pick)
        for season, moved in EARLY.items() for site in SITES["site"] for cultivar in range(CULTIVARS) for pick in (0, 1)
    ]  # fmt: skip
    frame = pd.DataFrame(rows, columns=["cultivar", "site", "season", "day"])
    days = (frame["day"] + chance.normal(0, 2, len(frame))).round()
    dates = pd.to_datetime(frame["season"].astype(str) + "-01-01") + pd.to_timedelta(days - 1, unit="D")
    return frame[["cultivar", "site"]].assign(date=dates, date_precision="day")


def told(samples: pd.DataFrame, trees: pd.DataFrame | None = None, sites: pd.DataFrame = SITES) -> list:
    findings = Findings(sheet_of("samples", "samples.csv", "", [["sample"], ["S00"]], [1, 2]))
    suspect_picks(samples, sites, trees, findings)
    return findings.problems


def later(samples: pd.DataFrame, rows: list[int], months: int) -> pd.DataFrame:
    moved = samples.copy()
    moved.loc[rows, "date"] += pd.DateOffset(months=months)
    return moved


def test_early_and_late_seasons_and_early_and_late_cultivars_are_not_doubted():
    for seed in range(3):
        assert told(picks(seed)) == []
    samples = picks()
    for count in range(1, len(samples) // 3, 8):  # nor as the sheets of the newest season come in
        assert told(samples.sort_values("date").head(len(samples) - count)) == []


@pytest.mark.parametrize("months", [-1, 1])
def test_a_month_miswritten_is_told_of_nearly_every_pick_and_of_no_other(months):
    samples = picks()
    asked = samples.index[::5]
    found = {row: [problem.row for problem in told(later(samples, [row], months))] for row in asked}
    assert all(set(rows) <= {row} for row, rows in found.items())
    assert sum(rows == [row] for row, rows in found.items()) >= 0.95 * len(asked)


def test_it_says_how_far_off_and_whether_the_cultivar_was_ever_picked_in_that_month():
    samples = picks()
    first = samples.index[(samples["cultivar"] == "C0") & (samples["date"].dt.year == 2023)][0]
    (problem,) = told(later(samples, [first], 1))
    assert (problem.severity, problem.column, problem.sure) == ("flag", "date", False)  # to look at
    assert (
        "days after the day usual for “C0” in such a season, in a month it was never picked in"
        in problem.rule
    )
    middle = samples.index[(samples["cultivar"] == "C6") & (samples["date"].dt.year == 2023)][0]
    (problem,) = told(later(samples, [middle], -1))
    assert "days before the day usual for “C6” in such a season" in problem.rule
    seen = set(samples["date"][(samples["cultivar"] == "C6") & (samples["date"].dt.year < 2023)].dt.month)
    assert ("never picked" in problem.rule) == (
        later(samples, [middle], -1)["date"][middle].month not in seen
    )


def test_a_sheet_whose_day_is_wrong_as_a_whole_does_not_vouch_for_itself():
    samples = picks()
    newest = samples["date"].dt.year == 2023
    day = samples["date"][newest].min()
    sheet = samples.index[newest & (samples["date"] <= day + pd.Timedelta(days=9))]
    wrong = samples[~newest | samples.index.isin(sheet)].copy()
    wrong.loc[sheet, "date"] = day + pd.DateOffset(months=2)
    assert {problem.row for problem in told(wrong)} == set(sheet)


def test_a_cultivar_of_one_earlier_season_and_a_day_that_is_not_known_are_not_judged():
    samples = picks()
    two = samples[samples["date"].dt.year != 2021]
    row = two.index[-1]
    assert told(later(two, [row], 1)) == []
    week = later(samples, [row], 1).assign(date_precision="week")
    assert told(week) == []


def test_south_of_the_equator_a_season_runs_over_the_new_year():
    south = SITES.assign(latitude_deg=[-34.0, -34.2])
    samples = picks()
    samples["date"] += pd.Timedelta(days=184)
    assert told(samples, sites=south) == []
    row = samples.index[-1]
    assert [problem.row for problem in told(later(samples, [row], 1), sites=south)] == [row]


TREES = pd.DataFrame(
    [("C1", "low", 2010, 2021), ("C1", "low", 2010, 2022), ("C2", "low", 2022, np.nan), ("C3", "low", np.nan, np.nan),
     ("C4", "low", 2010, 2020), ("C4", "low", 2021, np.nan)],
    columns=["cultivar", "site", "planted", "removed"],
)  # fmt: skip


def test_fruit_of_trees_that_are_gone_or_not_planted_yet_is_doubted():
    """C1 is gone after 2022; C2 was planted in 2022; C3 is of no year; of C4 young trees stand; of the others, and at the other site, there
    are none on record."""
    samples = picks()
    found = told(samples, TREES)
    rows = samples.loc[[problem.row for problem in found]]
    assert {(one.cultivar, one.site, one.date.year) for one in rows.itertuples()} == {
        ("C1", "low", 2023),
        ("C2", "low", 2021),
    }
    assert len(rows) == 4
    assert {problem.rule for problem in found} == {
        "was picked in 2023, but its trees at “low” were removed by 2022",
        "was picked in 2021, but its trees at “low” were planted in 2022",
    }
    assert {(problem.severity, problem.column) for problem in found} == {("flag", "cultivar")}


def test_the_demo_has_none(demo):
    odd = ("in such a season", "but its trees at")
    assert [one.rule for one in demo.problems if any(part in one.rule for part in odd)] == []
