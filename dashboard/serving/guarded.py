"""A visit's websocket behind the door."""

from __future__ import annotations

from typing import Any

from dashboard.page.patches.timed import Timed
from dashboard.serving.dressing import sentence


class Guarded(Timed):
    """Put before Bokeh's own websocket handler."""

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
