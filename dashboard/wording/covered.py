"""How well a set fills a season, in one statement that page, paper and slate share: what a covered day is, and what that leaves of a year.

A day is covered in most years, not in each: told alone, that is read as a season without a bare day.
"""

from __future__ import annotations

import math

from dashboard.ripening.cover import Cover
from dashboard.ripening.model import ANY
from dashboard.wording.figures import counted


def statement(cover: Cover, kind: str, whose: str = "") -> str:
    """``Each of the 83 days has fruit in at least 8 years in 10. That leaves about 13 days a year without, not the same ones each year; 25 or
    more in the worst year of ten.``, of years of that ``kind``."""
    return f"{often(cover, kind, whose)} {left(cover, kind)}"


def often(cover: Cover, kind: str, whose: str = "") -> str:
    """The first sentence of it: on how many days there is fruit often enough."""
    words, days, covered = told_with(kind, cover.least), len(cover.days), int(cover.covered.sum())
    which = "none" if not covered else "each" if covered == days else "some" if covered > 1 else "just"
    told = words["only" if covered == days == 1 else which].format(covered=covered, days=counted(days, "day"))
    return (f"{whose}: {told}" if whose else told[0].upper() + told[1:]) + words["often"].format(cover.certainty)  # fmt: skip


def left(cover: Cover, kind: str, whose: str = "") -> str:
    """The second: how many days a year have none all the same."""
    words, found = told_with(kind, cover.least), cover.whole
    bare = math.floor(found.bare + 0.5)
    moves = found.bare < 2 * (1 - cover.chance)[cover.covered].sum()  # most of them on days that are covered
    told = words["left"].format(
        days=words["about"].format(counted(bare, "day")) if bare else words["less"],
        moves=words["moves"] if moves and bare else "",
        worst=words["worst"].format(found.worst) if found.worst > bare else "",
    )
    return f"{whose}: {told[0].lower()}{told[1:]}" if whose else told


def told_with(kind: str, least: int) -> dict[str, str]:
    """What both are made of, for a published slate to say the same."""
    of, year = (
        ("", "a year") if kind == ANY else (f"{kind} ", f"in {'a' if kind == 'late' else 'an'} {kind} year")
    )
    fruit, without = ("fruit", "without") if least == 1 else ("enough fruit", "with too little")
    return {
        "each": f"each of the {{days}} has {fruit}", "some": f"{{covered}} of {{days}} have {fruit}",
        "just": f"1 of {{days}} has {fruit}", "none": f"not one of the {{days}} has {fruit}", "only": f"the one day has {fruit}",
        "often": f" in at least {{}} {of}years in 10.",
        "left": f"That leaves {{days}} {year} {without}{{moves}}{{worst}}.",
        "about": "about {}", "less": "less than 1 day", "moves": ", not the same ones each year",
        "worst": "; {} or more in the worst year of ten",
    }  # fmt: skip
