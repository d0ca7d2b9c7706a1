"""What a spelling may be shown as in a list that is confirmed at once: a slip for the one name it is near, or a name of its own.

Only what is plain goes into such a list. Where two names may be meant, or both sides stand equally often, the spelling is asked about alone.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from dashboard.records.importing.made_of import spoiled
from dashboard.records.importing.spellings import (
    IS_NEW,
    NEAR,
    OFTEN,
    SUMS_UP,
    Asked,
    both_often,
    same_letters,
)

_OWN = (IS_NEW, OFTEN, NEAR)
RARE = 4  # times as often as a slip the name stands that is meant (judgement)


def proposed(
    asked: Mapping[str, Asked], counts: Mapping[str, int], standing: Mapping[str, int]
) -> dict[str, str]:
    """By spelling the name it is shown as; those that have to be asked about alone are left out.

    ``counts``: how often each stands in the sheets, ``standing``: in the trial.
    """
    found = {
        spelling: offer
        for spelling, (why, _, offer) in asked.items()
        if offer and why not in _OWN and spoiled(spelling)
    }
    found |= {spelling: offer for spelling, (why, _, offer) in asked.items() if why == SUMS_UP}
    near = {spelling: some for spelling, (why, some, _) in asked.items() if why == NEAR}
    stands = Counter(counts) + Counter(standing)
    for letters in (True, False):  # what has the same letters first: it stands for more of the name then
        for spelling, some in near.items():
            meant = {found.get(one, one) for one in some if not letters or same_letters(one, spelling)} - {
                spelling
            }
            if spelling in found or len(meant) != 1:
                continue
            (name,) = meant
            if letters or RARE * counts.get(spelling, 0) <= stands[name]:
                found[spelling] = name
                stands[name] += counts.get(spelling, 0)
    return found | {
        one: one for one, some in near.items() if one not in found and both_often(one, some, counts)
    }
