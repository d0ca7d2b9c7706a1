"""Which keys the hall answers: whatever can stand on its screen declares those whose doing is seen there. Every other key does nothing,
and the foot of the screen shows just these (``keys.js``)."""

from __future__ import annotations

from collections.abc import Mapping

from dashboard.page.hall.limits import KEYS

OVER = ("against", "names", "code", "evidence")  # what is laid over the picture, one at a time
EVERYWHERE = (
    "find",
    *OVER,
    "view",
    "first",
    "leave",
    "close",
    "back",
)  # they bring something else to the screen
_CHOICES = ("undo", "redo", *KEYS, "clear", "notes")
_SPOKEN = ("step", "keep")  # they need the cultivar in sight
ANSWERED: dict[str, tuple[str, ...]] = {
    "": (*EVERYWHERE, *_CHOICES, *_SPOKEN, "move", "traits"),  # the hall's own picture
    "cultivar": (*EVERYWHERE, *_CHOICES, *_SPOKEN),
    "season": (*EVERYWHERE, *_CHOICES),
    "classes": (*EVERYWHERE, *_CHOICES),
    "beside": (*EVERYWHERE, *_CHOICES),
    "against": (*EVERYWHERE, "traits", "step"),
    "names": EVERYWHERE,
    "code": EVERYWHERE,
    "evidence": EVERYWHERE,
}


def answered(shown: str, possible: Mapping[str, bool]) -> list[str]:
    """The keys of what is ``shown`` that have something to do; ``possible`` names those that have not always."""
    return [key for key in ANSWERED[shown] if possible.get(key, True)]
