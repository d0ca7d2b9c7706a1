"""Words with buttons in them that name a cultivar, and parts of a page that are folded under a heading."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import param
from markupsafe import Markup
from panel.custom import Child

from dashboard.charts import cards, style
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.live import at_once
from dashboard.page.patches.scripted import Element

_HERE = Path(__file__).parent


class Pressable(Element):
    """Takes only ``Markup``, as ``Prose``; ``act(what, name)`` is called with ``open`` or ``keep``."""

    words = param.String(default="", doc="markup in which what came from records is escaped")

    script = _HERE / "pressable.js"
    dress = (style.PROSE_CSS, cards.CARDS_CSS)

    def __init__(self, act: Callable[[str, object], None], **params: Any):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (5, 10), **params})
        self._act = act

    def say(self, words: Markup) -> None:
        if not isinstance(words, Markup):
            raise TypeError("words for the page must be Markup, so that text from records is escaped")
        if self.words != str(words):
            self.words = str(words)

    def bring(self) -> None:
        """Into sight, where it is answered what was asked for further down."""
        self.send("sight")

    @at_once
    def heard(self, msg) -> None:
        for what in ("open", "keep"):
            if what in msg:
                self._act(what, msg[what])


class Fold(Element):
    """``parts`` are shown when the heading is pressed; what ``make`` gives is made when it is pressed first, so that what few ask for costs
    nothing."""

    heading = param.String(default="")
    open = param.Boolean(default=False, doc="as it lies; set, it is unfolded from elsewhere")
    inside = Child()

    script = _HERE / "fold.js"
    dress = (style.BASE_CSS + cards.FOLD_CSS,)

    def __init__(self, heading: str, *parts: Any, make: Callable[[], list[Any]] | None = None, **params: Any):
        self._make = make
        super().__init__(
            heading=heading,
            inside=Column(*parts, sizing_mode="stretch_width"),
            **{"sizing_mode": "stretch_width", "margin": (0, 10, 8, 10), **params},
        )

    @at_once
    def heard(self, msg) -> None:
        self.open = bool(msg.get("open", True))
        make = self._make if self.open else None
        if make is not None:
            self._make = None
            self.inside.extend(make())


def star(name: str, kept: bool) -> Markup:
    """☆ or ★, to press."""
    return Markup(
        '<button type="button" class="star" data-keep="{}" aria-pressed="{}" aria-label="{}">{}</button>'
    ).format(
        name,
        "true" if kept else "false",
        f"{'Take off' if kept else 'Put on'} my slate: {name}",
        "★" if kept else "☆",
    )


def opening(name: str) -> Markup:
    """A name that opens its cultivar."""
    return Markup('<button type="button" class="opens" data-open="{}">{}</button>').format(name, name)
