"""A day of the season as somebody types it: "Jun 10", "10 June", "2027-06-10", "6/10" where the reader writes the month first."""

from __future__ import annotations

import re
from datetime import date

from dashboard.ripening.days import _MONTHS, day_of, month_first

_ISO = re.compile(r"(?:(\d{4})-)?(\d{1,2})-(\d{1,2})")
_SLASHED = re.compile(r"(\d{1,2})[/.](\d{1,2})(?:[/.](\d{2}|\d{4}))?\.?")
_WORDED = re.compile(r"(?:(\d{1,2})\.?\s*)?([^\W\d_]+)\.?(?:\s*(\d{1,2}))?(?:,?\s*(\d{4}))?")
_SHORTEST = 3  # letters of a month


def typed_day(text: str, south: bool = False) -> float:
    """The day of the season that was typed; the year, where one is told, plays no part but that of 29 February.

    ValueError, one sentence, for what is no day.
    """
    plain = " ".join(text.split())
    found = _parts(plain)
    if found is None:
        raise ValueError(f"{_short(plain)} is no day. Type it like Jun 10 or 2027-06-10.")
    month, day, year = found
    try:
        if year is not None:
            date(year, month, day)
        return day_of(month, day, south)
    except ValueError:
        raise ValueError(f"{_short(plain)} is in no calendar. Type it like Jun 10.") from None


def _parts(text: str) -> tuple[int, int, int | None] | None:
    """Month, day, and the year where there is one."""
    if whole := _ISO.fullmatch(text):
        year, month, day = whole.groups()
        return int(month), int(day), int(year) if year else None
    if whole := _SLASHED.fullmatch(text):
        one, other, year = whole.groups()
        month, day = (one, other) if month_first() else (other, one)
        return int(month), int(day), int(year) if year and len(year) == 4 else None
    if whole := _WORDED.fullmatch(text):
        before, word, after, year = whole.groups()
        month = _month(word)
        if month and (before is None) != (after is None):
            return month, int(before or after), int(year) if year else None
    return None


def _month(word: str) -> int | None:
    """The month that a word begins, from three letters on."""
    low = word.lower()
    if len(low) < _SHORTEST:
        return None
    return next((place for place, (name, _) in enumerate(_MONTHS, 1) if name.lower().startswith(low)), None)


def _short(text: str) -> str:
    return f"“{text[:30]}…”" if len(text) > 30 else f"“{text}”"
