"""Each class by week against its own covers, and what would fill a week."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from dashboard.answers.class_weeks import WEEK, class_of, class_weeks
from dashboard.answers.question import Question
from dashboard.charts import style, weeks
from dashboard.handout.tables import weeks_csv
from dashboard.ripening.cover import Cover


@pytest.fixture(scope="module")
def asked(demo) -> Question:
    return Question(demo, market="regional_wholesale", status=("released",))


def test_every_cultivar_with_a_pick_is_in_one_class(demo, asked):
    grid = asked.class_weeks
    members = [name for names in grid.pool.values() for name in names]
    anyone = Question(demo, market="regional_wholesale").ranking.index
    assert sorted(members) == sorted(set(anyone) & set(demo.cultivars.index[demo.ripening.known]))
    assert set(grid.classes) == set(class_of(demo)[sorted(members)])


def test_only_what_passes_and_is_taken_by_the_market_counts(demo, asked):
    grid = asked.class_weeks
    counting = {name for cover in grid.covers.values() for name in cover.names}
    expected = asked.ranking.index[asked.ranking["taken"].to_numpy(dtype=bool)]
    assert counting == set(expected) & set(demo.cultivars.index[demo.ripening.known])


def test_a_week_counts_its_average_day_and_is_as_sure_as_its_worst(asked):
    grid = asked.class_weeks
    row, column = 0, len(grid.starts) // 2
    cover = grid.covers[grid.classes[row]]
    days = slice(WEEK * column, WEEK * column + WEEK)
    assert grid.starts[column] == cover.days[days][0]
    assert grid.count[row, column] == pytest.approx(cover.expected[days].mean())
    assert grid.chance[row, column] == cover.chance[days].min()


def test_candidates_are_of_the_class_by_the_chance_to_be_picked_that_week(asked):
    grid = asked.class_weeks
    kind, start = grid.classes[0], grid.starts[len(grid.starts) // 2]
    found = grid.candidates(kind, start)
    assert set(found.index) <= set(grid.pool[kind])
    assert found.is_monotonic_decreasing
    name = found.index[0]
    alone = Cover(grid.covers[kind].draws, (name,), (start, start + WEEK - 1))
    assert found.iloc[0] == pytest.approx(alone.chance.mean())
    assert found.iloc[0] > 0.3


def test_candidates_have_the_evidence_that_is_asked_for(demo):
    grid = Question(demo, seasons=5).class_weeks
    names = [name for pool in grid.pool.values() for name in pool]
    assert names
    assert (demo.windows.loc[names, "seasons"] >= 5).all()


def test_an_unrecorded_class_is_told_as_far_as_it_is_known(catalogue):
    told = class_of(catalogue)
    assert told["Aldermere"].startswith("yellow")
    assert not told.str.contains("not recorded ").any()


def test_without_a_model_there_are_no_weeks(catalogue):
    assert bool(catalogue.ripening.refused) == (class_weeks(catalogue, (), (), "", "ordinary", 1, 8) is None)


def test_the_weeks_come_out_as_a_table(asked):
    rows = list(csv.DictReader(io.StringIO(weeks_csv(asked).decode("utf-8-sig"))))
    grid = asked.class_weeks
    assert len(rows) == len(grid.classes) * len(grid.starts)
    counts = np.array([float(row["Being picked"]) for row in rows]).reshape(grid.count.shape)
    np.testing.assert_allclose(counts, grid.count, atol=0.006)


def test_the_boxes_count_my_slate_alone_where_that_is_asked(demo):
    listed = tuple(demo.cultivars.index[:40])
    asked = Question(
        demo, market="roadside_stand", shortlist=listed, weeks_of="slate", flesh_colour=("white",)
    )
    counted = [name for cover in asked.class_weeks.covers.values() for name in cover.names]
    known = demo.cultivars.index[demo.ripening.known]
    assert set(counted) == {name for name in listed if asked.fit["taken"][name] and name in known}
    assert len(counted) < len(listed)
    assert set(pd.read_csv(io.BytesIO(weeks_csv(asked)))["Counted"]) == {"my slate"}
    grid = replace(asked, shortlist=()).class_weeks
    assert not any(cover.names for cover in grid.covers.values())


def test_bloom_to_harvest_is_as_long_as_in_the_field(demo):
    """70 to 150 days between bloom and harvest among the cultivars of one study (Marra et al. 2002): plausibility only."""
    bloom = demo.records_tables["bloom"]
    day = pd.to_datetime(bloom["full_bloom"]).dt.day_of_year.groupby(bloom["cultivar"].astype(str)).mean()
    days = (demo.windows["middle"] - day.reindex(demo.windows.index)).dropna()
    assert len(days) > 50
    assert days.between(55, 165).mean() > 0.95


def test_a_window_is_as_long_as_pickers_say(demo):
    """Two to four picks over seven to ten days, fourteen at most (common practice, no source); picks are a week apart."""
    long = (demo.windows["last"] - demo.windows["first"]).dropna()
    assert long.between(2, 14).all()


def test_only_classes_and_weeks_asked_for_are_there(demo):
    asked = Question(demo, flesh_colour=("white",), opens="07-03", closes="08-11")
    grid = asked.class_weeks
    assert grid.classes
    assert all("white" in kind for kind in grid.classes)
    opens, closes = asked.selling
    assert grid.starts[0] == opens
    assert grid.starts[-1] <= closes < grid.starts[-1] + WEEK
    rest = int(closes - grid.starts[-1]) + 1
    assert 0 < rest < WEEK  # the last week ends with the selling days
    cover = grid.covers[grid.classes[0]]
    assert cover.span == (opens, closes)
    assert grid.chance[0, -1] == cover.chance[-rest:].min()
    halves = Question(demo, ripening=("07a", "08a")).class_weeks
    assert (halves.starts[0], halves.covers[halves.classes[0]].span[1]) == (182.0, 227.0)
    assert Question(demo, seasons=99).class_weeks.classes == ()


def test_where_nobody_of_the_class_is_ripe_is_no_gap(demo):
    """Red is a gap of the class; a week in which none of the class could be ripe is drawn neutral."""
    grid = Question(demo, market="long_distance_shipper").class_weeks
    for row, kind in enumerate(grid.classes):
        anyone = Cover(grid.covers[kind].draws, grid.pool[kind], grid.covers[kind].span).chance
        for week in range(len(grid.starts)):
            assert grid.grown[row, week] == (anyone[WEEK * week : WEEK * week + WEEK].max() >= 0.05)
    assert grid.grown.any()
    assert not grid.grown.all()
    bare = [kind for kind in grid.classes if not grid.covers[kind].names]
    assert bare  # nobody of it qualifies: red where it is grown
    row, wanted = grid.classes.index(bare[0]), grid.covers[bare[0]].wanted
    shades = {grown: weeks.colour(0.0, wanted, grown) for grown in (True, False)}
    assert shades == {True: style.GAPS[0], False: style.WASH}
    assert not grid.chance[row].any()
    assert weeks.colour(wanted, wanted, True) == style.SHADES[0]
    assert weeks.colour(wanted - 0.01, wanted, True) == style.GAPS[-1]
