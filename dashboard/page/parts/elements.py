"""The page elements the libraries lack: prose that only takes escaped text, tick boxes that count, a light table.

Tick boxes and table send one property a change, set every text as text, and are plain HTML that a keyboard and a
screen reader know.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any, ClassVar

import param
from markupsafe import Markup

from dashboard.charts import style
from dashboard.charts.listed import LISTED_CSS
from dashboard.charts.small import DRAWN_CSS
from dashboard.page.parts.live import at_once
from dashboard.page.patches.scripted import Element
from dashboard.page.patches.worded import Words

_HERE = Path(__file__).parent

CHOICES_CSS = (
    style.BASE_CSS
    + f"""
.groups {{ display: grid; gap: 10px; }}
fieldset {{ border: 0; padding: 0; margin: 0; min-width: 0; }}
legend {{ font-weight: 600; padding: 0 0 4px; }}
.options {{ display: flex; flex-wrap: wrap; gap: 4px 6px; }}
label.option {{ display: inline-flex; align-items: center; gap: 5px; border: 1px solid {style.EDGE}; border-radius: 6px;
  padding: 3px 8px 3px 5px; background: {style.PAPER}; cursor: pointer; min-height: 24px; }}
label.option:has(input:checked) {{ border-color: {style.LEAF}; background: {style.TICKED}; font-weight: 600; }}
label.option.none {{ color: {style.QUIET}; background: {style.WASH}; }}
label.option input {{ margin: 0; accent-color: {style.LEAF}; }}
.left {{ color: {style.QUIET}; font-size: 12px; font-variant-numeric: tabular-nums; font-weight: 400; }}
.note:empty {{ display: none; }} .note {{ margin: 4px 0 0; color: {style.QUIET}; font-size: 12.5px; }}
fieldset:has(.menu) {{ display: flex; flex-wrap: wrap; gap: 4px 10px; align-items: center; }} fieldset:has(.menu) legend {{ float: left; padding: 0; }}
select {{ font: inherit; border: 1px solid {style.EDGE}; border-radius: 6px; background: {style.PAPER}; color: {style.INK}; padding: 3px 6px; min-height: 32px; max-width: 100%; }} select:focus-visible {{ outline: 3px solid {style.CHOSEN}; outline-offset: 1px; }}
.typed {{ display: flex; flex-wrap: wrap; gap: 4px 8px; align-items: center; margin-top: 6px; }} .typed input {{ font: inherit; border: 1px solid {style.EDGE}; border-radius: 6px; padding: 3px 6px; min-height: 32px; box-sizing: border-box; }} .typed input[aria-invalid=true] {{ border-color: {style.LIMIT}; }} .typed input:focus-visible {{ outline: 3px solid {style.CHOSEN}; outline-offset: 1px; }}
details fieldset {{ margin: 6px 0 10px; }}
summary {{ cursor: pointer; font-weight: 600; padding: 4px 0; color: {style.LEAF}; }} summary:focus-visible {{ outline: 3px solid {style.CHOSEN}; outline-offset: 1px; }}
.options.narrow label.option {{ flex: 1 1 40%; }} .options.lines label.option {{ flex: 1 1 100%; }} .options.lines .left {{ margin-left: auto; }}
@media (pointer: coarse), (max-width: 600px) {{ label.option {{ min-height: 44px; padding: 3px 12px 3px 8px; }} select {{ min-height: 44px; font-size: 16px; }} .typed input {{ min-height: 44px; font-size: 16px; }} summary {{ padding: 13px 0; }} }}
"""
)

TOGGLE_CSS = f"""
.groups fieldset {{ display: flex; align-items: center; }} legend {{ {style.UNSEEN} }}
"""


def paragraphs(lines: Iterable[Any], look: str = "") -> Markup:
    """A paragraph a line, escaped; ``look`` are its classes."""
    dress = Markup(' class="{}"').format(look) if look else ""
    return Markup("").join(Markup("<p{}>{}</p>").format(dress, line) for line in lines)


class Prose(Words):
    """Words on the page. It takes only ``Markup``: whoever says something has escaped what came from records."""

    def __init__(self, words: Markup | None = None, **params):
        super().__init__("", stylesheets=[style.PROSE_CSS], **{"sizing_mode": "stretch_width", **params})
        self.say(words or Markup(""))

    def say(self, words: Markup) -> None:
        if not isinstance(words, Markup):
            raise TypeError("words for the page must be Markup, so that text from records is escaped")
        if self.object != str(words):
            self.object = str(words)


class ChoiceBoxes(Element):
    """Groups of tick boxes (or rounds); ``act(field, chosen values)`` is called on every change."""

    groups = param.List(
        default=[],
        doc="each: field, label, single, look, fold, options (value and label), typed (label, units, wrong)",
    )
    told = param.String(default="[]", doc="JSON of what ``tell`` was given")
    answered = param.Integer(default=0, doc="the last tick of this browser that ``told`` answers")

    script = _HERE / "choices.js"
    parts = (_HERE / "typing.js",)
    dress: ClassVar[tuple[str, ...]] = (CHOICES_CSS,)

    def __init__(self, act: Callable[[str, list[str]], None], **params):
        super().__init__(**params)
        self._act = act

    def tell(self, told: list[dict[str, Any]]) -> None:
        """For each group ``left``, what each option would leave, ``chosen``, the places of the chosen ones, ``set`` where a
        folded one is no longer as it was at the start, a ``note`` to stand under it, and where it has no meaning ``away``: hiding the whole element would have the browser lay out pictures that it has not drawn yet."""
        self.told = json.dumps(told)

    @at_once
    def heard(self, msg) -> None:
        self.answered = int(msg.get("tick", 0))
        field, offered = str(msg.get("field")), dict[str, list[str]]()
        for group in self.groups:  # a choice may stand in several lists
            offered.setdefault(group["field"], []).extend(str(option["value"]) for option in group["options"])
        if (
            field in offered
        ):  # in the order they stand; what is neither on offer nor a number that may be typed is no choice
            chosen = {str(value) for value in msg.get("chosen", ())}
            offered[field] += [
                value for value in sorted(chosen - {*offered[field]}) if self._typed(field, value)
            ]
            self._act(field, [value for value in offered[field] if value in chosen])

    def _typed(self, field: str, value: str) -> bool:
        units = [told for group in self.groups if group["field"] == field for told in group.get("typed", {}).get("units", ())]  # fmt: skip
        said = re.fullmatch(r"([1-9]\d{0,4})([a-z]+)", value, re.ASCII)
        return said is not None and any(unit == said[2] and least <= int(said[1]) <= most for unit, _, least, most in units)  # fmt: skip


class Toggle(ChoiceBoxes):
    """One of a few ways to show the same, in a line."""

    dress: ClassVar[tuple[str, ...]] = (CHOICES_CSS, TOGGLE_CSS)


class Abreast(ChoiceBoxes):
    """Groups beside each other, as many as have room."""

    dress: ClassVar[tuple[str, ...]] = (
        CHOICES_CSS,
        ".groups { display: flex; flex-wrap: wrap; gap: 6px 24px; }",
    )


class RowTable(Element):
    """A page of rows; ``act(what, value)`` is called with ``open``, ``keep``, ``bar``, ``sort`` or ``page``."""

    told = param.String(
        default='{"columns": [], "rows": [], "empty": "Drawing …"}', doc="JSON of what ``tell`` was given"
    )

    script = _HERE / "rows.js"
    dress = (style.ROWS_CSS, DRAWN_CSS, LISTED_CSS)

    def __init__(self, act: Callable[[str, object], None], **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (5, 10), **params})
        self._act = act

    def tell(self, view: dict[str, Any]) -> None:
        """``view``: columns, rows, title, and where they matter page, pages, total, sort, empty, and asked: how often the
        table was asked for by pressing something else, which brings it into sight.

        It travels as one text: a nested list would be walked for models at every change.
        """
        self.told = json.dumps(view, ensure_ascii=False)

    @at_once
    def heard(self, msg) -> None:
        for what in ("open", "keep", "bar", "sort", "page"):
            if what in msg:
                self._act(what, msg[what])
