"""A visit's websocket behind the door."""

from __future__ import annotations

import re
from typing import Any

from dashboard.door.answers import sentence
from dashboard.page.patches.timed import Timed

# Lists and tables in one part of a message. Unpacking 50,000 takes a tenth of a second and 500 within each other end in a fault;
# the page's own messages have some dozens, the market editor's one more for each field that was changed.
MOST_PARTS = 300
MOST_ENTRIES = 20_000  # of all its lists: every cultivar marked in a picture, many times over; each is looked at on its own
_QUOTED = re.compile(
    r'"[^"\\]*(?:\\.[^"\\]*)*(?:"|\\?\Z)', re.DOTALL
)  # what a visitor wrote may hold any number of brackets
UNMEANT = 1009  # how a websocket says: more than will be taken


class Guarded(Timed):
    """Put before Bokeh's own websocket handler."""

    async def on_message(self, fragment: str | bytes) -> None:
        if _meant(fragment):
            await super().on_message(fragment)  # type: ignore[misc]
        else:
            self.close(UNMEANT)  # type: ignore[attr-defined]

    def check_origin(self, origin: str) -> bool:
        """A page that came from the very name it calls, which the door has let in, or from one that was named."""
        _, _, site = origin.partition("://")
        return site.lower() == self.request.host.lower() or super().check_origin(origin)  # type: ignore[misc, attr-defined]

    def handled(self, kind: str, seconds: float) -> None:
        if kind == "PATCH-DOC":
            self.application.watch.changed(seconds)  # type: ignore[attr-defined]

    async def send_message(self, message: Any) -> None:
        if message.msgtype == "ERROR":  # holds what went on inside, down to the folders of this machine
            message.content.update(text=sentence(500), traceback=None)
        await super().send_message(message)  # type: ignore[misc]


def _meant(fragment: str | bytes) -> bool:
    """Whether the page sends such a thing: it sends text alone, never many lists, and none that is endless."""
    if isinstance(fragment, bytes):
        return False
    return _small(fragment) or _small(_QUOTED.sub("", fragment))


def _small(text: str) -> bool:
    return text.count("[") + text.count("{") <= MOST_PARTS and text.count(",") <= MOST_ENTRIES
