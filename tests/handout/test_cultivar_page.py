"""A cultivar's page: winter chill of the place that was chosen, and of none that was not."""

from __future__ import annotations

from dashboard.answers.question import Question
from dashboard.handout.blocks import Beside
from dashboard.handout.cultivar_page import cultivar
from dashboard.handout.paper import PAPERS, long
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.my_site import chill_facts


def printed(asked: Question) -> str:
    return repr(cultivar(asked, "Candover", "page", 1).blocks)


def test_winters_with_enough_chill_are_told_of_a_place_that_was_chosen(well_recorded):
    asked = Question(well_recorded, shortlist=("Candover",))
    chosen = Question(well_recorded, shortlist=("Candover",), station="River")
    ((label, told),) = chill_facts(chosen, "Candover")
    assert label == "Enough chill, by portions"
    assert "winters at River" in told
    assert label in printed(chosen)
    assert told in printed(chosen)
    assert "Enough chill" not in printed(asked)
    assert CAUTIONS[1] in printed(chosen)


def test_no_bold_word_before_a_fact_is_cut_off(well_recorded):
    chosen = Question(well_recorded, shortlist=("Candover",), station="River")
    (beside,) = [one for one in cultivar(chosen, "Candover", "page", 1).blocks if isinstance(one, Beside)]
    width = beside.part * PAPERS["letter"].room[0] - beside.gap
    for line in beside.left:
        assert long(f"{line.lead} ", line.size, True) < 0.6 * width, line.lead
