"""A day of the season as somebody types it: "Jun 10", "10 June" or 2027-06-10."""

from __future__ import annotations

import re
from datetime import date

from dashboard.ripening.days import MONTHS, day_of

_FORMS = (
    re.compile(r"(?P<month>[a-z]+)\.? ?(?P<day>\d{1,2})(?:, ?\d{4})?"),
    re.compile(r"(?P<day>\d{1,2})\.? ?(?P<month>[a-z]+)\.?(?:,? \d{4})?"),
)
_SHORTEST = 3  # letters of a month
ASKED = "write it as Jun 10 or 2027-06-10."


def day_typed(text: str, south: bool = False) -> float:
    """The day of the season; the year does not count. ValueError, one sentence, for what is no date."""
    plain = " ".join(text.split()).casefold()
    if re.fullmatch(r"\d{4}-\d{2}-\d{2}", plain):
        try:
            found = date.fromisoformat(plain)
        except ValueError:
            raise ValueError(f"{text!r} is in no calendar; {ASKED}") from None
        return day_of(found.month, found.day, south)
    for form in _FORMS:
        if (told := form.fullmatch(plain)) and (month := _month(told["month"])):
            try:
                return day_of(month, int(told["day"]), south)
            except ValueError as fault:
                raise ValueError(f"{text!r} is in no calendar ({fault}); {ASKED}") from None
    raise ValueError(f"{text[:40]!r} is no day; {ASKED}")


def _month(word: str) -> int:
    """1 to 12; 0 for a word that begins no month's name, or is too short to tell which."""
    found = [place for place, name in enumerate(MONTHS, start=1) if name.casefold().startswith(word)]
    return found[0] if found and len(word) >= _SHORTEST else 0
