"""Who may be planted and what is told of each: what is not known is told nowhere as a yes or a no."""

from __future__ import annotations

import io
from itertools import pairwise

import pandas as pd
import pytest

from dashboard import Records
from dashboard.answers import prospects
from dashboard.answers.catalogue import Basis
from dashboard.answers.planning import plan
from dashboard.answers.planting import merits, takes
from dashboard.answers.question import Question
from dashboard.answers.selling import Wanted
from dashboard.handout import plan as paper
from dashboard.wording.filling import doubts_told, proposal_told
from dashboard.wording.planning import merits_told

WHY = "Too few samples of size for a model."
SAID = f"Chances cannot be given for Packer, so its averages decide: {WHY}"


@pytest.fixture(scope="module")
def packed(without_chances):
    """A plan for a buyer whose chances cannot be told, over days the twelve are picked on."""
    asked = Question(without_chances, market="packer", opens="07-18", closes="07-30", certainty=6).wanted
    found = plan(asked)
    assert found.picks
    return found


def test_where_no_chance_can_be_told_none_stands_and_the_averages_decide(without_chances):
    packer, open_to_all = (without_chances.markets[key] for key in ("packer", "open"))
    assert prospects.refused(without_chances, packer, Basis()) == WHY
    told = merits(without_chances, (packer,), Basis())
    assert told["clears 0"].isna().all()
    assert told["clears"].isna().all()
    assert set(told["verdict 0"]) > {"qualifies"}
    assert told["worth"].notna().all()
    both = merits(without_chances, (packer, open_to_all), Basis())
    assert both["clears 0"].isna().all()
    known = both["clears 1"].notna()
    assert known.any()
    assert both.loc[known & takes(without_chances, (packer, open_to_all), Basis())[1], "clears"].notna().all()


def test_who_is_let_in_by_the_averages_is_preferred_as_one_that_surely_qualifies(without_chances):
    """Score, evidence, offers and spot alone tell them apart, and one of no buyer stands by its half score."""
    told = merits(without_chances, (without_chances.markets["packer"],), Basis())
    taken = told["verdict 0"] == "qualifies"
    order = told[taken].sort_values("worth")
    same = ["seasons", "bacterial_spot"]
    for (_, less), (_, more) in pairwise(order.iterrows()):
        if less[same].equals(more[same]) and bool(less["nurseries"]) == bool(more["nurseries"]):
            assert less["score"] <= more["score"]


def test_no_file_or_sentence_of_a_plan_makes_a_chance_of_a_verdict(packed):
    chance = "Chance that it qualifies, %"
    assert paper.table(packed)[chance].isna().all()
    assert pd.read_csv(io.BytesIO(paper.csv(packed)))[chance].isna().all()
    assert pd.read_excel(io.BytesIO(paper.xlsx(packed)), engine="calamine")[chance].isna().all()
    assert all("chance of" not in merits_told(pick) for pick in packed.picks)
    text = paper.text(packed)
    assert SAID in text.splitlines()
    assert " %" not in text
    assert SAID in proposal_told(packed)
    assert not [line for line in doubts_told(packed) if line.startswith("May not qualify")]


def test_a_call_tells_no_chance_either(without_chances):
    told = Records(without_chances).ask("Packer", certainty=6).plan("Jul 18", "Jul 30")
    assert told["chance_pct"].isna().all()
    assert SAID in told.said


def test_of_two_buyers_the_one_with_chances_tells_them(without_chances):
    asked = Wanted(
        without_chances,
        tuple(without_chances.markets[key] for key in ("packer", "open")),
        199.0,
        211.0,
        certainty=6,
    )
    rows = paper.table(plan(asked))
    assert rows["Chance that it qualifies, %, Packer"].isna().all()
    assert rows["Chance that it qualifies, %, Open"].notna().any()
