"""A bound on winter chill that no box stands for is kept exactly as it was asked, and has a box of its own."""

from __future__ import annotations

import json

import panel as pn
import pytest

from dashboard import Records, show
from dashboard.page import app
from dashboard.page.frame.filters import filters
from dashboard.page.parts.elements import ChoiceBoxes
from dashboard.visit.state import State
from tests.pressing import press


def chill(boxes: ChoiceBoxes) -> tuple[list[str], list[str]]:
    """The labels of the boxes, and which are ticked."""
    ((at, group),) = [(at, one) for at, one in enumerate(boxes.groups) if one["field"] == "chill"]
    labels = [one["label"] for one in group["options"]]
    return labels, [labels[place] for place in json.loads(boxes.told)[at]["chosen"]]


def boxes_of(state: State) -> ChoiceBoxes:
    return pn.Column(*filters(state)).select(ChoiceBoxes)[1]


def test_a_link_s_bound_is_kept_ticked_and_counted(well_recorded):
    state = State(well_recorded, "?v=1&chill=655h")
    assert (state.chill, state.notices) == (("655h",), ())
    boxes = boxes_of(state)
    labels, ticked = chill(boxes)
    assert ticked == ["655 hours"]
    assert labels.index("600 hours") < labels.index("655 hours") < labels.index("750 hours")
    place = [group["field"] for group in boxes.groups].index("chill")
    left = json.loads(boxes.told)[place]["left"][labels.index("655 hours")]
    assert left == len(state.question.ranking) > 0
    press(boxes, {"field": "chill", "chosen": []})
    assert state.chill == ()
    assert "655 hours" in chill(boxes)[0]  # can be ticked again
    press(boxes, {"field": "chill", "chosen": ["655h"]})
    assert state.chill == ("655h",)


def test_one_that_comes_later_gets_its_box_then(well_recorded):
    state = State(well_recorded, "?v=1")
    boxes = boxes_of(state)
    assert "47 portions" not in chill(boxes)[0]
    state.follow("?v=1&chill=47cp")
    assert chill(boxes)[1] == ["47 portions"]


@pytest.mark.parametrize("said", ["655", "655hh", "123456h", "-3h", "6.5h", "h"])
def test_what_is_no_bound_is_left_out_and_told(well_recorded, said):
    state = State(well_recorded, f"?v=1&chill={said}")
    assert state.chill == ()
    assert "chill" in state.notices[0]


def test_a_notebook_s_page_keeps_it(well_recorded):
    app.prepare()
    page = show(Records(well_recorded).ask("Packer", chill="655 hours"))
    assert any(
        chill(boxes)[1] == ["655 hours"]
        for boxes in page.select(ChoiceBoxes)
        if any(one["field"] == "chill" for one in boxes.groups)
    )
