"""The names behind the counts: whoever qualifies, then whoever may, in the order of the ranking; one that is pressed is spoken of."""

from __future__ import annotations

import pytest

from dashboard.answers.question import Question
from dashboard.page.hall.names import NOBODY, names_told
from dashboard.ripening import day_label
from tests.page.hall.conftest import in_hall
from tests.pressing import press, told


def test_those_that_qualify_and_those_that_may_stand_there_by_rank_with_days_and_score(demo):
    asked = Question(demo, market="regional_wholesale", flesh_colour=("white",))
    found, count, ranked = names_told(asked), asked.own_count, asked.ranking
    assert f"{count.qualify} qualify, {count.may} more may" in found["title"]
    assert "white" in found["title"]
    assert found["keys"] == list(ranked.index[: count.qualify + count.may])
    sure, may = (
        [name for _, name, *_ in found["names"] if name.endswith(" ?") == asks] for asks in (False, True)
    )
    assert (len(sure), len(may)) == (count.qualify, count.may)
    for (place, name, days, score), (key, row) in zip(found["names"], ranked.iterrows(), strict=False):
        assert (place, name.removesuffix(" ?")) == (str(row["rank"]), key)
        assert days.startswith(f"{day_label(row['first'])}–")
        assert day_label(row["last"]).endswith(days.partition("–")[2])
        # One that may qualify may lack a reading that is wished for: then it has no score.
        assert score == (f"{100 * row['score']:.0f}" if row["score"] == row["score"] else "–")
    assert "may qualify" in found["said"]


def test_without_a_market_all_that_pass_stand_there_with_their_size(demo, catalogue):
    found = names_told(Question(demo, units="si"))
    assert len(found["names"]) == int(Question(demo).passes.sum())
    assert "size (mm)" in found["said"]
    for asked in (Question(catalogue), Question(catalogue, market="packer")):
        assert len(names_told(asked)["names"]) == len(names_told(asked)["keys"])


def test_where_nobody_stands_there_it_is_said(demo):
    nobody = Question(demo, own=("size at_least 200",))
    assert (names_told(nobody)["said"], names_told(nobody)["names"]) == (NOBODY, [])
    emptied = Question(demo, flesh_colour=("red",), seasons=8, chill=("1h",))
    assert emptied.emptied is not None
    assert names_told(emptied)["title"] == emptied.emptied.sentence


@pytest.mark.parametrize("name", ["Candover", "<b>", ["Candover"], None])
def test_only_a_name_that_stands_there_is_spoken_of(catalogue, name):
    state, element = in_hall(catalogue, "?v=1&market=packer&look=hall")
    press(element, {"act": "speak", "name": "Candover"})
    assert state.cultivar == ""  # no names lie there
    press(element, {"act": "over", "what": "names"})
    assert told(element)["names"]["keys"]
    press(element, {"act": "speak", "name": name})
    assert state.cultivar == ("Candover" if name == "Candover" else "")
    assert (told(element)["names"] is None) == (name == "Candover")
