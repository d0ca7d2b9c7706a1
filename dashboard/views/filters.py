"""The choices beside every tab: market, filters with what each would leave, units."""

from __future__ import annotations

import panel as pn
import panel_material_ui as pmui
from markupsafe import Markup

from dashboard.comparison import Comparison
from dashboard.ripening import half_label
from dashboard.state import FILTERS, State
from dashboard.traits import CLASSES
from dashboard.views import live
from dashboard.views.elements import ChoiceBoxes, Prose
from dashboard.views.words import LABELS

NO_MARKET = "A market sets limits the fruit must meet, and wishes that rank what meets them."
UNIT_NAMES = {"us": "inches, pounds", "si": "mm, newtons"}


def filters(state: State) -> pn.Column:
    markets = state.comparison.catalogue.markets
    about = Prose(margin=(0, 10))
    boxes = [ChoiceBoxes(lambda field, values: _tick(state, field, values), margin=(5, 10)) for _ in range(2)]
    over = pmui.Button(label="Take all filters off", variant="outlined", sizing_mode="stretch_width")
    over.on_click(lambda _event: state.start_over())

    def show(*_parts) -> None:
        boxes[0].groups = [market_group(state.comparison)]
        boxes[1].groups = groups(state.comparison)

    def explain(key: str) -> None:
        about.say(Markup('<p class="quiet small">{}</p>').format(markets[key].summary if key else NO_MARKET))

    live.follow(state, show, "counts", "market_counts", "market", "units")
    live.follow(state, explain, "market")
    return pn.Column(boxes[0], about, boxes[1], over, sizing_mode="stretch_width")


def market_group(asked: Comparison) -> dict:
    """Who one sells to; beside each market how many of the passing cultivars clear its limits."""
    names = {
        "": "no market: show everything",
        **{key: market.name for key, market in asked.catalogue.markets.items()},
    }
    options = [
        {"value": key, "label": names[key], "chosen": key == asked.market, "left": left}
        for key, left in asked.market_counts.items()
    ]
    return {
        "field": "market",
        "label": "Who do you sell to?",
        "single": True,
        "look": "lines",
        "options": options,
    }


def groups(asked: Comparison) -> list[dict]:
    """The tick boxes as data: each option with what it would leave, and whether it is chosen."""
    made = []
    for field in FILTERS:
        left = asked.counts[field]
        single = field == "seasons"
        chosen = (asked.seasons,) if single else getattr(asked, field)
        options = [
            {
                "value": str(value),
                "label": _label(field, value),
                "chosen": value in chosen,
                "left": int(count),
            }
            for value, count in left.items()
        ]
        made.append(
            {
                "field": field,
                "label": LABELS[field],
                "single": single,
                "look": "narrow" if field == "ripening" else "",
                "options": options,
            }
        )
    units = [
        {"value": key, "label": name, "chosen": key == asked.units, "left": ""}
        for key, name in UNIT_NAMES.items()
    ]
    return [*made, {"field": "units", "label": "Units", "single": True, "look": "", "options": units}]


def _label(field: str, value) -> str:
    if field == "ripening":
        return half_label(value)
    if field == "seasons":
        return "any" if value == 1 else f"{value} seasons"
    return str(value)


def _tick(state: State, field: str, values: list[str]) -> None:
    if field in ("units", "market"):
        state.choose(**{field: values[0]})
    elif field == "seasons":
        state.choose(seasons=int(values[0]))
    elif field in CLASSES or field in ("status", "ripening"):
        state.choose(**{field: tuple(values)})
