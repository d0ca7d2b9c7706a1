"""The ranked table says what it is sorted by."""

from __future__ import annotations

import json

import panel as pn
import pytest

from dashboard.page.parts.elements import RowTable
from dashboard.page.tabs.candidates import candidates
from dashboard.page.tabs.ranking import first_line, ranking
from dashboard.visit.state import State
from tests.pressing import press


@pytest.fixture
def table(demo):
    state = State(demo, "?v=1&market=roadside_stand")
    (table,) = ranking(state).select(RowTable)
    return state, table


def title(table) -> str:
    return json.loads(table.told)["title"]


def test_it_begins_by_the_score(table):
    assert "those that qualify first, then those that may, each by the score" in title(table[1])


def test_a_column_sorted_by_hand_is_told_with_its_heading_and_which_way(table):
    _, rows = table
    for key, told in (
        ("size", "by “Size (in)”, the highest first"), ("size", "by “Size (in)”, the lowest first"),
        ("first", "by “Usually picked”, the earliest first"), ("first", "by “Usually picked”, the latest first"),
        ("name", "by “Cultivar”, from A to Z"), ("name", "by “Cultivar”, from Z to A"),
        ("rests", "by “Seasons”, the most seasons first"), ("rests", "by “Seasons”, the fewest seasons first"),
    ):  # fmt: skip
        press(rows, {"sort": key})
        assert told in title(rows)
        assert "by the score" not in title(rows)


def test_it_stays_sorted_by_hand_and_says_so_whatever_is_asked_next(table):
    state, rows = table
    press(rows, {"sort": "sugar"})
    state.choose(market="regional_wholesale", units="si", flesh_colour=("white",))
    assert (
        "those that qualify first, then those that may, each by “Sugar (°Brix)”, the highest first"
        in title(rows)
    )
    state.choose(market="")
    assert "by “Sugar (°Brix)”, the highest first" in title(rows)
    assert "clear every limit" not in title(rows)


def test_a_column_that_was_chosen_is_shown_and_sorted_by(table):
    state, rows = table
    state.choose(columns=("bacterial_spot", "no such column"))
    assert state.question.columns == ("bacterial_spot",)
    assert "&columns=bacterial_spot" in state.link
    told = json.loads(rows.told)
    assert told["columns"][-1]["label"] == "Bacterial spot (0 none to 5)"
    rows._handle_msg({"sort": "bacterial_spot"})
    assert "by “Bacterial spot (0 none to 5)”, the least first" in title(rows)
    spots = [row["cells"][-1] for row in json.loads(rows.told)["rows"]]
    assert spots == sorted(spots)
    state.choose(columns=())
    assert "by the score" in title(rows)


def test_a_column_that_is_gone_sorts_nothing(table):
    state, rows = table
    press(rows, {"sort": "stands"})
    state.choose(market="")
    told = json.loads(rows.told)
    assert "by name" in told["title"]
    assert told["sort"] is None
    names = [row["name"] for row in told["rows"]]
    assert names == sorted(names)


def test_the_line_over_it_tells_how_many_qualify_of_how_many_and_what_comes_first(table):
    state, _ = table
    count, left = state.question.own_count, int(state.question.passes.sum())
    told = first_line(state.question, None).striptags()
    assert told == (
        f"{count.qualify} qualify for Roadside stand {count.may} more may · of {left} that pass the filters · best first"
    )
    assert "by “Size (in)”, the highest first" in first_line(state.question, ("size", False))
    state.choose(market="")
    assert first_line(state.question, None).striptags().startswith("355 pass the filters")


def drawn(told: dict, key: str) -> tuple[dict, list]:
    """A column's head, and its cell of each row."""
    (at,) = [at for at, head in enumerate(told["columns"]) if head["key"] == key]
    return told["columns"][at], [row["cells"][at] for row in told["rows"]]


def test_figures_are_drawn_on_one_axis_whatever_the_filters(table):
    """By hand: a cultivar keeps its place on the axis when others go, and who is larger stands further right."""
    state, rows = table
    before, cells = drawn(json.loads(rows.told), "size")
    order = sorted(cells, key=lambda cell: cell[2])
    assert [float(cell[1]) for cell in order] == sorted(float(cell[1]) for cell in cells)
    names = [row["name"] for row in json.loads(rows.told)["rows"]]
    state.choose(fruit_type=("nectarine",))
    after, left = drawn(json.loads(rows.told), "size")
    assert after["limits"] == before["limits"]
    kept = dict(zip([row["name"] for row in json.loads(rows.told)["rows"]], left, strict=True))
    both = set(names) & set(kept)
    assert both
    assert all(kept[name] == cells[names.index(name)] for name in both)


def test_the_limit_stands_where_the_market_s_mean_does(table):
    """The picture's own limit, by the same rule: between those below it and those above."""
    state, rows = table
    head, _ = drawn(json.loads(rows.told), "sugar")
    least, most = head["limits"]
    bound, none = state.question.bounds["sugar"]
    assert (none, most) == (None, None)
    assert 0 < least < 1
    for row in json.loads(rows.told)["rows"]:
        at = drawn({"columns": json.loads(rows.told)["columns"], "rows": [row]}, "sugar")[1][0][2]
        assert (at > least) == (state.question.ranking.at[row["name"], "sugar"] > bound)


def test_picking_is_drawn_on_the_selling_days_over_the_slate_s_gaps(table):
    """By hand: 10 selling days of which one may be covered; a day is a tenth of the axis and lasts until the next."""
    state, rows = table
    assert json.loads(rows.told)["gaps"] == "none"  # no slate has none
    state.choose(opens="08-01", closes="08-10", shortlist=("Sibbrel",))
    told = json.loads(rows.told)
    gaps = state.question.strip.rows[0].gaps
    assert told["gaps"].count("transparent") == len(gaps) + 1
    ranking, (first, last) = state.question.ranking, state.question.selling
    assert last - first == 9
    for row, cell in zip(told["rows"], drawn(told, "first")[1], strict=True):
        of = ranking.loc[row["name"]]
        assert cell[2:] == pytest.approx(
            [(of["first"] - first) / 10, (of["last"] + 1 - first) / 10], abs=6e-4
        )


def test_a_verdict_is_a_tick_a_chance_or_a_word(demo):
    state = State(demo, "?v=1&market=regional_wholesale")
    (rows,) = ranking(state).select(RowTable)
    table, seen = state.question.ranking, set()
    for page in range(1, json.loads(rows.told)["pages"] + 1):
        press(rows, {"page": page})
        told = json.loads(rows.told)
        for row, (said, short) in zip(told["rows"], drawn(told, "stands")[1], strict=True):
            verdict = table.at[row["name"], "verdict"]
            seen.add(verdict)
            assert said.startswith(verdict)
            assert (short == "✓") == (verdict == "qualifies")
            assert short.endswith(" %") == (verdict == "may qualify")
            assert verdict in ("qualifies", "may qualify") or short == verdict
    assert {"qualifies", "may qualify", "misses"} <= seen


def test_a_reason_stands_only_where_it_says_something(demo):
    """Who misses is told what; who qualifies only where less than half of a wish is met."""
    state = State(demo, "?v=1&market=regional_wholesale")
    (rows,) = ranking(state).select(RowTable)
    table, whys = state.question.ranking, {}
    for page in range(1, json.loads(rows.told)["pages"] + 1):
        press(rows, {"page": page})
        told = json.loads(rows.told)
        whys |= {cell[0]: cell[4] for cell in drawn(told, "name")[1]}
    inside = table["verdict"] == "qualifies"
    assert all(whys[name] for name in table.index[table["verdict"] == "misses"])
    told = [whys[name] for name in table.index[inside]]
    assert "" in told
    assert all(not one or one.startswith(("Weakest point", "Scores 0", "Not scored")) for one in told)


def test_pictures_are_made_when_they_are_first_asked_for(demo, prepared):
    state = State(demo, "?v=1")
    page = candidates(state)
    figures = lambda: len(page.select(pn.pane.Bokeh))  # noqa: E731
    assert figures() == 0
    state.choose(shown="pictures")
    assert figures() == 3
    assert "&shown=pictures" in state.link
    state.choose(shown="list")
    state.choose(shown="pictures")
    assert figures() == 3
