"""A plain button. The shell's own brings a root of its own scripts and styles with it, each."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import param

from dashboard.charts import style
from dashboard.page.patches.scripted import Element


class Button(Element):
    """``act()`` is called when it is pressed."""

    label = param.String(default="")
    variant: str = param.Selector(default="contained", objects=["contained", "outlined", "text"])  # type: ignore[assignment]
    disabled = param.Boolean(default=False)

    script = Path(__file__).with_name("button.js")
    dress = (style.BUTTON_CSS,)

    def __init__(self, label: str, act: Callable[[], Any], **look: Any):
        super().__init__(label=label, **{"margin": (5, 10), **look})
        self._act = act

    def heard(self, _msg) -> None:
        if not self.disabled:
            self._act()
