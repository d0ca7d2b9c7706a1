"""My slate over the selling days, for the back row: the page's strip without what is set there, its bars and cells large."""

from __future__ import annotations

import json
from typing import ClassVar

from dashboard.charts import style
from dashboard.charts.strip import STRIP_CSS
from dashboard.page.frame.strip import NOTHING, SlateStrip
from dashboard.page.parts import live
from dashboard.visit.state import State
from dashboard.wording.strip import drawn

# A bar and a cell are each a thirtieth of the window's height and more. The script asks for the letters of a name and the most lanes.
LARGE_CSS = f"""
:host {{ --tall: 3.5vh; font-size: inherit; }}
.strip {{ display: block; background: none; border: 0; padding: 0; }} .words, .acts, .said, .handle {{ display: none; }}
.picture {{ padding: 0 0 1.25em; margin: 0; }}
.bars {{ display: block; --most: 3; font-size: 1em; }} .bars, .bars.crowded {{ height: calc(var(--lines, 0) * (var(--tall) + 2px) + 2px); }}
.bar, .crowded .bar {{ top: calc(var(--line) * (var(--tall) + 2px)); height: var(--tall); }}
.length, .crowded .length {{ inset: 0; border-width: 2.5px; border-radius: calc(var(--tall) / 2); min-width: 8px; }}
.name {{ font-size: 1em; line-height: var(--tall); font-weight: 600; }} .hollow .name {{ color: inherit; }}
.white {{ --flesh: radial-gradient(circle, {style.INK} 0 2px, {style.FLESH["white"][0]} 2.5px) 0 center / 14px 100%; }}
.buyer {{ font-size: 1em; line-height: 1.2; color: inherit; }} .cells {{ height: var(--tall); }} .cells i {{ margin: 0; border-radius: 0; }} .gap {{ cursor: inherit; border-bottom-width: 5px; }}
@media (max-height: 600px) {{ .bars {{ --most: 2; }} }}
.axis {{ font-size: 1em; height: 1.2em; line-height: 1.2; color: inherit; }}
"""


class LargeStrip(SlateStrip):
    dress: ClassVar[tuple[str, ...]] = (style.all_by_name(STRIP_CSS), LARGE_CSS)


def my_days(state: State) -> LargeStrip:
    """It follows what is on the slate; a bar that is pressed is spoken of."""
    names = set(map(str, state.question.catalogue.cultivars.index))

    def act(msg: dict) -> None:
        if msg.get("open") in names:
            state.choose(cultivar=msg["open"])

    strip = LargeStrip(act, margin=0)

    def show(slate, *_parts) -> None:
        told = (
            NOTHING
            if slate is None or not slate.bars
            else json.dumps(drawn(state.question, slate), ensure_ascii=False)
        )
        strip.told = told

    live.follow(state, show, "strip", look="hall")
    return strip
