"""In a narrow window, under the strip: who buys, the filters, and what fills the slate, a thumb away. The filters lie beside the page there."""

from __future__ import annotations

import json
from pathlib import Path

import param

from dashboard.answers.choices import CHOICES, FILTERS
from dashboard.charts import style
from dashboard.page.parts import live
from dashboard.page.patches.scripted import Element
from dashboard.visit.state import State
from dashboard.wording.strip import filled_how

QUICK_CSS = (
    style.BUTTON_CSS
    + f"""
:host {{ display: none; box-sizing: border-box; }}
@media (max-width: {style.NARROW}px) {{ :host {{ display: block; width: calc(100% - 20px) !important; }} }}
.three {{ display: grid; width: 100%; grid-template-columns: repeat(3, minmax(0, 1fr)); gap: 8px; padding: 4px 0; }}
button {{ min-height: 44px; padding: 2px 8px; border-radius: 8px; font-weight: 600; line-height: 1.2; overflow: hidden; }}
@media (min-width: {style.PHONE + 1}px) {{ .three {{ grid-template-columns: repeat(2, minmax(0, 1fr)); }} .fill {{ display: none; }} }}
"""
)


class Quick(Element):
    """``act(message)`` is called when the slate is to be filled; who buys and the filters are opened by the browser itself."""

    told = param.String(
        default="{}",
        doc="JSON: buyer, filters, first (the first filter), fill, open (there is a gap); first: the filter that is shown first",
    )

    script = Path(__file__).with_name("quick.js")
    dress = (QUICK_CSS,)

    def __init__(self, act, **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (0, 10), **params})
        self._act = act

    @live.at_once
    def heard(self, msg) -> None:
        if msg.get("fill") is True:
            self._act()


def quick(state: State) -> Quick:
    line = Quick(state.fill)

    def show(*_parts) -> None:
        asked = state.question
        count = sum(getattr(asked, name) != CHOICES[name].default for name in FILTERS)
        buyer = asked.profile.name if asked.profile else "Who do you sell to?"
        line.told = json.dumps(
            {
                "buyer": f"{buyer} ▾",
                "filters": f"Filters · {count}" if count else "Filters",
                "first": next(iter(FILTERS)),
                "fill": filled_how(asked.strip),
                "open": bool(asked.strip and any(row.gaps for row in asked.strip.rows)),
            }
        )

    live.follow(state, show, "profile", "filters", "strip")
    return line
