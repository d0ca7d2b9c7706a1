"""A button that saves a picture of the page as a file, SVG or PNG. The browser draws the file; what stands round the picture is told
when one is asked for, so that a change of the answer sends nothing for it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import param
from markupsafe import Markup

from dashboard.charts import style
from dashboard.page.parts import live
from dashboard.page.patches.scripted import Element

KINDS = ("svg", "png")
SAVER_CSS = (
    style.BUTTON_CSS
    + f"""
:host {{ position: relative; }} button {{ width: auto; min-height: 30px; padding: 2px 12px; white-space: nowrap; }} [hidden] {{ display: none !important; }}
.menu {{ position: absolute; z-index: 30; right: 0; top: 100%; width: max-content; max-width: min(520px, 92vw); box-sizing: border-box; padding: 6px 12px;
  background: {style.PAPER}; border: 1px solid {style.LEAF}; border-radius: 6px; box-shadow: 0 4px 14px rgba(0, 0, 0, .2); }}
.line {{ display: flex; gap: 8px; align-items: center; padding: 4px 0; }} .line span {{ flex: 1 1 auto; }} .line + .line {{ border-top: 1px solid {style.RULE}; }}
p {{ margin: 4px 0; }} p:empty {{ display: none; }}
.text {{ padding: 3px 8px; border: 0; }}
@media (max-width: 600px) {{ .text {{ margin-left: -8px; }} .menu {{ position: static; width: auto; max-width: none; }} }}
@media (pointer: coarse), (max-width: 600px) {{ button {{ min-height: 44px; }} }}
"""
)


@dataclass(frozen=True)
class Picture:
    """``figures``: names of pictures that stand on the page, saved side by side; else ``drawn()`` is one as SVG markup, with its width and
    height in pixels. ``reads``: how it is read, a sentence each; ``marks``: a legend, the drawing of each mark and its meaning."""

    key: str  # its part of the file's name
    title: str
    figures: tuple[str, ...] = ()
    drawn: Callable[[], tuple[Markup, int, int]] | None = None
    reads: tuple[str, ...] = ()
    marks: tuple[tuple[Markup, str], ...] = ()


class PictureSaver(Element):
    """``offered()`` are the pictures there are now; ``round_it(picture, kind)`` is the file's name and the lines over and under one."""

    font = param.String(default=style.FONT)
    ink = param.String(default=style.INK)
    paper = param.String(default=style.PAPER)

    script = Path(__file__).with_name("picture_saver.js")
    dress = (SAVER_CSS,)

    def __init__(
        self,
        offered: Callable[[], Sequence[Picture]],
        round_it: Callable[[Picture, str], Mapping[str, Any]],
        **params,
    ):
        super().__init__(**{"margin": (0, 10), **params})
        self._offered, self._round_it = offered, round_it

    @live.at_once
    def heard(self, msg) -> None:
        if msg.get("open") is True:
            self.send({"offered": [[one.key, one.title, list(one.figures)] for one in self._offered()]})
            return
        kind = msg.get("kind")
        found = next((one for one in self._offered() if one.key == msg.get("save")), None)
        if found is None or kind not in KINDS:
            self.send({"refused": "That picture is no longer on the page."})
            return
        self.send(
            {
                "kind": kind,
                "title": found.title,
                "figures": list(found.figures),
                "drawn": [*found.drawn()] if found.drawn else None,
                "reads": list(found.reads),
                "marks": [[str(mark), words] for mark, words in found.marks],
                **self._round_it(found, kind),
            }
        )
