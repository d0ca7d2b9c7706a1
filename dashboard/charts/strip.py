"""The slate strip drawn, on the page and in a published slate alike: its script, and how it is dressed."""

from __future__ import annotations

from dashboard.charts import style
from dashboard.places import PACKAGE

SCRIPT = (
    PACKAGE / "page" / "frame" / "strip.js"
)  # where the page's server hands it out; a slate takes its text along

STRIP_CSS = (
    style.BASE_CSS
    + f"""
:host {{ display: block; }} [hidden] {{ display: none !important; }}
.strip {{ display: grid; grid-template-columns: minmax(150px, 200px) minmax(0, 1fr) minmax(90px, 118px); gap: 0 20px; align-items: center;
  background: {style.PAPER}; border-bottom: 1px solid {style.RULE}; padding: 4px 0 8px; }}
h2 {{ margin: 0; font-size: 20px; line-height: 1.2; }} p {{ margin: 2px 0; }}
.season, .sure {{ font-size: 12.5px; color: {style.QUIET}; line-height: 1.7; display: block; }}
input, select {{ font: inherit; color: {style.INK}; border: 1px solid {style.EDGE}; border-radius: 4px; background: {style.PAPER}; padding: 0 4px; min-height: 24px; box-sizing: border-box; }}
input {{ width: 4.6em; }}
.days {{ display: none; border: 0; background: none; color: {style.LEAF}; font-weight: 600; font-size: 12.5px; padding: 0 4px 0 0; }}
.chips {{ display: flex; flex-wrap: wrap; gap: 4px; margin-top: 4px; }}
.chip {{ border: 1px solid {style.BARE_EDGE}; background: {style.FAULTY}; color: #7c2413; border-radius: 12px; padding: 1px 8px; font-size: 12px; min-height: 24px; max-width: 100%;
  white-space: nowrap; overflow: hidden; text-overflow: ellipsis; }}
.picture {{ position: relative; padding: 2px 0 18px; min-width: 0; }}
.bars {{ position: relative; font-size: 11.5px; height: calc(var(--lines, 0) * 17px + 3px); }} .bars.crowded {{ height: calc(var(--lines, 0) * 12px + 3px); }}
.bar {{ position: absolute; top: calc(var(--line) * 17px + 2px); height: 16px; min-height: 0; padding: 0; border: 0; background: none; display: block; }}
.crowded .bar {{ top: calc(var(--line) * 12px + 1px); height: 11px; }}
.length {{ position: absolute; inset: 2px 0; border-radius: 7px; border: 1.5px solid {style.INK}; background: var(--flesh); box-sizing: border-box; min-width: 5px; }}
.yellow {{ --flesh: {style.FLESH["yellow"][0]}; }} .red {{ --flesh: {style.FLESH["red"][0]}; }} .unknown {{ --flesh: {style.UNKNOWN_FLESH[0]}; }}
.white {{ --flesh: radial-gradient(circle, {style.INK} 0 1.2px, {style.PAPER} 1.5px) 0 center / 9px 100%; }}
.crowded .length {{ inset: 1px 0; border-width: 1px; }}
.hatched .length {{ opacity: .75; background: repeating-linear-gradient(135deg, transparent 0 4px, {style.PAPER} 4px 7px), var(--flesh); }}
.hollow .length {{ background: {style.PAPER}; border-style: dashed; border-color: {style.QUIET}; }}
.name {{ position: absolute; left: calc(100% + 4px); top: 0; font-size: 11.5px; line-height: 16px; white-space: nowrap; max-width: 10em; overflow: hidden; text-overflow: ellipsis; }}
:where(.crowded) .name {{ font-size: 11px; line-height: 11px; }}
.unnamed .name {{ display: none; }} .unnamed:is(:hover, :focus-visible, :active) {{ z-index: 2; }}
.unnamed:is(:hover, :focus-visible, :active) .name {{ display: block; padding: 1px 3px; margin: -1px 0 0 -3px; border-radius: 3px; background: {style.PAPER}; box-shadow: 0 0 0 1px {style.EDGE}; }}
.flipped .name {{ left: auto; right: calc(100% + 4px); }} .hollow .name {{ color: {style.QUIET}; }}
.row {{ position: relative; }} .row + .row {{ margin-top: 3px; }}
.buyer {{ font-size: 11.5px; line-height: 15px; margin: 0; color: {style.QUIET}; }}
.cells {{ display: flex; height: 16px; }}
.cells i {{ flex: 1 1 0; min-width: 0; margin: 0 .5px; border-radius: 2px; background: {style.BARE}; }}
.cells .d1 {{ background: repeating-linear-gradient(135deg, {style.COVERED} 0 2px, {style.PAPER} 2px 4px); }}
.cells .d2 {{ background: {style.COVERED}; }} .cells .d3 {{ background: {style.LEAF}; }}
.gap {{ position: absolute; top: -2px; bottom: -2px; min-height: 0; border: 0; padding: 0; background: none; border-bottom: 3px solid {style.BARE_EDGE}; cursor: pointer; }}
@media (hover: hover) {{ .gap:hover {{ outline: 2px solid {style.BARE_EDGE}; }} }}
.axis {{ position: absolute; left: 0; right: 0; bottom: 0; height: 15px; font-size: 11.5px; color: {style.QUIET}; pointer-events: none; }}
.axis span {{ position: absolute; white-space: nowrap; }}
.handle {{ position: absolute; bottom: 12px; width: 24px; height: 28px; cursor: ew-resize; touch-action: none; display: grid; place-items: center; }}
.handle::before {{ content: ""; width: 9px; height: 24px; border-radius: 4px; background: {style.PAPER}; border: 1.5px solid {style.QUIET}; box-sizing: border-box; }}
.handle.first {{ left: -19px; }} .handle.last {{ right: -19px; }}
.fill {{ width: 100%; min-height: 44px; border: 1px solid {style.LEAF}; border-radius: 6px; font-weight: 600; background: {style.LEAF}; color: {style.PAPER}; }}
.fill:disabled {{ background: {style.WASH}; color: {style.QUIET}; border-color: {style.EDGE}; cursor: default; }}
.covered {{ font-size: 12.5px; color: {style.QUIET}; }}
.said {{ grid-column: 1 / -1; font-size: 12.5px; }} .said p {{ margin: 0; }}
:is(button, input, select, .handle):focus-visible {{ outline: 3px solid {style.CHOSEN}; outline-offset: 1px; }}
@media (forced-colors: active) {{ .cells i, .length {{ forced-color-adjust: none; }} }}
@media (max-width: {style.PHONE}px) {{
  .strip {{ grid-template: "head covered" auto "picture picture" auto "chips chips" auto "season season" auto "sure sure" auto "said said" auto "fill fill" auto / auto 1fr; gap: 2px 8px; }}
  .words, .acts {{ display: contents; }} h2 {{ grid-area: head; font-size: 17px; align-self: center; white-space: nowrap; }} .covered {{ grid-area: covered; text-align: right; }}
  .picture {{ grid-area: picture; margin: 0 12px; }} .said {{ grid-area: said; }} .season {{ grid-area: season; }} .sure {{ grid-area: sure; }} .strip:not(.changing) :is(.season, .sure) {{ display: none; }}
  .fill {{ grid-area: fill; }} .days {{ display: block; grid-area: chips; justify-self: start; }} :is(.bars, .usual) {{ display: none; }} .chips {{ grid-area: chips; flex-wrap: nowrap; overflow-x: auto; margin-left: 60px; }} .chip {{ flex: none; }}
  .cells {{ height: 20px; }} .cells i {{ margin: 0; border-radius: 0; }} .gap {{ min-width: 14px; }} input, select {{ min-height: 36px; font-size: 16px; }} input {{ width: 4.4em; }} }}
@media (pointer: coarse) {{ :is(.chip, .days) {{ min-height: 32px; }} .handle::before {{ width: 14px; height: 26px; }} }}
"""
)
