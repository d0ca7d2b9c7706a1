"""A cultivar's page: winter chill of the place that was chosen, and of none that was not."""

from __future__ import annotations

from dashboard.answers.question import Question
from dashboard.handout.cultivar_page import cultivar
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.my_site import chill_facts


def printed(asked: Question) -> str:
    return repr(cultivar(asked, "Candover", "page", 1).blocks)


def test_winters_with_enough_chill_are_told_of_a_place_that_was_chosen(well_recorded):
    asked = Question(well_recorded, shortlist=("Candover",))
    chosen = Question(well_recorded, shortlist=("Candover",), station="River")
    ((label, told),) = chill_facts(chosen, "Candover")
    assert label == "Winters with enough chill at River, by its need in portions"
    assert label in printed(chosen)
    assert told in printed(chosen)
    assert "enough chill" not in printed(asked)
    assert CAUTIONS[1] in printed(chosen)
