"""The dress of one cultivar's card, of what stands under it, and of the grid of cultivars side by side."""

from __future__ import annotations

from dashboard.charts.small import DRAWN_CSS
from dashboard.charts.style import CHOSEN, EDGE, INK, LEAF, LIMIT, OUT, PAPER, QUIET, RULE, TICKED

FOLD_CSS = f"""
details {{ background: {PAPER}; border: 1px solid {EDGE}; border-radius: 8px; padding: 0 12px; }}
summary {{ cursor: pointer; font-weight: 600; padding: 8px 0; color: {LEAF}; }} summary:focus-visible {{ outline: 3px solid {CHOSEN}; outline-offset: 1px; }}
@media (pointer: coarse), (max-width: 600px) {{ summary {{ padding: 12px 0; }} }}
"""

CARDS_CSS = (
    DRAWN_CSS
    + FOLD_CSS
    + f"""
.card {{ background: {PAPER}; border: 1px solid {EDGE}; border-radius: 8px; padding: 12px 16px; box-sizing: border-box; min-width: 0; }}
.card h3 {{ font-size: 14px; margin: 0 0 8px; }} .card p {{ margin: 0 0 4px; }}
.about {{ display: grid; grid-template-columns: 132px minmax(0, 1fr) auto; gap: 8px 16px; align-items: start; }}
.about svg.fruit {{ width: 132px; margin: 0; }}
.about h2 {{ font-size: 28px; line-height: 1.15; margin: 0; overflow-wrap: anywhere; }}
.title {{ display: flex; align-items: center; gap: 4px 8px; flex-wrap: wrap; }}
.chips {{ display: flex; flex-wrap: wrap; gap: 4px; list-style: none; padding: 0; margin: 4px 0 8px; }}
.chips li {{ border: 1px solid {EDGE}; border-radius: 12px; padding: 0 8px; font-size: 12px; line-height: 20px; }}
.verdict {{ font-size: 16px; line-height: 1.35; }} .verdict b.qualifies {{ color: {LEAF}; }} .verdict b.misses {{ color: {LIMIT}; }}
.about .drawn.picking {{ max-width: 460px; display: block; margin: 4px 0; }}
.three {{ display: grid; grid-template-columns: none; gap: 0; grid-auto-flow: column; grid-auto-columns: 144px; margin: 0; }}
.three > div {{ border-left: 1px solid {RULE}; padding: 0 8px 0 16px; display: flex; flex-direction: column; }}
.three dd {{ margin: 0; white-space: nowrap; font-size: 20px; font-weight: 700; line-height: 1.3; order: -1; }} .three dt {{ font-size: 12px; line-height: 1.35; color: {QUIET}; }}
.boxes {{ display: grid; grid-template-columns: minmax(0, 8fr) minmax(0, 7fr); gap: 12px; align-items: start; margin: 12px 0 0; }}
.boxes > div {{ display: grid; gap: 12px; min-width: 0; }}
.card table {{ border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }}
.card :is(td, th) {{ text-align: left; padding: 2px 8px 2px 0; font-weight: 400; vertical-align: middle; }}
.card tbody th {{ font-weight: 400; }}
.among td:nth-child(3) {{ width: 40%; }} .among td:last-child {{ white-space: nowrap; color: {QUIET}; font-size: 12px; padding-right: 0; }} .among .range {{ color: {QUIET}; font-size: 12px; white-space: nowrap; }}
.spread {{ display: block; min-width: 60px; }} .spread svg {{ display: block; width: 100%; height: 18px; }} .spread .drawn {{ display: block; height: 10px; background-position: 0 0; margin-top: -5px; }}
.spread .drawn.dot {{ background: linear-gradient({RULE}, {RULE}) 0 50% / 100% 1px no-repeat; }} .spread .drawn.dot::before {{ top: 4px; }} .spread .drawn.dot::after {{ margin-top: 1px; }}
.order {{ display: grid; grid-template-columns: auto minmax(0, 1fr); gap: 4px 16px; margin: 0; }} .order > div {{ display: contents; }}
.order dt {{ font-size: 14px; color: {INK}; }} .order dd {{ overflow-wrap: anywhere; }}
.instead {{ list-style: none; padding: 0; margin: 0; }} .instead li {{ display: flex; gap: 0 8px; align-items: center; flex-wrap: wrap; }}
button.star {{ border: 0; background: none; color: {LEAF}; font-size: 20px; line-height: 1; min-width: 32px; min-height: 32px; padding: 0; }}
button.opens {{ border: 0; background: none; color: {LEAF}; font-weight: 600; text-decoration: underline; padding: 0; min-height: 28px; overflow-wrap: anywhere; text-align: left; }}
.sidebox {{ overflow: auto; padding: 0; position: relative; max-height: 92vh; }} .sidebox:focus-visible {{ outline: 3px solid {CHOSEN}; }}
.sides {{ table-layout: fixed; min-width: calc(96px + var(--across) * 128px + 128px); }}
.sides :is(td, th) {{ padding: 4px 8px; min-width: 0; }} .sides tbody :is(td, th) {{ border-top: 1px solid {RULE}; }}
.sides thead th {{ position: sticky; top: 0; z-index: 2; background: {PAPER}; text-align: center; border-bottom: 2px solid {LEAF}; vertical-align: bottom; }}
.sides thead th b {{ font-size: 16px; overflow-wrap: anywhere; }} .sides thead .kind {{ display: block; font-size: 12px; color: {QUIET}; }}
.sides tbody th {{ position: sticky; left: 0; z-index: 1; background: {PAPER}; }} .sides thead th:first-child {{ left: 0; z-index: 3; }}
.sides td.fruits {{ text-align: center; border-top: 0; }} .sides svg.fruit {{ width: 112px; max-width: 100%; display: inline-block; margin: 0; }}
.sides td.better {{ background: {TICKED}; }} .sides td.says {{ color: {QUIET}; font-size: 12px; }}
.sides .pair .shown {{ font-weight: 600; min-width: 34px; }} .sides .pair .drawn {{ flex: 1 1 auto; width: auto; min-width: 40px; }}
.sides .when {{ display: block; font-size: 12px; }} .foot {{ font-size: 12px; color: {QUIET}; padding: 8px 16px; margin: 0; }}
.empty {{ text-align: center; padding: 32px 16px; }} .empty h2 {{ font-size: 20px; }} .empty p {{ margin: 0 auto 8px; }}
.shots {{ display: flex; flex-wrap: wrap; gap: 12px; }} .shots figure {{ flex: 0 1 220px; }}
@media (max-width: 1100px) {{ .about {{ grid-template-columns: 132px minmax(0, 1fr); }} .about .wide {{ grid-column: 1 / -1; }} .three {{ grid-column: 1 / -1; grid-auto-columns: 1fr; }} .three > div:first-child {{ border: 0; padding-left: 0; }} }}
@media (max-width: 800px) {{ .boxes {{ grid-template-columns: minmax(0, 1fr); }} .sides {{ min-width: calc(84px + var(--across) * 112px + 104px); }} }}
@media (max-width: 600px) {{ .card {{ padding: 12px; }} .about {{ grid-template-columns: 88px minmax(0, 1fr); }} .about svg.fruit {{ width: 88px; }}
  .among td:nth-child(3) {{ width: 30%; }} .among .range {{ display: block; }} .among td:last-child {{ white-space: normal; }} .three > div {{ padding: 0 8px; }} .three dd {{ font-size: 16px; }} .sidebox {{ padding: 0; max-height: 80vh; }} }}
@media (pointer: coarse), (max-width: 600px) {{ button.star {{ min-width: 44px; min-height: 44px; }} button.opens {{ min-height: 44px; }} }}
@media (forced-colors: active) {{ .sides td.better {{ outline: 2px solid Highlight; outline-offset: -2px; }} .chips li {{ border-color: {OUT}; }}
  .spread {{ forced-color-adjust: none; background: {PAPER}; }} .spread .drawn {{ background-color: transparent !important; box-shadow: none; }} }}
"""
)
