"""Bars and cover as they are drawn: days at their place, and in or out told without colour."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.answers.question import Question
from dashboard.charts import style
from dashboard.handout import timeline
from dashboard.handout.picking import coming, on_record
from dashboard.handout.season_page import windows_here
from dashboard.handout.timeline import Bar, Days
from dashboard.ripening import day_of


class Seen:
    """Notes what would be drawn."""

    def __init__(self):
        self.boxes, self.lines, self.texts = [], [], []

    def box(self, x, y, width, height, fill=None, edge=None):
        self.boxes.append((x, y, width, height, fill, edge))

    def line(self, x, y, to_x, to_y, width=0.6, colour="", dashed=False):
        self.lines.append((x, y, to_x, to_y))

    def write(self, x, y, text, *_args, **_options):
        self.texts.append(text)

    def leads(self, *_where):
        pass


@pytest.fixture
def seen() -> Seen:
    return Seen()


def test_a_day_stands_where_it_belongs():
    """By hand: 100 days over 200 points are two points a day."""
    days = Days((100.0, 200.0), 50.0, 200.0)
    assert [days.at(day) for day in (100, 150, 200)] == [50.0, 150.0, 250.0]
    assert [days.at(day) for day in (0, 900)] == [50.0, 250.0]


def test_a_span_goes_a_little_beyond_its_days():
    assert timeline.span_of([180.0, np.nan, 200.0]) == (176.0, 204.0)
    low, high = timeline.span_of([np.nan])
    assert low < high


def test_a_bar_runs_from_the_first_to_the_last_day_and_is_white_where_it_misses_a_limit(seen):
    rows = [
        Bar("In", 110, 119, 105, 125, "then", True),
        Bar("Out", 110, 119, 105, 125, "then", False),
        Bar("Never", np.nan, np.nan),
    ]
    timeline.bars(seen, rows, 0.0, 0.0, 300.0, 10.0, (100.0, 200.0), False, 50.0, 50.0)
    (inside, outside) = seen.boxes
    assert inside[4:] == (style.INK, style.INK)
    assert outside[4:] == (style.PAPER, style.INK)
    assert inside[0] == pytest.approx(50 + 2 * 9.5)  # from half a day before the first day
    assert inside[2] == pytest.approx(2 * 10)  # ten days are picked
    assert (60.0, 17.0, 100.0, 17.0) in [tuple(map(float, line)) for line in seen.lines]
    assert {"In", "Out", "Never", "then"} <= set(seen.texts)


def test_months_are_named_at_their_first_day(seen):
    timeline.months(seen, Days((day_of(6, 20), day_of(8, 10)), 0.0, 300.0), 0.0, 10.0, False)
    assert [text for text in seen.texts if text.endswith(" 1")] == ["Jul 1", "Aug 1"]


def test_a_short_stretch_is_dated_too(seen):
    timeline.months(seen, Days((day_of(7, 16), day_of(7, 28)), 0.0, 300.0), 0.0, 10.0, False)
    assert seen.texts == ["Jul 18", "Jul 22", "Jul 25"]


def test_every_gap_is_hatched_and_the_chance_is_as_high_as_it_is(seen, demo):
    cover = Question(demo, shortlist=("Zelmor", "Trenirrin"), certainty=6).cover
    assert len(cover.gaps) >= 1
    span = (cover.span[0] - 1, cover.span[1] + 1)
    timeline.cover(seen, cover, 0.0, 0.0, 500.0, 112.0, span, False, 60.0, 40.0)
    frames = [box for box in seen.boxes if box[4] is None and box[5] == style.INK]
    days = Days(span, 60.0, 400.0)
    assert [(round(box[0], 6), round(box[0] + box[2], 6)) for box in frames] == [
        (round(days.at(gap.first - 0.5), 6), round(days.at(gap.last + 0.5), 6)) for gap in cover.gaps
    ]
    heights = [box[3] for box in seen.boxes[: len(cover.days)]]
    np.testing.assert_allclose(heights, 100.0 * cover.chance, atol=1e-9)
    assert "gap" in seen.texts


def test_windows_are_those_of_the_kind_of_season(demo):
    asked = Question(demo, cultivar="Trenirrin", site="maravel", shortlist=("Trenirrin",))
    for bar, kind in zip(coming(asked), ("early", "ordinary", "late"), strict=True):
        expected = demo.ripening.windows("maravel", kind).loc["Trenirrin"]
        assert (bar.first, bar.last) == (expected["first"], expected["last"])
        assert (bar.low, bar.high) == (expected["first_low"], expected["last_high"])
    late = windows_here(Question(demo, shortlist=("Trenirrin",), season_kind="late"))
    assert late.loc["Trenirrin", "first"] == demo.ripening.windows("", "late").loc["Trenirrin", "first"]


def test_the_newest_picks_are_drawn(demo):
    asked = Question(demo, cultivar="Aldrum")
    own = demo.picks[demo.picks["cultivar"] == "Aldrum"].sort_values(["season", "site"])
    drawn = on_record(asked)
    assert [(bar.first, bar.last) for bar in drawn] == list(
        zip(own["first"].tail(8), own["last"].tail(8), strict=True)
    )
    assert drawn[-1].label.startswith(str(own["season"].max()))
