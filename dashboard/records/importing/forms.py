"""Cells that are more or less than one figure, like 8+, 7-, 6-7 or ~8: what each form counts as is asked, never guessed."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

ALONE = "the figure alone"
MIDDLE, LOWER, UPPER = "the middle", "the lower", "the upper"
_ONE = r"\d{1,3}(?:[.,]\d+)?"
# By the form, as it is named, how it is written.
_FORMS = {
    "8+": re.compile(rf"({_ONE})\s*\+"),
    "7-": re.compile(rf"({_ONE})\s*[-–—]"),
    "~8": re.compile(rf"(?:[~≈]|about|approx\.?|circa|ca?\.?)\s*({_ONE})", re.IGNORECASE),
    "6-7": re.compile(rf"({_ONE})\s*(?:[-–—]|to)\s*({_ONE})", re.IGNORECASE),
}
_NEAR, _TIMES = 2, 1.5  # as far apart may both ends lie, or as many times: 6-70 is a slip (judgement)
_COUNTED: dict[str, Callable[[Sequence[float]], float]] = {
    ALONE: min, LOWER: min, UPPER: max, MIDDLE: lambda both: sum(both) / len(both),
}  # fmt: skip


def form_of(cell: str) -> tuple[str, tuple[str, ...]] | None:
    """The form of a cell and the figures in it as they are written; None of another."""
    for form, written in _FORMS.items():
        if found := written.fullmatch(cell):
            low, high = sorted(
                float(part.replace(",", ".")) for part in (found[1], found[found.lastindex or 1])
            )
            near = high <= max(low + _NEAR, low * _TIMES)
            return (form, found.groups()) if near and (low < high or len(found.groups()) == 1) else None
    return None


def answers_to(form: str) -> tuple[str, ...]:
    """What cells of a form may count as."""
    return (MIDDLE, LOWER, UPPER) if form == "6-7" else (ALONE,)


def counted(figures: Sequence[str], said: str) -> str:
    """The figure that these count as, as it was said; "" where they do not count, or one is none."""
    if said not in _COUNTED or not all(figures):
        return ""
    return f"{_COUNTED[said]([float(one) for one in figures]):.12g}"
