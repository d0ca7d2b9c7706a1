"""What a slate is built for, asked in one place before it is built: who buys, from when to when, what can be bought, which classes and
shares, how much winter chill there is, how surely and for which years."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import ClassVar

import param

from dashboard.answers.planting import offers_known
from dashboard.answers.question import Question
from dashboard.charts import style
from dashboard.page.frame.filters import market_groups, ticked, told, unboxed
from dashboard.page.frame.strip import typed
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.elements import Abreast
from dashboard.page.patches.scripted import Element
from dashboard.ripening import day_label
from dashboard.visit.state import State
from dashboard.wording.boxes import choice_group, choice_groups

CLASSES = ("fruit_type", "flesh_colour")
RULES = ("certainty", "built_for", "share", "most")
FOLDED = ("acidity_class", "shape_type")
CHILL = "Winter chill at my place"
NURSERIES = "From certain nurseries only"
DAYS_CSS = (
    style.BASE_CSS
    + f"""
fieldset {{ border: 0; padding: 0; margin: 0; display: flex; flex-wrap: wrap; gap: 4px 12px; align-items: center; }}
legend {{ font-weight: 600; padding: 0 0 4px; float: left; }} label {{ display: inline-flex; gap: 6px; align-items: center; }}
input {{ font: inherit; border: 1px solid {style.EDGE}; border-radius: 6px; padding: 3px 8px; min-height: 32px; width: 6em; box-sizing: border-box; background: {style.PAPER}; color: {style.INK}; }}
input:focus-visible {{ outline: 3px solid {style.CHOSEN}; outline-offset: 1px; }}
@media (pointer: coarse), (max-width: {style.PHONE}px) {{ input {{ min-height: 44px; font-size: 16px; }} }}
"""
)


class SellingDays(Element):
    """``act(message)`` is called with an end, 0 or 1, and the day that was typed; whether it was taken."""

    told = param.String(default='["", ""]', doc="JSON of both days as they stand")

    script = Path(__file__).with_name("days.js")
    dress: ClassVar[tuple[str, ...]] = (DAYS_CSS,)

    def __init__(self, act: Callable[[dict], bool], **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (5, 10), **params})
        self._act = act

    @live.at_once
    def heard(self, msg) -> None:
        if not (isinstance(msg.get("typed"), str) and msg.get("end") in (0, 1) and self._act(msg)):
            self.send("again")


def asked(state: State) -> tuple[Column, Callable[[], None]]:
    """The questions, and what writes into them what stands."""
    known = state.question
    buyer = [market_groups(known)[0] | {"look": ""}]
    kinds = [choice_group(known.catalogue, name) for name in CLASSES]
    kinds += [choice_group(known.catalogue, name, fold="Acidity and shape") for name in FOLDED]
    rules = [choice_group(known.catalogue, name) | {"look": "menu"} for name in RULES]
    sold = [
        choice_group(known.catalogue, "bought"),
        choice_group(known.catalogue, "nursery") | {"fold": NURSERIES, "look": ""},
    ]
    sold = sold if offers_known(known.catalogue) else []
    groups = [
        Abreast(lambda field, values: ticked(state, field, values), groups=made, margin=(5, 10))
        for made in (buyer, sold, kinds, _chill(known), rules)
    ]
    chill = groups[3]
    days = SellingDays(lambda msg: typed(state, msg))

    def show() -> None:
        if unboxed(state.question, chill.groups, "chill"):
            chill.groups = _chill(state.question)  # a number that was typed has a box from then on
        for boxes in groups:
            boxes.tell([told(state.question, group, state.kept) for group in boxes.groups])
        south = state.question.catalogue.south
        days.told = json.dumps(
            [day_label(day, south) for day in state.question.proposal_wanted.span], ensure_ascii=False
        )

    return Column(groups[0], days, *groups[1:], sizing_mode="stretch_width"), show


def _chill(asked: Question) -> list[dict]:
    """Its needs on record, and a field for a number; nothing where none is."""
    return [group | {"fold": CHILL, "look": ""} for group in choice_groups(asked, "chill")]
