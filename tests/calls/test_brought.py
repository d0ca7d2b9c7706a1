"""What a notebook brings along is asked for like anything else, on the page too, and leaves the records as they were."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import panel as pn
import pytest

from dashboard import AskError, Records, show
from dashboard.answers import standing
from dashboard.answers.filters import untold
from dashboard.answers.question import Question
from dashboard.calls import pictures
from dashboard.calls.resting import evidence
from dashboard.market.statements import stated, statements
from dashboard.page import app
from dashboard.page.frame.filters import filters
from dashboard.page.frame.market import MarketEditor
from dashboard.page.parts.elements import ChoiceBoxes
from dashboard.page.parts.making import made
from dashboard.page.tabs.differing import differing
from dashboard.page.tabs.side_by_side_grid import grid
from dashboard.page.tabs.side_by_side_table import table_view
from dashboard.slate import rows
from dashboard.visit.state import State
from tests.calls.told import fault_of
from tests.pressing import press

FORMULA = "sugar / firmness"
MINE = {
    "name": "Ripe and sweet",
    "limit": [{"trait": "sugar to firmness", "at_least": 0.6}],
    "wish": [{"trait": "sugar_to_firmness", "shape": "larger", "from": 0.4, "to": 2}],
}
TABLE = pd.DataFrame(
    {
        "Cultivar": ["aldermere", "Briskwell", "Candover", "Dunmarrow", "Nobody", "Elmswort"],
        "virus tested": [True, False, True, None, True, True],
        "days to root": [20, 25, 30, np.nan, 10, 10],
        "Note of mine": ["=1+1", "b", "c", "d", "e", "f"],
    }
)


@pytest.fixture(scope="module")
def brought(catalogue) -> Records:
    """A trait and a table beside the records of twelve cultivars."""
    return Records(catalogue).with_trait("sugar to firmness", FORMULA).with_table(TABLE, filters=["virus tested", ("days to root", "at most")])  # fmt: skip


def test_a_trait_of_one_s_own_is_ranked_by_as_by_any_other(brought: Records, catalogue):
    ask = brought.ask(MINE)
    told, alone = ask.ranking("sugar to firmness"), Records(catalogue).derive("sugar to firmness", FORMULA)
    np.testing.assert_allclose(told["sugar_to_firmness"], alone["sugar_to_firmness"].reindex(told.index))
    np.testing.assert_allclose(
        told["sugar_to_firmness_low"], alone["sugar_to_firmness_low"].reindex(told.index)
    )
    assert told["chance_pct"].dropna().between(0, 100).all()
    sure = told[told["sugar_to_firmness_low"] > 0.6]  # the whole interval clears the limit
    assert (sure["chance_pct"].dropna() > 90).all()
    assert set(told["verdict"]) >= {"qualifies"}
    assert "sugar to firmness" in ask.why(told.index[0])["asks"].iloc[1]
    assert ask.stand_ins(told.index[0]) is not None
    assert "sugar_to_firmness" in brought.estimates("Sugar to firmness").columns


def test_a_trait_of_one_s_own_stands_side_by_side_with_its_doubt(brought: Records):
    """In the notebook, in the grid and the table of the page, and among what is looked at before anything is called sure."""
    names = ("Aldermere", "Candover", "Briskwell")
    told = brought.ask().compare(*names)
    assert {"sugar_to_firmness", "sugar_to_firmness_low", "sugar_to_firmness_high"} <= set(told.columns)
    worth = brought.estimates("sugar to firmness")["sugar_to_firmness"]
    pd.testing.assert_series_equal(told["sugar_to_firmness"], worth.reindex(list(names)), check_names=False)
    asked = Question(brought.catalogue, beside=names)
    found = asked.side_by_side
    assert "sugar_to_firmness" in {one.trait for one in found.differences} | {t for all_of in found.refused.values() for t in all_of}  # fmt: skip
    assert "Sugar to firmness" in grid(asked)
    assert [row["cells"][0] for row in table_view(asked)["rows"]].count("Sugar to firmness") == 1
    chosen = replace(asked, columns=("sugar_to_firmness",))
    assert [row["cells"][0] for row in table_view(chosen)["rows"]].count("Sugar to firmness") == 1
    assert differing(asked)


def test_measured_figures_stay_exactly_as_they_were(brought: Records, catalogue):
    before, after = (one.ask("Packer").ranking() for one in (Records(catalogue), brought))
    pd.testing.assert_frame_equal(before, after)
    assert not Records(catalogue).catalogue.own_traits
    assert "sugar_to_firmness" not in catalogue.summaries


def test_the_same_asked_twice_is_the_same_catalogue(catalogue):
    known = Records(catalogue)
    assert known.with_trait("mine", FORMULA).catalogue is known.with_trait("mine", f" {FORMULA}  ").catalogue
    assert known.with_table(TABLE).catalogue is known.with_table(TABLE.copy()).catalogue
    market = MINE | {"limit": []} | {"wish": [{"trait": "sugar", "shape": "larger", "from": 9, "to": 14}]}
    assert known.with_market(market).catalogue is known.with_market({**market}).catalogue
    twice = known.with_trait("mine", FORMULA).with_trait("mine", "sugar * 2")
    assert twice.catalogue.own_traits == ("mine",)  # a cell that is run again


def test_a_table_s_columns_are_asked_for_by_their_names(brought: Records):
    every = set(brought.ask().ranking().index)
    tested = set(brought.ask(virus_tested="yes").ranking().index)
    assert tested == {"Aldermere", "Candover"}
    assert set(brought.ask(virus_tested=True, days_to_root=20).ranking().index) == {"Aldermere"}
    assert (
        brought.ask(days_to_root=[20, 25])
        .ranking()
        .index.equals(brought.ask(days_to_root=25).ranking().index)
    )
    assert set(brought.ask(virus_tested=["yes", "no"], days_to_root=25.5).ranking().index) == {
        "Aldermere",
        "Briskwell",
    }
    ask = brought.ask(virus_tested="yes").but(days_to_root=20)
    assert ask.but(virus_tested=None).question.noted == ("days to root: at most 20",)
    assert ask.but(virus_tested=None, days_to_root=None).ranking().index.isin(every).all()
    assert "virus tested yes, days to root at most 20" in ask.told
    (note,) = untold(brought.catalogue, brought.ask(days_to_root=20).question.filters).values()
    assert f"{note} left out: not recorded" in " ".join(evidence(brought.ask(days_to_root=20).question))
    shown = brought.ask().ranking(["virus tested", "days to root", "Note of mine"])
    assert shown.loc["Candover", ["virus_tested", "days_to_root", "Note_of_mine"]].tolist() == [
        "yes",
        30.0,
        "c",
    ]
    assert brought.problems[-1].startswith("2 rows of your own table left out")
    assert "'Elmswort' (did you mean Elmsworth?)" in brought.problems[-1]


def test_the_page_has_boxes_columns_and_markets_of_one_s_own(brought: Records):
    app.prepare()
    page = show(brought.with_market(MINE).ask(MINE, virus_tested="yes"))
    groups = [group for boxes in page.select(ChoiceBoxes) for group in boxes.groups]
    labels = {group["label"]: [one["label"] for one in group["options"]] for group in groups}
    assert labels["Virus tested"] == ["no", "yes", "not recorded"]
    assert labels["Days to root"] == ["at most 20", "at most 25"]
    assert {"Sugar to firmness", "Virus tested", "Days to root", "Note of mine"} <= set(labels["Columns"])
    assert "Ripe and sweet" in labels["Who do you sell to?"]
    (editor,) = page.select(MarketEditor)
    assert "Sugar to firmness" in editor.told


def test_boxes_of_two_lists_are_asked_for_together_and_travel_in_the_link(brought: Records):
    state = State(brought.catalogue, "?v=1")
    boxes = pn.Column(*filters(state)).select(ChoiceBoxes)[1]
    press(boxes, {"field": "noted", "chosen": ["virus tested: yes", "days to root: at most 25"]})
    assert state.noted == ("virus tested: yes", "days to root: at most 25")
    assert list(state.question.ranking.index) == ["Aldermere"]
    again = State(brought.catalogue, state.link)
    assert (again.question, again.notices) == (state.question, ())
    other = State(brought.catalogue, "?v=1&noted=days+to+root:+at+most+22.5,virus+tested:+maybe")
    assert other.noted == ("days to root: at most 22.5",)
    assert "maybe" in other.notices[0]
    lost = State(Records(brought.catalogue).with_table(TABLE[["Cultivar", "virus tested"]]).catalogue, "?v=1")
    lost.choose(noted=("virus tested: yes", "nothing: yes"))
    assert lost.noted == ("virus tested: yes",)


def test_what_empties_the_list_is_taken_off_alone(brought: Records):
    state = State(brought.catalogue, "?v=1")
    state.choose(noted=("virus tested: no", "days to root: at most 20"))
    emptied = state.question.emptied
    assert emptied.offer.startswith(
        "Take off virus tested no: 1 left"
    )  # both would leave one: the first that was asked
    assert emptied.relaxed == ("days to root: at most 20",)
    state.choose(noted=emptied.relaxed)
    assert len(state.question.ranking) == emptied.would_leave > 0


def test_an_own_market_s_lines_are_read_where_its_trait_is_known(brought: Records, catalogue):
    own = statements(brought.ask(MINE).question.profile)
    assert own[0] == "sugar_to_firmness at_least 0.6"
    assert stated(own, own=brought.catalogue.own_traits).limits[0].key == "sugar_to_firmness"
    state = State(brought.catalogue, f"?v=1&own={own[0].replace(' ', '+')}")
    assert (state.own, state.notices) == (own[:1], ())
    assert standing.profile(brought.catalogue, "", own).wishes
    elsewhere = State(catalogue, f"?v=1&own={own[0].replace(' ', '+')}")
    assert elsewhere.own == ()
    assert "sugar_to_firmness" in elsewhere.notices[0]


def test_paper_files_and_slate_know_them(brought: Records):
    asked = replace(brought.ask(MINE, virus_tested="yes").question, columns=("sugar_to_firmness", "virus tested", "Note of mine"), shortlist=("Aldermere",))  # fmt: skip
    text = made(asked, "orchard-slate-ranking.csv").decode("utf-8")
    assert "Sugar to firmness" in text
    assert "'=1+1" in text  # a spreadsheet works nothing out
    groups = [group for group in rows.groups(replace(asked, noted=())) if group["field"].startswith("noted")]
    assert [group["field"] for group in groups] == ["noted", "noted-2"]  # each must be passed
    assert pictures.calendar(asked, asked.ranking) is not None


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda known: known.with_table(3), "not 3"), (lambda known: known.with_table("none.csv"), "cannot be read"), (lambda known: known.with_table("x.xls"), "is a .csv file"),
        (lambda known: known.with_table(pd.DataFrame({"cultivr": ["a"], "b": [1]})), "is it 'cultivr'?"), (lambda known: known.with_table(pd.DataFrame({"cultivar": ["Zzz"], "b": [1]})), "No row"),
        (lambda known: known.with_table(pd.DataFrame({"cultivar": ["Aldermere"]})), "is empty"), (lambda known: known.with_table(pd.DataFrame()), "no column cultivar"),
        (lambda known: known.with_table(pd.DataFrame({"cultivar": ["Aldermere"] * 2, "b": [1, 2]})), "twice"), (lambda known: known.with_table(pd.DataFrame({"cultivar": ["Aldermere"], "Pit": ["x"]})), "stands for something else"),
        (lambda known: known.with_table(pd.DataFrame([["Aldermere", 1, 2]], columns=["cultivar", "b", "b"])), "two columns 'b'"), (lambda known: known.with_table(pd.DataFrame({"cultivar": ["Aldermere"], "<b>": [1]})), "letters, digits and spaces"),
        (lambda known: known.with_table(TABLE, filters=["virus testd"]), "did you mean 'virus tested'?"), (lambda known: known.with_table(TABLE, filters=["days to root"]), '("days to root", "at most")'),
        (lambda known: known.with_table(TABLE, filters=[("virus tested", "at most")]), 'write "virus tested"'), (lambda known: known.with_table(TABLE, filters=[("days to root", "up to")]), "there are 'at most'"), (lambda known: known.with_table(TABLE, filters=3), "not as 3"),
        (lambda known: known.with_table(pd.DataFrame({"cultivar": ["Aldermere"], **{f"c{at}": [1] for at in range(60)}})), "at most 40 columns"),
        (lambda known: known.with_trait("score", "sugar"), "stands for something else"), (lambda known: known.with_trait("season", "sugar"), "stands for something else"), (lambda known: known.with_trait("mine", "suger"), "did you mean 'sugar'?"),
        (lambda known: known.with_trait("mine", "sugar", units="imperial"), "'us', 'si'"), (lambda known: known.with_market(""), "Give the market"), (lambda known: known.with_market(4), "not 4"), (lambda known: known.with_market({"name": "x"}), "no limit and no wish"),
        (lambda known: known.ask(MINE), "not one of size"), (lambda known: known.ask(virus_tested="yes"), "no choice 'virus_tested'"),
    ],
)  # fmt: skip
def test_what_cannot_be_brought_is_told_in_one_sentence(catalogue, call, told: str):
    assert told in fault_of(lambda: call(Records(catalogue)))


@pytest.mark.parametrize(
    ("asked", "told"),
    [({"virus_tested": "maybe"}, "there are 'no', 'yes', 'not recorded'"), ({"virus_tested": 3}, "not as 3"), ({"virus_testd": "yes"}, "did you mean 'virus_tested'?"),
     ({"days_to_root": "many"}, "is a number, not 'many'"), ({"days_to_root": float("inf")}, "is a number"), ({"days_to_root": True}, "is a number"),
     ({"market": MINE | {"limit": [{"trait": "sugar to firmness", "at_least": 1, "unit": "mm"}]}}, "leave unit out"), ({"market": MINE | {"limit": [{"trait": "sugar to firmness", "at_least": 1, "share": 0.5}]}}, "leave share out")],
)  # fmt: skip
def test_an_answer_of_a_table_that_is_not_there_is_told(brought: Records, asked, told: str):
    assert told in fault_of(lambda: brought.ask(**asked))


def test_a_table_of_a_file_and_a_negative_limit(catalogue, tmp_path):
    TABLE.to_csv(tmp_path / "mine.csv", index=False)
    known = Records(catalogue).with_table(tmp_path / "mine.csv")
    assert set(known.ask(virus_tested="yes").ranking().index) == {"Aldermere", "Candover"}
    (tmp_path / "odd.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(AskError, match="UTF-8"):
        known.with_table(tmp_path / "odd.csv")
    less = known.with_trait("less firm", "-firmness").ask(
        {"name": "Soft", "limit": [{"trait": "less firm", "at_least": -12}]}
    )
    assert (less.ranking("less firm")["less_firm"].dropna() < 0).all()
