"""What a fault of a call must be: one sentence."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from dashboard import AskError
from dashboard.market import MarketError

LONGEST = 400


def fault_of(call: Callable[[], Any]) -> str:
    """The sentence that a call fails with."""
    with pytest.raises((AskError, MarketError)) as caught:
        call()
    said = str(caught.value)
    assert one_sentence(said), said
    return said


def one_sentence(said: str) -> bool:
    return "\n" not in said and said[-1:] in ".?" and len(said) < LONGEST
