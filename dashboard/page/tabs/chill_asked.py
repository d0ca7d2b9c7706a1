"""The filter by winter chill needed, on the tab of my site too: the same choice, and at once how many cultivars pass."""

from __future__ import annotations

from functools import partial

from dashboard.answers import filters as filtering
from dashboard.answers.question import Question
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.elements import ChoiceBoxes, Prose, paragraphs
from dashboard.page.parts.ticking import tick
from dashboard.visit.state import State
from dashboard.wording.boxes import choice_groups
from dashboard.wording.my_site import chill_asked_told

NAME = "chill"


def chill_asked(state: State) -> Column:
    """Away where no need is on record."""
    boxes = ChoiceBoxes(partial(tick, state), groups=_groups(state.question), margin=(5, 10))
    answer = Prose()

    def show(*_parts) -> None:
        asked = state.question
        if set(asked.chill) - {value for group in boxes.groups for value in _values(group)}:
            boxes.groups = _groups(asked)  # a number that was typed has a box from then on
        boxes.tell([_told(asked, _values(group)) for group in boxes.groups])
        answer.say(paragraphs(chill_asked_told(asked)))

    live.follow(state, show, "filters", "fit", tab="site")
    return Column(boxes, answer, visible=bool(boxes.groups), sizing_mode="stretch_width")


def _groups(asked: Question) -> list[dict]:
    return [group | {"fold": "", "look": ""} for group in choice_groups(asked, NAME)]


def _values(group: dict) -> list[str]:
    return [option["value"] for option in group["options"]]


def _told(asked: Question, values: list[str]) -> dict:
    left = [filtering.would_leave(asked.catalogue, asked.filters, NAME, value) for value in values]
    return {"left": left, "chosen": [place for place, value in enumerate(values) if value in asked.chill]}
