"""How long each message of a visit took to be answered.

Seen on: bokeh 3.9.2.
Mends: between a message that has been put together and its answer Bokeh's websocket handler has no place for a caller of ours.
Upstream: docs/upstream.md, "A server's handlers".
"""

from __future__ import annotations

import time
from typing import Any


class Timed:
    """Before Bokeh's websocket handler: ``handled`` is called once a message."""

    def handled(self, kind: str, seconds: float) -> None:
        """``kind`` is the protocol's word for the message, as ``PATCH-DOC``."""

    async def _handle(self, message: Any) -> Any:
        begun = time.perf_counter()
        try:
            return await super()._handle(message)  # type: ignore[misc]
        finally:
            self.handled(message.msgtype, time.perf_counter() - begun)
