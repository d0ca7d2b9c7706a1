"""A day typed as 7.10, which a spreadsheet takes for a number and shows as 7.1: whether it is the 1st or the 10th is asked."""

from __future__ import annotations

import re
from collections.abc import Iterable

KEPT, LOST = "right", "a 0 is lost"
LOST_ZERO = "lost_zero"  # the last step of where the answer stands
_NUMBER = re.compile(r"(\d{1,2})\.(\d{1,2})")
_DAYS, _MONTHS = (1, 2, 3), (1,)  # that are others with a 0 behind: the 10th, 20th, 30th; October


def doubtful(cells: Iterable[str], month_first: bool) -> tuple[str, ...]:
    """The days that may have lost a 0; none where another day still has one."""
    found = [cell for cell in dict.fromkeys(cells) if _NUMBER.fullmatch(cell)]
    if any(cell.endswith("0") for cell in found):
        return ()
    return tuple(cell for cell in found if re.fullmatch(r"\d", cell.partition(".")[2]) and int(cell[-1]) in (_DAYS if month_first else _MONTHS))  # fmt: skip


def mended(cell: str, month_first: bool) -> str:
    """A day that may have lost a 0, with it."""
    return f"{cell}0" if doubtful([cell], month_first) else cell
