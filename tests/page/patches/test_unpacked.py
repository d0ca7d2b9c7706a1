"""Packed bytes in a message are refused before they are unpacked."""

from __future__ import annotations

import base64
import gzip

import pytest
from bokeh.core.serialization import DeserializationError, Deserializer

from dashboard.page.patches import unpacked

PACKED = {"type": "bytes", "data": base64.b64encode(gzip.compress(bytes(1_000))).decode()}


def test_nothing_packed_is_taken(monkeypatch):
    # As it is before; what another test began in this process counts for nothing.
    monkeypatch.setattr(Deserializer, "_decode_bytes", lambda _self, _packed: b"unpacked")
    assert Deserializer().decode(PACKED) == b"unpacked"
    unpacked.refuse()
    with pytest.raises(DeserializationError, match="nothing packed"):
        Deserializer().decode(PACKED)
