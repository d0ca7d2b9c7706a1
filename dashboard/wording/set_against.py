"""Two cultivars set against each other, a sentence a trait, short enough for the back row: by how much they differ, and how sure that is."""

from __future__ import annotations

import math
import re

import pandas as pd

from dashboard.answers.question import Question
from dashboard.answers.side_by_side import SideBySide, Told, side_by_side
from dashboard.estimates.many import SURE
from dashboard.market.desirability import bearing, merit
from dashboard.market.verdict import TAKEN
from dashboard.terms.traits import HEADLINE, TRAITS
from dashboard.wording.differences import figures
from dashboard.wording.figures import called, counted

# What the one with more of a trait is, beside the other.
MORE = {
    "size": "larger",
    "firmness": "firmer",
    "sugar": "sweeter",
    "cheek_difference": "less even from cheek to cheek",
    "roundness": "deeper for its width",
    "red": "redder",
    "attractiveness": "more attractive",
    "shape": "better in shape",
    "fuzz": "less fuzzy",
    "split_pit": "worse in split pits",
    "cracked_tip": "worse in cracked tips",
}
MOST_SURE = 99  # of 100: nothing here is certain
SHOWN = 3  # traits at once: the one asked for, and the next two
BEST = "Of the others that {who}, {name} has the best {trait}."
ANOTHER = "F names another second."
BOTH = "F names the second; F again, both."
AGAIN = "F again sets {name} against another."
LOOKS = f"Sure is {100 * (1 - SURE):.0f} in 100 or more, after a look at {{looks}}."


def pair(asked: Question, other: str = "", named: str = "") -> tuple[str, str] | None:
    """The first two side by side; else who is spoken of and the best of the others. ``other``, where it is named, takes the second's place,
    and ``named`` the first's; None where there are no two."""
    if named:
        first, second = named, ""
    elif not walks(asked):
        first, second = asked.beside[:2]
    elif asked.spotlight is not None:
        first, second = asked.spotlight.name, ""
    else:
        return None
    second = other if other not in ("", first) else second or best(asked, first)
    return (first, second) if second else None


def best(asked: Question, name: str) -> str:
    """Of those that pass and the market takes, or may take, but for ``name``, the one that meets the market's first wish best; "" for none.
    Nobody is set against one with whom no trial joins them, as far as others are there."""
    ranked = asked.ranking.drop(index=name, errors="ignore")
    if asked.profile is not None and ranked["verdict"].isin(TAKEN).any():
        ranked = ranked[ranked["verdict"].isin(TAKEN)]
    if name in asked.ranking.index and (near := ranked["group"] == asked.ranking.at[name, "group"]).any():
        ranked = ranked[near]
    first = traits(asked)[0]
    wish = bearing(asked.profile.wishes if asked.profile else (), first)
    worth = pd.Series(merit(wish, asked.values[first]["estimate"].to_numpy(float)), asked.values[first].index)
    found = worth.reindex(ranked.index).dropna()
    return str(found.idxmax()) if len(found) else str(ranked.index[0]) if len(ranked) else ""


def named_how(asked: Question, names: tuple[str, str], other: str = "", stays: bool = False) -> str:
    """Why it is the second of the two, and how to name others; ``stays`` where the first was named, and is not to be another."""
    if other == names[1]:
        return ANOTHER if stays else AGAIN.format(name=called(other))
    how = ANOTHER if stays else BOTH
    if not walks(asked):
        return how
    who = "qualify, or may" if asked.profile else "pass"
    return (
        f"{BEST.format(who=who, name=called(names[1]), trait=TRAITS[traits(asked)[0]].label.lower())} {how}"
    )


def walks(asked: Question) -> bool:
    """Whether the pair goes along with who is spoken of."""
    return len(asked.beside) < 2


def traits(asked: Question) -> tuple[str, ...]:
    """In the order they are told: the market's first wish, or first limit, what is asked of every fruit, then what else the market wishes
    and limits, and the others."""
    market = asked.profile
    wishes, limits = (market.wishes, market.limits) if market else ((), ())
    own = [*(wish.key for wish in wishes), *(limit.key for limit in limits)]
    return tuple(key for key in dict.fromkeys([*own[:1], *HEADLINE, *own, *TRAITS]) if key in TRAITS)


def against(asked: Question, names: tuple[str, str], trait: str = "") -> list[str]:
    """Who, and over what; then ``trait``, or the first, and those after it; last, what it takes to be sure."""
    found = side_by_side(asked.catalogue, names, asked.basis, asked.season_kind)
    order = traits(asked)
    at = order.index(trait) if trait in order else 0
    shown = [*order[at:], *order[:at]][:SHOWN]
    told = {one.trait: one for one in found.differences}
    meant = [meaning for meaning, known in found.meanings.items() if set(known) & set(shown)]
    lines = [sentence(told[key], asked.units) if key in told else _refused(found, key) for key in shown]
    looked = [LOOKS.format(looks=counted(len(told), "trait"))] if told else []
    return [", ".join([" and ".join(called(name) for name in names), *meant]), *lines, *looked]


def sentence(told: Told, units: str) -> str:
    """``Sibbrel is larger by 0.35 in; 98 in 100 sure.`` The chance of what is not sure is that of one look, and so is never called sure."""
    first, (by, _) = called(told.by.first), figures(told, units)
    if told.sure:
        return f"{first} is {MORE[told.trait]} by {by}; {sure_of_hundred(told)} in 100 sure."
    if not told.by.above > 0.5 or not re.search("[1-9]", by.partition(" ")[0]):
        return f"{TRAITS[told.trait].label}: {first} and {called(told.by.second)} seem alike."
    if told.by.above >= 1 - SURE:  # one figure would stand on both sides of the border
        return f"{first} seems {MORE[told.trait]} by {by}; likely, but not sure after a look at every trait."
    return f"{first} seems {MORE[told.trait]} by {by}; chance {math.floor(100 * told.by.above)} in 100 – too close to call."


def sure_of_hundred(told: Told) -> int:
    """Rounded down: never surer than the figures are, after looking at every trait of the pair."""
    return min(math.floor(100 * (1 - told.chance)), MOST_SURE)


def _refused(found: SideBySide, trait: str) -> str:
    why = next((why for why, traits in found.refused.items() if trait in traits), "")
    return f"{TRAITS[trait].label}: cannot be told. {why}".strip()
