"""A field to find a cultivar by what one makes of its name: the likeliest ones under it, with class and picking time, taken by keys or press."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import param

from dashboard.answers.catalogue import Catalogue
from dashboard.charts import style
from dashboard.page.parts import live
from dashboard.page.patches.scripted import Element
from dashboard.records.names import found, nearest, plain
from dashboard.wording.figures import kind, picked

MOST = 8  # names under the field; how many more there are is said
LONGEST = 200  # characters of what is typed that are looked at

FINDER_CSS = (
    style.BASE_CSS
    + f"""
:host {{ font-size: inherit; }} [hidden] {{ display: none !important; }}
.search {{ position: relative; font-size: 14px; width: min(320px, 100%); }}
label {{ display: block; color: {style.QUIET}; font-size: 12.5px; padding: 0 0 2px; }}
input {{ font: inherit; color: {style.INK}; background: {style.PAPER}; border: 1px solid {style.OUT}; border-radius: 4px; padding: 8px 10px; width: 100%;
  min-height: 40px; box-sizing: border-box; text-overflow: ellipsis; }}
input:disabled {{ background: {style.WASH}; }}
.found {{ position: absolute; z-index: 1200; top: 100%; left: 0; width: min(520px, 88vw); max-height: min(440px, 55vh); overflow: auto; background: {style.PAPER};
  border: 1px solid {style.INK}; border-radius: 4px; box-shadow: 0 4px 14px rgba(0, 0, 0, .2); box-sizing: border-box; }}
p {{ margin: 0; padding: 6px 10px; }} ul {{ list-style: none; margin: 0; padding: 0; }}
li {{ display: flex; flex-wrap: wrap; gap: 0 1em; justify-content: space-between; padding: 6px 10px; cursor: pointer; border: 2px solid transparent; }}
.name {{ font-weight: 600; overflow-wrap: anywhere; min-width: 0; }} .about {{ color: {style.QUIET}; }}
li[aria-selected=true] {{ border-color: {style.CHOSEN}; background: {style.PICKED}; }} li[aria-selected=true] .about {{ color: {style.INK}; }}
@media (forced-colors: active) {{ li {{ border-color: Canvas; }} li[aria-selected=true] {{ border-color: Highlight; }} }}
@media (pointer: coarse), (max-width: 600px) {{ input, li {{ min-height: 44px; box-sizing: border-box; }} input {{ font-size: 16px; }} }}
.search.large {{ font-size: inherit; width: 100%; display: flex; flex-direction: column; align-items: center; gap: .5em; }}
.large label {{ position: absolute; clip-path: inset(50%); }}
.large input {{ font-size: 1.8em; width: min(100%, 20em); padding: .2em .4em; border: 3px solid {style.INK}; border-radius: .2em; }}
.large .found {{ position: static; width: min(100%, 44em); max-height: none; border: 0; box-shadow: none; }}
.large .about {{ color: {style.INK}; }} .large :is(li, p) {{ padding: .25em .6em; }}
"""
)


class Finder(Element):
    """``act(name)`` is called when one is taken; ``value`` is the name that stands in the field while nobody writes there."""

    label = param.String(default="Cultivar (type part of its name)")
    value = param.String(default="")
    large = param.Boolean(default=False, doc="in the letters of the hall, with the names in the flow")
    disabled = param.Boolean(default=False)
    told = param.String(
        default='{"part": "", "hits": []}', doc="JSON: what was looked for, and what was found"
    )

    script = Path(__file__).with_name("finding.js")
    dress = (style.all_by_name(FINDER_CSS),)  # it lies in the hall, too, where the room may be dark

    def __init__(self, catalogue: Catalogue, act: Callable[[str], None], **params):
        super().__init__(**{"margin": (5, 10), **params})
        self._catalogue, self._act = catalogue, act
        self._names = tuple(str(name) for name in catalogue.cultivars.index)

    @live.at_once
    def heard(self, msg) -> None:
        if "find" in msg:
            self.told = json.dumps(self._found(str(msg["find"])[:LONGEST]), ensure_ascii=False)
        elif msg.get("take") in self._names and not self.disabled:
            self._act(msg["take"])

    def _found(self, part: str) -> dict:
        """``held`` tells whether the names hold what was typed; where they do not, ``note`` says so."""
        hits = found(part, self._names)
        held, note = bool(hits) and plain(part) in plain(hits[0]), ""
        if plain(part) and not held:
            note = "No cultivar of that name. One letter away:" if hits else "No cultivar of that name."
            if not hits and (near := nearest(part, self._names)):
                hits, note = (near,), "No cultivar of that name. The nearest:"
        return {
            "part": part,
            "held": held,
            "note": note,
            "hits": [[name, self._about(name)] for name in hits[:MOST]],
            "more": len(hits) - len(hits[:MOST]),
        }

    def _about(self, name: str) -> str:
        """Class and usual picking time."""
        known = self._catalogue
        when = picked(known.windows.loc[name].to_dict(), known.south) if name in known.windows.index else ""
        return ", ".join(
            part
            for part in (kind(known.cultivars.loc[name].to_dict()), f"picked {when}" if when else "")
            if part
        )
