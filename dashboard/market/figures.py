"""Figures of a market as people write them: short, in the reader's unit, and close enough that nothing measured moves."""

from __future__ import annotations

from collections.abc import Sequence

_NEAR = 1e-7  # of the figure itself: eight significant digits, as many as a statement carries
_MOST_DECIMALS = 9
_LARGEST = 1e9  # beyond it decimals are no way to write a figure


def short(value: float) -> str:
    """As few decimals as say it: 2.375, 14.33, 9."""
    if abs(value) < _LARGEST:
        for decimals in range(_MOST_DECIMALS + 1):
            text = f"{value:.{decimals}f}"
            if abs(float(text) - value) <= _NEAR * abs(value):
                return text.replace("-0", "0", 1) if float(text) == 0 else text
    return repr(value)


def short_row(values: Sequence[float]) -> list[str]:
    """``short`` of figures in ascending order; in full where shortening would make two different ones the same."""
    texts = [short(value) for value in values]
    if len({float(text) for text in texts}) < len(set(values)):
        return [repr(value) for value in values]
    return texts
