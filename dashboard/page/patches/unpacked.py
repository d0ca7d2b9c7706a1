"""Nothing that a visitor sends is unpacked: 150 kB of it can be 120 MB. The page sends nothing packed.

Seen on: bokeh 3.9.2.
Mends: Bokeh inflates compressed bytes of a message whole, whatever they come to, with no bound and no way to say that none are wanted.
Upstream: docs/upstream.md, "Packed bytes of a message".
"""

from __future__ import annotations

from typing import Any

from bokeh.core.serialization import DeserializationError, Deserializer


def refuse() -> None:
    """From now on, in every server of this process."""

    def refused(_self: Deserializer, _packed: Any) -> Any:
        raise DeserializationError("nothing packed is taken")

    Deserializer._decode_bytes = refused  # type: ignore[assignment, method-assign]
