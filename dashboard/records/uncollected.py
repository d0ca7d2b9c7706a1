"""While very many rows come in nothing of them is in a ring, and to look for rings among them takes longer than to check them."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def uncollected() -> Iterator[None]:
    """Python's collector of what hangs together in rings waits meanwhile; all else goes as soon as nobody has it."""
    if not gc.isenabled():
        yield
        return
    gc.disable()
    try:
        yield
    finally:
        gc.collect(0)  # of what came meanwhile; else all that the program holds would be looked through
        gc.enable()
