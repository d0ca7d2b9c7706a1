"""Marks, colours and page dress: one place, so that a picture, a table and a legend always agree.

Flesh color is told by fill *and* by what is drawn inside the mark, shape type by the mark's outline, so nothing
rests on colour alone. Contrast of every line and text colour below is checked in tests/charts/test_style.py.
"""

from __future__ import annotations

INK = "#22303a"
QUIET = "#56646d"
PAPER = "#ffffff"
WASH = "#f3f5f2"
LEAF = "#2c5545"  # headings, buttons, the picked stretch of a calendar
OUT = "#8a969c"  # a cultivar outside the market's limits
LIMIT = "#a3341f"  # the market's limit lines
CHOSEN = "#0b5fa5"  # what the visitor has picked out
EDGE, PRESSED, RULE = "#c5ccc8", "#b5bfba", "#dde2df"  # round a box, round a quiet button, between rows
GAP = "#f6ddd7"  # behind a small drawing: days that the slate leaves bare
BARE, BARE_EDGE, COVERED = (
    "#f1c9bf",
    "#b4513c",
    "#9dbdae",
)  # of the slate's strip: a day without fruit, a gap's line, a day with it
SHADES = (
    "#e6efe9",
    "#c6d9cd",
    "#9dbfab",
    "#76a68b",
    "#4a7d63",
)  # of a class's week: from just covered to certain
GAPS = ("#e8a391", "#f3c6bb", "#fae3dc")  # from never any fruit to nearly covered
DOUBT = "#d3dad6"  # round a drawn fruit: where its size may lie
TICKED, PICKED, FAULTY = "#e3ece6", "#e2eef9", "#fbf1ee"  # grounds: of a ticked box, a picked row, a fault
SPOT = "#8a1f6b"  # the cultivar that is spoken of in the hall: no other mark has this colour
SKIN, RED_SKIN = "#f7e6bd", "#8f1d2c"  # the ground colour of a drawn fruit's skin, and its red share
PHONE, NARROW = (
    700,
    1000,
)  # pixels: up to here a window is a phone's, or has no room for the choices beside the tabs
FONT = 'system-ui, "Segoe UI", "DejaVu Sans", sans-serif'  # the reader's own: not the Roboto the shell brings, whose files are fetched

# fill, and the mark for a round and for a flat fruit
FLESH = {
    "yellow": ("#e8a713", "circle", "diamond"),
    "white": (PAPER, "circle_dot", "diamond_dot"),
    "red": ("#d4586f", "circle_cross", "diamond_cross"),
}
UNKNOWN_FLESH = ("#b9c1c4", "circle_x", "square_x")


def fill(flesh_colour: str) -> str:
    return FLESH.get(flesh_colour, UNKNOWN_FLESH)[0]


def mark(flesh_colour: str, shape_type: str) -> str:
    _, on_round, on_flat = FLESH.get(flesh_colour, UNKNOWN_FLESH)
    return on_flat if shape_type == "flat" else on_round


def mark_class(flesh_colour: str, shape_type: str) -> str:
    """The same mark as words for a stylesheet: ``"yellow round"``; only known words come out."""
    flesh = flesh_colour if flesh_colour in FLESH else "unknown"
    return f"{flesh} {'flat' if shape_type == 'flat' else 'round'}"


# Where the reader's system picks the colours, a mark is still what it is in the picture; around it is white, whatever the ground.
MARK_CSS = f"""
@media (forced-colors: active) {{ .mark, .ring, .bar, .thin, .swatch {{ forced-color-adjust: none; box-shadow: 0 0 0 2px {PAPER}; }} }}
.mark {{ display: inline-block; width: 11px; height: 11px; border: 1.6px solid {INK}; border-radius: 50%;
  position: relative; vertical-align: -1px; box-sizing: border-box; }}
.mark.flat {{ border-radius: 1px; transform: rotate(45deg) scale(.86); }}
.mark.yellow {{ background: {FLESH["yellow"][0]}; }}
.mark.white {{ background: radial-gradient(circle, {INK} 0 1.6px, {FLESH["white"][0]} 1.9px); }}
.mark.red {{ background: linear-gradient({INK}, {INK}) center/1.4px 100% no-repeat,
  linear-gradient({INK}, {INK}) center/100% 1.4px no-repeat, {FLESH["red"][0]}; }}
.mark.unknown {{ background: linear-gradient(45deg, transparent 44%, {INK} 46% 54%, transparent 56%),
  linear-gradient(-45deg, transparent 44%, {INK} 46% 54%, transparent 56%), {UNKNOWN_FLESH[0]}; }}
"""

# The same colours by name, for stylesheets that are files of their own and for what is laid on another paper.
NAMED = {
    "ink": INK, "quiet": QUIET, "paper": PAPER, "wash": WASH, "leaf": LEAF, "out": OUT, "limit": LIMIT, "chosen": CHOSEN,
    "edge": EDGE, "rule": RULE, "ticked": TICKED, "picked": PICKED, "faulty": FAULTY, "gap": GAP, "spot": SPOT, "bare": BARE,
    "bare_edge": BARE_EDGE, "covered": COVERED, "doubt": DOUBT,
    **{f"shade_{at}": shade for at, shade in enumerate(SHADES)}, **{f"gap_{at}": gap for at, gap in enumerate(GAPS)},
}  # fmt: skip
# The hall in a dark room: light ink on dark paper. What was the deeper the surer is here the brighter. A fruit keeps its colours.
DARK = {
    "ink": "#eef2f3", "quiet": "#b6c2c8", "paper": "#12181d", "wash": "#1f282e", "leaf": "#8fd3b0", "out": "#7d8a91", "limit": "#ff9a80", "chosen": "#7fc0ff",
    "edge": "#56636b", "rule": "#36424a", "ticked": "#21382e", "picked": "#1d3448", "faulty": "#3a1f19", "gap": "#4a2019", "spot": "#f7a6dc", "bare": "#63291d",
    "bare_edge": "#ff8a6c", "covered": "#4c8067", "doubt": "#4a565d",
    "shade_0": "#1e3329", "shade_1": "#274638", "shade_2": "#305846", "shade_3": "#3a6a54", "shade_4": "#93d8b4",
    "gap_0": "#8f3423", "gap_1": "#6f2b1e", "gap_2": "#4f241b",
}  # fmt: skip
COLOURS_CSS = f":root {{ {' '.join(f'--{name}: {colour};' for name, colour in NAMED.items())} }}\n"


def by_name(name: str) -> str:
    """A colour as a stylesheet or a drawing asks for it where the paper may be dark: what it is on light paper, unless it is told."""
    return f"var(--{name}, {NAMED[name]})"


def all_by_name(sheet: str) -> str:
    """The sheet, with each of its colours asked for by name."""
    for name, colour in NAMED.items():
        sheet = sheet.replace(colour, by_name(name))
    return sheet


UNSEEN = "position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap;"  # there for a screen reader alone

BASE_CSS = f"""
:host {{ font-family: {FONT}; color: {INK}; font-size: 14px; }}
button {{ font: inherit; color: inherit; cursor: pointer; }}
button:focus-visible, input:focus-visible, .wrap:focus-visible {{ outline: 3px solid {CHOSEN}; outline-offset: 1px; }}
"""

# Over the rows or, in a wide window, beside them.
BESIDE_CSS = """
@media (min-width: 1601px) { :host { flex-direction: row-reverse !important; align-items: flex-start; }
  .rows { flex: 1 1 0; min-width: 0; } .pictures { flex: 0 0 30%; min-width: 0; } }
"""

CONTAINED = f".contained {{ background: {LEAF}; color: {PAPER}; }}"  # the one place with white on green
BUTTON_CSS = (
    BASE_CSS
    + f"""
button {{ width: 100%; min-height: 38px; padding: 6px 16px; border: 1px solid {LEAF}; border-radius: 4px; font-weight: 500; line-height: 1.5; }}
{CONTAINED} .outlined {{ background: {PAPER}; color: {LEAF}; }}
.text {{ background: none; border-color: transparent; color: {LEAF}; }}
button:disabled {{ color: {QUIET}; background: {WASH}; border-color: {EDGE}; cursor: default; }}
@media (hover: hover) {{ button:enabled:hover {{ filter: brightness(.94); }} }}
@media (pointer: coarse), (max-width: 600px) {{ button {{ min-height: 44px; }} }}
"""
)

RUNNING_CSS = (
    BASE_CSS
    + f"""
[hidden] {{ display: none !important; }}
h2 {{ margin: 0 0 6px; font-size: 18px; line-height: 1.25; }} p {{ margin: 0 0 8px; line-height: 1.45; max-width: 92ch; overflow-wrap: anywhere; }}
.line {{ display: flex; flex-wrap: wrap; gap: 6px 8px; align-items: end; margin: 0 0 8px; }}
label {{ display: grid; gap: 2px; font-size: 12.5px; min-width: 0; }} .line label {{ flex: 0 1 340px; }}
input[type=text] {{ font: inherit; font-size: 14px; color: {INK}; border: 1px solid {OUT}; border-radius: 4px; padding: 5px 8px; min-height: 36px;
  width: 100%; min-width: 0; box-sizing: border-box; }}
input[type=file] {{ font: inherit; font-size: 12.5px; max-width: 100%; min-width: 0; }}
button {{ border: 1px solid {LEAF}; border-radius: 4px; background: {PAPER}; color: {LEAF}; font-weight: 500; padding: 5px 12px; min-height: 36px; }}
button:disabled {{ color: {QUIET}; background: {WASH}; border-color: {EDGE}; cursor: default; }}
.faults p {{ border-left: 4px solid {LIMIT}; background: {FAULTY}; padding: 4px 8px; margin: 0 0 6px; }}
ol {{ margin: 0 0 8px; padding: 0 0 0 2em; max-width: 92ch; }}
li > button {{ vertical-align: middle; }} li::marker {{ color: {QUIET}; }}
li {{ border-bottom: 1px solid {RULE}; padding: 2px 0; }} li.here {{ background: {TICKED}; }}
li .presses {{ float: right; white-space: nowrap; }}
li .presses button {{ border-color: transparent; background: none; padding: 2px 8px; min-width: 32px; min-height: 32px; color: {INK}; }}
li .presses button:disabled {{ color: {QUIET}; opacity: .45; }}
li button.open {{ border: 0; background: none; padding: 4px 0; text-align: left; text-decoration: underline; font-weight: 600; overflow-wrap: anywhere;
  max-width: calc(100% - 120px); min-height: 32px; }}
li::after {{ content: ""; display: block; clear: both; }}
@media (pointer: coarse), (max-width: 600px) {{
  button, input[type=text], li .presses button, li button.open {{ min-height: 44px; }} li .presses button {{ min-width: 44px; padding: 2px; }}
  input[type=text] {{ font-size: 16px; }} input[type=file]::file-selector-button {{ min-height: 44px; }} li button.open {{ max-width: calc(100% - 136px); }} }}
"""
)

TABS_CSS = (
    BASE_CSS
    + f"""
.tabs {{ display: flex; overflow-x: auto; scrollbar-width: thin; position: relative; border-bottom: 1px solid {EDGE}; }}
[role=tab] {{ flex: none; min-height: 46px; padding: 8px 16px; border: 0; border-bottom: 3px solid transparent; background: none;
  color: {QUIET}; font-weight: 500; white-space: nowrap; }}
@media (hover: hover) {{ [role=tab]:hover {{ background: {WASH}; }} }}
[role=tab][aria-selected=true] {{ color: {LEAF}; border-color: {LEAF}; }}
@media (prefers-contrast: more) {{ [role=tab] {{ color: {INK}; }} [role=tab][aria-selected=true] {{ color: {INK}; font-weight: 700; box-shadow: inset 0 0 0 3px {INK}; }} }}
@media (forced-colors: active) {{
  [role=tab] {{ border-color: Canvas; }}
  [role=tab][aria-selected=true] {{ forced-color-adjust: none; color: HighlightText; background: Highlight; border-color: Highlight; }} }}
[role=tab]:focus-visible {{ outline-offset: -3px; }}
@media (prefers-reduced-motion: no-preference) {{ .tabs {{ scroll-behavior: smooth; }} }}
"""
)

ROWS_CSS = (
    BASE_CSS
    + MARK_CSS
    + f"""
.wrap {{ overflow-x: auto; }} .more {{ margin: 0 0 2px; font-size: 12.5px; color: {QUIET}; }}
table {{ border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; font-size: 13px; }}
caption {{ text-align: left; color: {QUIET}; padding: 0 max(0px, 100% - min(92ch, 84vw)) 4px 0;
  caption-side: top; }}
thead th {{ border-bottom: 2px solid {LEAF}; text-align: left; vertical-align: bottom; font-weight: 600; padding: 4px 6px; }}
thead th button {{ border: 0; background: none; padding: 0; font-weight: 600; text-align: inherit; }}
tbody th, tbody td {{ border-bottom: 1px solid {RULE}; padding: 4px 6px; text-align: left; font-weight: 400; vertical-align: top; }}
.c-number {{ text-align: right; white-space: nowrap; }}
thead th.c-number {{ white-space: normal; min-width: 5em; }} thead th.c-number button {{ text-align: right; }}
.c-evidence {{ min-width: 7em; }}
.c-side {{ min-width: 9em; max-width: 20em; overflow-wrap: anywhere; }} .c-head {{ min-width: 6.2em; max-width: 13em; }}
.c-date {{ white-space: nowrap; }}
:is(.c-reason, .c-over) {{ min-width: 11em; max-width: 34em; }}
.c-name {{ white-space: nowrap; max-width: 16em; overflow: hidden; text-overflow: ellipsis; }}
button.open {{ border: 0; background: none; padding: 2px 0; color: {LEAF}; text-decoration: underline; font-weight: 600;
  max-width: 100%; overflow: hidden; text-overflow: ellipsis; }}
button.never {{ border: 1px solid {PRESSED}; background: {PAPER}; border-radius: 6px; padding: 2px 8px; min-height: 26px; font-size: 12.5px; white-space: nowrap; }}
button.keep {{ border: 0; background: none; font-size: 17px; line-height: 1; min-width: 26px; min-height: 26px; color: {LEAF}; }}
tbody th {{ position: sticky; left: 0; background: {PAPER}; }}
tr.out {{ color: {QUIET}; }}
tr.chosen > * {{ background: {PICKED}; }}
td.c-mark {{ min-width: 6.5em; }}
.nothing {{ white-space: normal; padding: 18px 8px; }}
.foot {{ display: flex; gap: 12px; align-items: center; padding: 8px 0; color: {QUIET}; }}
.foot button {{ border: 1px solid {PRESSED}; background: {PAPER}; border-radius: 6px; padding: 4px 12px; color: {INK}; }}
.foot button:disabled {{ opacity: .55; cursor: default; }}
@media (pointer: coarse), (max-width: 600px) {{
  .foot button, button.keep, button.never {{ min-height: 44px; min-width: 44px; }} button.open {{ min-height: 44px; }} }}
"""
)

PROSE_CSS = (
    BASE_CSS
    + MARK_CSS
    + f"""
h1, h2, h3 {{ margin: 0 0 6px; line-height: 1.25; }} h2 {{ font-size: 18px; }} h3 {{ font-size: 15px; }}
p, ul {{ margin: 0 0 8px; line-height: 1.45; max-width: 92ch; }} ul {{ padding-left: 1.2em; }}
.unseen {{ {UNSEEN} }}
.quiet {{ color: {QUIET}; }} .small {{ font-size: 12.5px; }}
.count {{ margin: 0; }}
.first {{ margin: 0; }} .first .rest {{ font-size: 14px; font-weight: 400; }} @media (max-width: {PHONE}px) {{ .first {{ font-size: 16px; }} }}
.legend {{ display: flex; flex-wrap: wrap; gap: 4px 16px; font-size: 12.5px; color: {INK}; }}
.legend span.item {{ display: inline-flex; gap: 5px; align-items: center; }}
.ring {{ display: inline-block; flex: none; width: 15px; height: 15px; border: 2.5px solid {LEAF}; border-radius: 50%; box-sizing: border-box; }}
.swatch {{ display: inline-block; width: 14px; height: 14px; border: 1px solid {EDGE}; box-sizing: border-box; }}
.bar {{ display: inline-block; width: 18px; border-top: 2.5px dashed {LIMIT}; }}
.thin {{ display: inline-block; width: 18px; border-top: 1.5px solid {QUIET}; }}
.notice {{ border-left: 4px solid {LIMIT}; background: {FAULTY}; padding: 8px 12px; margin: 0 0 8px; }}
dl {{ display: grid; grid-template-columns: repeat(auto-fill, minmax(150px, 1fr)); gap: 8px 18px; margin: 0 0 10px; }}
dt {{ color: {QUIET}; font-size: 12.5px; }} dd {{ margin: 0; }}
code {{ overflow-wrap: anywhere; }}
.row {{ display: grid; grid-template-columns: repeat(auto-fit, minmax(min(130px, 46%), 1fr)); gap: 12px 10px; margin: 0 0 10px; }}
figure {{ margin: 0; max-width: 220px; min-width: 0; }} figcaption {{ font-size: 12.5px; line-height: 1.4; overflow-wrap: anywhere; }}
svg.fruit, .photo {{ display: block; width: 100%; height: auto; margin: 0 0 4px; }} .photo {{ border-radius: 4px; }}
svg.picking {{ display: block; max-width: 92ch; overflow: visible; margin: 0 0 10px; }}
@media (max-width: {NARROW}px) {{ .springs.many .share {{ display: none; }} }}
svg.winters {{ display: block; max-width: 1100px; overflow: visible; }} .need {{ cursor: pointer; outline: none; }} .need foreignObject {{ display: none; pointer-events: none; }}
.need:is(:hover, :focus) foreignObject {{ display: block; }} .need:is(:hover, :focus) text {{ font-weight: 700; }} svg:has(.need:is(:hover, :focus)) .need:not(:hover, :focus) {{ opacity: .15; }}
.who {{ background: {PAPER}; border: 1px solid {EDGE}; border-radius: 6px; padding: 4px 8px; font-size: 12.5px; line-height: 1.35; }}
@media (forced-colors: active) {{ svg {{ forced-color-adjust: none; background: {PAPER}; color: {INK}; }} }} /* dark letters, whatever the ground */
summary {{ cursor: pointer; padding: 4px 0; }}
.line > summary {{ line-height: 1.45; height: 2.9em; padding: 0; margin: 4px 0; overflow: hidden; display: -webkit-box; -webkit-box-orient: vertical; -webkit-line-clamp: 2; }}
.line > summary::before {{ content: "▸ "; }} .line[open] > summary::before {{ content: "▾ "; }}
@media (pointer: coarse), (max-width: {PHONE}px) {{ .line > summary {{ margin: 8px 0; }} }}
"""
)
