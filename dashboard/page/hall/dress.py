"""The dress of the hall view: letters that the back row reads, dark on white or, in a dark room, light on dark. Sizes are shares of one size,
which grows with the screen."""

from __future__ import annotations

from dashboard.charts import style

LETTERS = "max(15px, min(1.3vw, 2.32vh))"  # 24 px and more on a projector of 1920 by 1080; nothing is smaller

_PAPER = " ".join(f"--{name}: {colour};" for name, colour in style.NAMED.items())
_DARK = " ".join(f"--{name}: {colour};" for name, colour in style.DARK.items())

_SHEET = f"""
[hidden] {{ display: none !important; }}
dialog {{ font-family: {style.FONT}; font-size: {LETTERS}; line-height: 1.3; color: {style.INK}; background: {style.PAPER}; border: 0; margin: 0;
  padding: .7em 1em .4em; position: fixed; inset: 0; width: 100vw; height: 100vh; height: 100dvh; max-width: none; max-height: none;
  box-sizing: border-box; overflow: hidden; outline: 0; }}
dialog[open] {{ display: grid; grid-template: auto auto minmax(0, 1fr) auto auto / minmax(0, 1fr); gap: .3em; }}
.asked {{ grid-area: 1 / 1; }} .notices {{ grid-area: 2 / 1; }} .stage {{ grid-area: 3 / 1; }} .over {{ grid-area: 1 / 1 / 4 / 2; }}
.lost {{ grid-area: 4 / 1; }} .lost > * {{ border: .25em solid {style.LIMIT}; padding: .1em .5em; font-weight: 700; }} .strip {{ grid-area: 5 / 1; }}
.working {{ position: fixed; right: 1em; top: .6em; z-index: 3; padding: .2em .8em; border: .15em solid {style.INK}; border-radius: .3em; background: {style.PAPER}; font-weight: 700; }} .working:empty {{ display: none; }}
dialog:not(.pointed) {{ cursor: none; }}
p, h2, dl, dd {{ margin: 0; }} button, input {{ font: inherit; color: inherit; }}
.question {{ font-weight: 600; font-size: 1.1em; overflow-wrap: anywhere; }} :is(.leads, .slate, .limiting):empty {{ display: none; }} .leads {{ float: right; margin-left: 1em; font-weight: 600; border-left: .3em solid {style.SPOT}; padding-left: .5em; }} .slate {{ font-weight: 600; color: {style.LEAF}; }}
.limiting {{ font-size: 2.2em; font-weight: 700; line-height: 1.1; border-left: .2em solid {style.LIMIT}; padding-left: .3em; }} .notes {{ border-left: .3em solid {style.EDGE}; padding-left: .5em; white-space: pre-line; }}
.form {{ min-width: 0; min-height: 0; overflow: auto; }} .form h2 {{ font-size: 1.8em; line-height: 1.1; }} .form p {{ font-size: 1.1em; }} .rows {{ font-size: .61em; margin-left: 1em; color: {style.SPOT}; }} .row[hidden] {{ display: none; }} .form svg {{ display: block; width: 100%; min-width: 117vh; height: auto; font-family: {style.FONT}; }}
/* not so narrow that a mark, 46 of 1600 or of 960, is less than a thirtieth of the height */ .stage.wide {{ grid-template-columns: minmax(0, 1fr); }} .stage.formed:not(.wide) .form svg {{ min-width: 70vh; }}
.against {{ gap: 1em; text-align: center; }} .against p {{ font-size: 1.6em; max-width: 34em; text-wrap: balance; }} .against p:first-child {{ font-weight: 700; }} .against p:nth-child(2) {{ font-size: 4em; line-height: 1.1; font-weight: 700; max-width: 18em; }}
/* the limit takes its room from the fruit and the slate's line */ dialog:has(.limiting:not(:empty)) svg.fruit {{ max-height: 21vh; }} dialog:has(.limiting:not(:empty)) .slate {{ display: none; }}
.limits {{ display: block; font-size: calc(1em / 1.1); font-weight: 400; }}
.notices p {{ border-left: .3em solid {style.LIMIT}; padding-left: .5em; }}
.stage {{ display: grid; grid-template-columns: minmax(0, 1.2fr) minmax(0, 1fr); gap: 1.2em; min-height: 0; }}
.whole {{ display: grid; grid-template-rows: auto minmax(0, 1fr) auto auto; min-width: 0; min-height: 0; }}
.whole .up, .across {{ font-weight: 600; }} .head, .key {{ display: flex; gap: 0 1.2em; flex-wrap: wrap; justify-content: space-between; }}
.key > span {{ white-space: nowrap; }} .key .mark {{ zoom: 1.6; }} .across {{ float: right; margin-left: 1em; }} .days {{ min-width: 0; clear: both; }}
.picture {{ min-width: 0; min-height: 0; position: relative; overflow: hidden; }}
.picture > * {{ position: absolute; inset: 0; width: 100% !important; height: 100% !important; margin: 0 !important; }}
.spot {{ min-width: 0; min-height: 0; display: flex; flex-direction: column; gap: .45em; overflow: auto; }}
.name {{ font-size: 3.8em; line-height: 1.05; color: {style.SPOT}; overflow-wrap: anywhere; }}
.name.long {{ font-size: 2.6em; }} .name.longer {{ font-size: 1.5em; }} .name.longest {{ font-size: 1.1em; }} .kept {{ margin-left: .2em; color: {style.INK}; }}
.beside {{ display: grid; grid-template-columns: minmax(0, 1fr) minmax(0, 1.15fr); gap: 1em; align-items: center; }}
.beside .fruit {{ min-width: 0; }} svg.fruit {{ display: block; width: 100%; max-height: 35vh; }} .scale {{ text-align: center; }} .nobody .beside {{ display: none; }} .beside:not(:has(.figures > *)) {{ grid-template-columns: minmax(0, 1fr); }} .formed svg.fruit, dialog:has(.leads:not(:empty)) svg.fruit {{ max-height: 26vh; }}
.figures {{ display: grid; gap: .35em; }}
.figures b {{ font-size: 1.9em; line-height: 1.1; white-space: nowrap; }} .figures dd {{ display: flex; flex-wrap: wrap; gap: 0 .6em; align-items: baseline; }}
.figures span {{ white-space: nowrap; }}
.stands {{ display: flex; flex-wrap: wrap; gap: .2em 1.4em; }} .stands b {{ font-size: 1.7em; line-height: 1.1; }}
.why {{ font-weight: 600; font-size: 1.1em; overflow-wrap: anywhere; }} .picked {{ font-size: 1.1em; }}
.rests::before {{ content: ""; display: block; height: 3.5vh; width: calc(4vh * var(--seasons, 0)); max-width: 100%; background: radial-gradient(circle, {style.LEAF} 0 1.7vh, transparent 1.75vh) 0 0 / 4vh 3.5vh repeat-x; }}
.strip {{ display: flex; flex-wrap: wrap; gap: 0 .1em; align-items: baseline; border-top: 2px solid {style.INK}; padding-top: .2em; }}
.strip button {{ flex: none; border: 2px solid transparent; border-radius: .3em; background: none; padding: 0 .2em; cursor: inherit; white-space: nowrap; }}
.strip kbd {{ font: inherit; font-weight: 700; margin-right: .3em; color: {style.SPOT}; }}
.strip button:disabled {{ display: none; }}
.strip .view {{ margin-left: auto; flex: 0 1 auto; min-width: 3em; max-width: min(24em, 100%); overflow: hidden; text-overflow: ellipsis; white-space: nowrap; font-weight: 600; }}
.pointed .strip button {{ border-color: {style.INK}; cursor: pointer; }} .pointed .strip button:hover {{ background: {style.WASH}; }}
button:focus-visible, input:focus-visible {{ outline: .15em solid {style.SPOT}; outline-offset: 1px; }}
.over {{ position: relative; z-index: 1; min-height: 0; background: {style.PAPER}; padding: .4em; display: flex; flex-direction: column; align-items: center;
  justify-content: center; gap: .6em; overflow: auto; }}
.code .drawn {{ flex: none; width: max(400px, min(72vh, 86vw)); max-width: 100%; }} .code svg {{ display: block; width: 100%; height: auto; }}
.code .address {{ max-width: 95%; max-height: 4.2em; overflow: auto; overflow-wrap: anywhere; font-weight: 600; }}
.code .why {{ font-size: 1.5em; max-width: 30em; }}
.help {{ justify-content: flex-start; }} .help h2 {{ font-size: 1.8em; }} .help dl {{ font-size: 1.2em; columns: 2; column-gap: 2em; }}
.help div {{ display: grid; grid-template-columns: 3em auto; gap: .6em; padding: .12em 0; break-inside: avoid; }}
.help dt {{ font-weight: 700; color: {style.SPOT}; text-align: center; }}
.evidence {{ justify-content: flex-start; align-items: stretch; }} .evidence h2 {{ font-size: 3.6vh; line-height: 1.2; color: {style.SPOT}; }}
.evidence p {{ font-size: max(1em, 3.4vh); line-height: 1.2; padding-left: .6em; text-indent: -.6em; }} .evidence p::before {{ content: "· "; }}
.names {{ align-items: stretch; justify-content: flex-start; gap: .2em; }} .names > p {{ font-size: max(1em, 3.4vh); line-height: 1.15; }} .names .title {{ font-weight: 700; }}
.names ol {{ list-style: none; margin: 0; padding: 0; flex: 1 1 0; min-height: 0; overflow: hidden; font-size: max(1em, 3.34vh); line-height: 1.3; display: grid; grid-auto-flow: column; grid-auto-columns: max-content; align-content: start; column-gap: .5em; }}
.names li {{ display: grid; grid-column: span 4; grid-template-columns: subgrid; }} .names li + li {{ padding: 0; }}
.names button {{ display: grid; grid-column: 1 / -1; grid-template-columns: subgrid; border: 0; background: none; padding: 0 .7em 0 0; line-height: inherit; text-align: left; white-space: nowrap; cursor: inherit; }}
.names span:first-child, .names span:last-child {{ text-align: right; }} .names span:nth-child(2) {{ font-weight: 700; color: {style.SPOT}; overflow: hidden; text-overflow: ellipsis; max-width: 40vw; }} .names .where {{ font-weight: 700; min-height: 1.2em; }} .pointed .names button {{ cursor: pointer; }}
.finding {{ justify-content: flex-start; }} .finding > * {{ width: 100%; }}
@media (max-height: 600px) {{ .limiting {{ font-size: 1.7em; }} dialog:has(.limiting:not(:empty)) .days {{ display: none; }} .name {{ font-size: 2.4em; }} svg.fruit {{ max-height: 26vh; }} .figures b {{ font-size: 1.4em; }} .stands b {{ font-size: 1.3em; }} }}
@media (pointer: coarse) {{ .strip button {{ border-color: {style.INK}; min-height: 44px; margin: 2px 0; }} }}
@media (max-width: 800px), (max-aspect-ratio: 1) {{ .help dl {{ columns: 1; }}
  dialog {{ overflow: auto; cursor: auto; }} dialog[open] {{ display: block; }} .stage {{ grid-template-columns: minmax(0, 1fr); }}
  .spot {{ order: -1; overflow: visible; }} .figures b {{ font-size: 1.5em; }} .figures span {{ display: block; }} .stands b {{ font-size: 1.3em; }} .picture {{ height: 60vh; }} .over {{ position: fixed; inset: 0; padding-bottom: 8em; }}
  .strip {{ position: sticky; bottom: -.4em; padding-bottom: .4em; z-index: 2; background: {style.PAPER}; }}
  .lost {{ position: fixed; inset: 0 0 auto; z-index: 2; background: {style.PAPER}; }} .strip .view {{ margin: 0; }} }}
"""
# What the server drew for a page.
_DRAWN = f"""
svg.fruit [stroke="{style.EDGE}"] {{ stroke: {style.by_name("edge")}; }} svg.fruit [fill="{style.DOUBT}"] {{ fill: {style.by_name("doubt")}; }}
svg.fruit .on-paper {{ fill: {style.by_name("ink")}; }}
"""
# Where the reader's system picks the colors, its own ground says whether the room is dark; what is drawn keeps its colors and suits that ground.
_FORCED = f"""
@media (forced-colors: active) {{ dialog.dark {{ {_PAPER} }} svg, .rests::before {{ forced-color-adjust: none; }} }}
@media (forced-colors: active) and (prefers-color-scheme: dark) {{ dialog, dialog.dark {{ {_DARK} }} }}
"""
HALL_CSS = (
    f":host {{ {_PAPER} }} dialog.dark {{ {_DARK} color-scheme: dark; }}"
    + style.all_by_name(_SHEET)
    + _DRAWN
    + _FORCED
)
