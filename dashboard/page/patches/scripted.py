"""An element with a script of its own, by public names: what it runs, how it is dressed, what it hears and what it sends.

Seen on: panel 1.9.4.
Mends: Panel's ``JSComponent`` is written by names that begin with an underscore. A script named twice, as source and as bundle, is
fetched and kept by the browser; named as source alone it is sent as text and compiled each time a page opens.
Upstream: docs/upstream.md, "Scripts of a component".
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, ClassVar

from panel.custom import JSComponent

from dashboard.page.patches.bare import Bare


class Element(Bare, JSComponent):
    """``script`` draws it in the browser, ``dress`` are its stylesheets; ``heard`` is called with what the script sends."""

    script: ClassVar[Path]
    dress: ClassVar[tuple[str, ...]] = ()

    def __init_subclass__(cls) -> None:
        super().__init_subclass__()
        # Past Param, which takes a class for its own only once it is made.
        for name, value in (("_esm", cls.script), ("_bundle", cls.script), ("_stylesheets", [*cls.dress])):
            type.__setattr__(cls, name, value)

    def heard(self, msg: Any) -> None:
        """What the browser sends, as the visitor's program wrote it: not to be trusted."""

    def send(self, msg: Any) -> None:
        """To the script, where it listens for ``msg:custom``."""
        self._send_msg(msg)

    def _handle_msg(self, data: Any) -> None:
        self.heard(data)
