"""Figures of a market as people write them: short, in the reader's unit, and the same when they are read again."""

from __future__ import annotations

from collections.abc import Sequence

from dashboard.terms.units import UNITS, Unit

AS_IS = UNITS["ratio"]  # a share or a weight is written as it is
_MOST_DECIMALS = 12
_LARGEST = 1e9  # beyond it decimals are no way to write a figure


def eight_digits(si: float) -> str:
    """What a statement carries: close enough that no bound moves by what can be measured."""
    return f"{si + 0.0:.8g}"  # no minus before a nought


def short(si: float, unit: Unit = AS_IS) -> str:
    """A figure in ``unit`` with as few decimals as bring back its eight digits: 2.375, 14.33, 9."""
    written = unit.from_si(si)
    if abs(written) < _LARGEST:
        for decimals in range(_MOST_DECIMALS + 1):
            text = f"{written:.{decimals}f}"
            if eight_digits(unit.to_si(float(text))) == eight_digits(si):
                return "0" if float(text) == 0 else text
    return repr(float(written))


def short_row(row: Sequence[float], unit: Unit = AS_IS) -> list[str]:
    """``short`` of figures in ascending order; in full where shortening would make two different ones the same."""
    texts = [short(si, unit) for si in row]
    if len({float(text) for text in texts}) < len(set(row)):
        return [repr(float(unit.from_si(si))) for si in row]
    return texts
