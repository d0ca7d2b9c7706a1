"""Gaps and weeks in words: whose cover, what would close it, and nothing that cannot be said."""

from __future__ import annotations

import json
import re

import pytest

from dashboard.answers.question import Question
from dashboard.charts import style
from dashboard.charts.weeks import NOT_GROWN
from dashboard.page.parts.elements import RowTable
from dashboard.page.tabs.by_class import CHANCE, GAP, NONE_COUNTS, PUT_FIRST, candidates_view, classes
from dashboard.page.tabs.closers import MOST, closers_view, gaps_told
from dashboard.page.tabs.my_slate import told
from dashboard.page.tabs.season import season
from dashboard.ripening import day_label
from dashboard.ripening.days import day_key
from dashboard.visit.state import State
from dashboard.wording.figures import chance
from dashboard.wording.filling import BOTH
from dashboard.wording.lists import droppable_told
from tests.page.conftest import said
from tests.pressing import press

LIST = ("Aldrum", "Brovet", "Grimusko")


@pytest.fixture(scope="module")
def asked(demo) -> Question:
    return Question(demo, shortlist=LIST, market="roadside_stand")


def test_it_is_said_whose_cover_it_is(demo, asked):
    assert "my slate" in gaps_told(asked)
    assert "3 cultivars" in gaps_told(asked)
    assert "all that pass your filters</b>" in gaps_told(Question(demo))
    assert "all that pass your filters and qualify, or may" in gaps_told(
        Question(demo, market="roadside_stand")
    )
    out = Question(demo, shortlist=LIST, market="long_distance_shipper")
    missing = [name for name in LIST if out.fit["verdict"][name] == "misses"]
    assert missing
    assert f"{len(missing)} of 3 miss" in gaps_told(out)
    assert not set(missing) & set(out.cover.names)  # and they cover nothing
    assert "at least 2 of them are being picked" in gaps_told(Question(demo, least=2))


def test_the_shortlist_says_where_it_is_thinnest_and_what_of_it_misses_a_limit(demo):
    state = State(demo, f"?v=1&tab=shortlist&shortlist={','.join(LIST)}&market=long_distance_shipper")
    words = str(told(state))
    out = [name for name in LIST if state.question.fit["verdict"][name] == "misses"]
    assert out
    assert all(name in words.partition("covers no day")[2] for name in out)
    state.choose(market="roadside_stand", certainty=6)
    words = str(told(state))
    cover = state.question.cover
    bare = {
        day_label(day): chance for day, chance in zip(cover.days, cover.chance, strict=True) if chance < 0.6
    }
    day, most = re.search(r"Nearest to being covered: (.*?), fruit in (\d+) of 100 years", words).groups()
    assert bare[day] == max(bare.values())
    assert abs(100 * bare[day] - int(most)) <= 1
    assert "thinnest" not in words
    good = cover.days[cover.covered]
    state.choose(opens=day_key(good[0], False), closes=day_key(good[0] + 1, False))
    day, least = re.search(r"thinnest on (.*?): fruit in (\d+) of 100 years", str(told(state))).groups()
    chance = state.question.cover.chance
    assert (day, int(least)) == (day_label(good[chance.argmin()]), round(100 * chance.min()))
    state.choose(market="", shortlist=())
    assert "thinnest" not in told(state)


def test_whose_loss_would_hurt_most_is_named(asked):
    assert f"<b>{asked.cover.losses.index[0]}</b>" in gaps_told(asked)


def test_each_gap_has_its_closers_best_first(asked):
    rows = closers_view(asked)["rows"]
    starts = [row for row in rows if row["cells"][0]]
    assert len(starts) == len(asked.closers) >= 1
    for (gap, closers), row in zip(asked.closers, starts, strict=True):
        assert row["cells"][0].startswith(day_label(gap.first))
        if len(closers):
            assert row["name"] == closers.index[0]
    assert len(rows) <= MOST * len(starts)
    assert not {row["name"] for row in rows} & set(LIST)


def test_a_wanted_half_month_bounds_the_cover(demo):
    cover = Question(demo, shortlist=LIST, ripening=("07a", "07b")).cover
    assert (cover.span, day_label(cover.span[0]), day_label(cover.span[1])) == (
        (182.0, 212.0),
        "Jul 1",
        "Jul 31",
    )


def test_a_closer_put_on_the_shortlist_draws_the_cover_anew(demo):
    state = State(demo, "?v=1&tab=season&shortlist=Aldrum")
    layout = season(state)
    (closers,) = layout.select(RowTable)
    before, name = state.question.cover.chance.sum(), closers_view(state.question)["rows"][0]["name"]
    press(closers, {"keep": name})
    assert state.shortlist == ("Aldrum", name)
    assert state.question.cover.chance.sum() > before
    press(closers, {"keep": "no such cultivar"})
    assert state.shortlist == ("Aldrum", name)
    press(closers, {"open": name})
    assert (state.tab, state.cultivar) == ("cultivar", name)


def test_a_box_of_the_weeks_opens_its_candidates(demo):
    state = State(demo, "?v=1&tab=classes&market=regional_wholesale")
    layout = classes(state)
    (table,) = layout.select(RowTable)
    grid = state.question.class_weeks
    cell = len(grid.starts) // 2
    assert candidates_view(state.question, grid.classes[0], grid.starts[cell])["title"].startswith(
        f"{grid.classes[0]}, {day_label(grid.starts[cell])}"
    )
    figure = next(
        pane.object
        for pane in layout.select()
        if hasattr(pane, "object") and hasattr(pane.object, "renderers")
    )
    boxes = figure.renderers[0].data_source
    boxes.selected.indices = [cell]
    assert day_label(grid.starts[cell]) in table.told
    boxes.selected.indices = []  # pressed once more
    assert boxes.selected.indices == [cell]
    state.choose(opens="07-01", closes="08-31")
    now = state.question.class_weeks
    (framed,) = boxes.selected.indices  # of the box that is told of, not of the question before
    assert day_label(now.starts[framed % len(now.starts)]) in json.loads(table.told)["title"]
    assert now.classes[framed // len(now.starts)] in json.loads(table.told)["title"]
    assert all(
        not text
        for text, told in zip(boxes.data["count"], boxes.data["told"], strict=True)
        if NOT_GROWN in told
    )
    assert "What could be dropped" in said(layout)


def test_by_class_has_a_key_and_says_of_what_a_chance_is_and_why_one_does_not_count(demo):
    state = State(demo, "?v=1&tab=classes&market=regional_wholesale&year=any&status=released")
    told = said(classes(state))
    for shade in (*style.GAPS, style.SHADES[0], style.SHADES[-1], style.WASH):
        assert f"background: {shade}" in told
    assert "a gap: fruit every day in fewer than 8 years in 10" in told
    asked = state.question
    grid, reasons = asked.class_weeks, {}
    for kind in grid.classes:
        for start in grid.starts:
            view = candidates_view(asked, kind, start)
            heads = [column["label"] for column in view["columns"]]
            for row in view["rows"]:
                reasons[row["name"]] = row["cells"][heads.index("Counts in the box")]
    assert {CHANCE, BOTH.label} <= set(heads)
    parts = [
        grid.candidates(kind, start)[row["name"]] * asked.fit["clears"][row["name"]] for row in view["rows"]
    ]
    assert [row["cells"][heads.index(BOTH.label)] for row in view["rows"]] == [chance(part) for part in parts]
    assert parts == sorted(parts, reverse=True)
    for name, why in reasons.items():
        if why == "yes":
            assert asked.fit["taken"][name]
            assert asked.passes[demo.cultivars.index.get_loc(name)]
        elif asked.fit["taken"][name]:
            assert why == "no: does not pass your filters"
            assert demo.cultivars.at[name, "status"] != "released"
        else:
            assert why in ("no: misses Regional wholesale", "no: not known for Regional wholesale")
    assert {"yes", "no: does not pass your filters", "no: misses Regional wholesale"} <= set(reasons.values())
    state.choose(weeks_of="slate")
    every = candidates_view(state.question, grid.classes[0], grid.starts[len(grid.starts) // 2])
    assert {row["cells"][heads.index("Counts in the box")] for row in every["rows"]} == {
        "no: not on my slate"
    }


@pytest.mark.parametrize("market", ["", "regional_wholesale"])
def test_the_rows_of_a_box_go_by_the_chance_for_both_and_a_red_one_says_who_is_in_it_already(demo, market):
    asked = State(demo, f"?v=1&tab=classes&market={market}&year=any").question
    grid, said = asked.class_weeks, set()
    for row, kind in enumerate(grid.classes[:4]):
        for at, start in enumerate(grid.starts):
            found, title = grid.candidates(kind, start), candidates_view(asked, kind, start)["title"]
            order = found * asked.fit["clears"][found.index] if market else found
            order = order.sort_values(ascending=False, kind="stable").index
            assert [one["name"] for one in candidates_view(asked, kind, start)["rows"]] == list(order[:12])
            gap = bool(grid.grown[row, at]) and grid.chance[row, at] < grid.covers[kind].wanted
            inside = len(set(grid.covers[kind].names) & set(found.index))
            told = (GAP.format(count=inside) if inside else NONE_COUNTS) if gap else ""
            assert title.partition(". ")[2] == told
            said.add(told.replace(str(inside), "#"))
    assert len(said) >= 2


def test_what_could_be_dropped_is_told_in_one_way_on_every_tab(demo):
    """Of which list, days and certainty it is so stands in the sentence; by class and season say what my slate says."""
    state = State(demo, "?v=1&tab=classes&year=any&market=roadside_stand&opens=06-10&closes=08-31")
    layout = classes(state)
    assert PUT_FIRST in said(layout)
    state.choose(shortlist=tuple(state.question.ranking.index[:12]))
    (told,) = droppable_told(state.question)
    assert told.startswith(
        "Could be dropped without a new gap, of the 12 on my slate (Jun 10 to Aug 31, fruit in 8 years in 10)"
    )
    assert told in said(layout)
    assert told in gaps_told(state.question)


def test_where_there_is_no_model_that_is_said(catalogue):
    if catalogue.ripening.refused:
        state = State(catalogue, "?v=1&tab=classes")
        assert catalogue.ripening.refused in said(classes(state))
        assert catalogue.ripening.refused in gaps_told(state.question)
