"""How the calendar of a season is dressed: a row a cultivar on one axis, the slate's gaps behind all of them, a band a class."""

from __future__ import annotations

from dashboard.charts import style
from dashboard.charts.strip import BARE, BARE_EDGE

CALENDAR_CSS = (
    style.BASE_CSS
    + f"""
:host {{ display: block; --bare: {BARE}99; --leaf: {style.LEAF}; }} [hidden] {{ display: none !important; }}
section {{ background: {style.PAPER}; border: 1px solid {style.EDGE}; border-radius: 8px; padding: 8px 16px; margin-bottom: 12px; --gaps: none; }}
h2 {{ margin: 0; font-size: 20px; line-height: 1.3; }} h3 {{ margin: 0; font-size: 16px; }} p {{ margin: 0 0 4px; }} .quiet {{ color: {style.QUIET}; font-size: 12px; }}
.line {{ display: grid; grid-template-columns: 24px minmax(90px, 150px) minmax(0, 1fr) 108px; gap: 0 8px; align-items: center; min-height: 20px; }}
.slate.many .line {{ min-height: 15px; font-size: 12px; line-height: 15px; }} .slate.many .line button {{ min-height: 15px; line-height: 15px; }}
.line button {{ border: 0; background: none; padding: 0; text-align: left; min-height: 20px; overflow: hidden; text-overflow: ellipsis; white-space: nowrap; }}
.keep {{ color: {style.LEAF}; text-align: center !important; }} .name {{ font-weight: 600; color: {style.LEAF}; }}
.track {{ position: relative; align-self: stretch; background: var(--gaps); }}
.doubt, .length {{ position: absolute; left: calc(100% * var(--a)); width: calc(100% * (var(--b) - var(--a))); }}
.doubt {{ top: 50%; height: 0; border-top: 1.5px solid {style.QUIET}; }}
.length {{ top: 50%; height: 10px; margin-top: -5px; min-width: 5px; border: 1.5px solid {style.INK}; border-radius: 6px; box-sizing: border-box; background: var(--flesh); }}
.yellow {{ --flesh: {style.FLESH["yellow"][0]}; }} .red {{ --flesh: {style.FLESH["red"][0]}; }} .unknown {{ --flesh: {style.UNKNOWN_FLESH[0]}; }}
.white {{ --flesh: radial-gradient(circle, {style.INK} 0 1.2px, {style.PAPER} 1.5px) 0 center / 9px 100% {style.PAPER}; }}
.hatched .length {{ background: repeating-linear-gradient(135deg, transparent 0 4px, {style.PAPER} 4px 7px), var(--flesh); }}
.hollow .length {{ background: {style.PAPER}; border-style: dashed; border-color: {style.QUIET}; }}
.when {{ color: {style.QUIET}; font-size: 12px; white-space: nowrap; }}
.axis .track, .bare .track {{ background: none; }} .axis {{ font-size: 12px; color: {style.QUIET}; border-bottom: 1px solid {style.RULE}; }} .axis .track {{ height: 18px; }}
.axis .track span {{ position: absolute; left: calc(100% * var(--a)); transform: translateX(-50%); white-space: nowrap; }}
.bare .track {{ height: 18px; }} .bare i {{ position: absolute; top: 2px; bottom: 2px; left: calc(100% * var(--a)); width: calc(100% * (var(--b) - var(--a))); background: {BARE};
  border-bottom: 3px solid {BARE_EDGE}; font: 12px/11px {style.FONT}; color: {style.INK}; overflow: hidden; white-space: nowrap; text-align: center; box-sizing: border-box; }}
details {{ border-top: 1px solid {style.RULE}; }} summary {{ list-style: none; cursor: pointer; padding: 2px 0; }} summary::-webkit-details-marker {{ display: none; }}
summary .line {{ min-height: 24px; }} summary .kind {{ grid-column: 1 / 3; font-weight: 600; }} summary .kind::before {{ content: "▸ "; color: {style.LEAF}; }} [open] > summary .kind::before {{ content: "▾ "; }}
.band {{ background: var(--band), {style.WASH}; height: 14px; align-self: center; border-radius: 3px; }}
summary:focus-visible, .line button:focus-visible {{ outline: 3px solid {style.CHOSEN}; outline-offset: 1px; }}
@media (max-width: 700px) {{ section {{ padding: 8px; }} .line {{ grid-template-columns: 28px minmax(70px, 96px) minmax(0, 1fr); }} .when {{ display: none; }} }}
@media (pointer: coarse) {{ .others .line {{ min-height: 44px; }} .others .line button {{ min-height: 44px; }} .slate:not(.many) .line:not(.axis, .bare) {{ min-height: 32px; }} }}
@media (forced-colors: active) {{ .length, .bare i, .band, .track {{ forced-color-adjust: none; }} }}
"""
)
