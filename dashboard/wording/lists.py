"""Lists in words: what was found in one that was brought, what could be dropped, and how two differ."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.comparing import Compared
from dashboard.answers.planting import nurseries
from dashboard.answers.question import Question
from dashboard.answers.selling import Spans
from dashboard.records.name_lists import NameList, Refusal, Unmatched
from dashboard.wording.covered import statement
from dashboard.wording.figures import called, counted, listed, years_in_ten
from dashboard.wording.gaps import days_told, near_told, nearest_told
from dashboard.wording.planning import market_called, spans_told

DROPPABLE = "Could be dropped without a new gap"
SPARE = "The days stay covered, but with no fruit to spare more of them go without in a year."
PASTED = "What you pasted"
OFFERED = {
    True: "What nurseries offer",
    False: "What this trial has and no nursery offers now",
}
_LONGEST = 60  # characters of a text that is no name
_WHY = {
    "no": "no cultivar here has that name",
    "several": "it may be one of several",
    "number": "a number, not a name",
    "date": "looks like a date; a spreadsheet may have made it of a name",
}


def refused_told(what: str, refusal: Refusal) -> str:
    """One sentence on why nothing was read: ``mine.pdf was not read: it is a PDF; save the names as .csv or .xlsx.``"""
    return f"{what} was not read: {refusal[0]}; {refusal[1]}."


def unmatched_told(one: Unmatched) -> str:
    """``“Alvan” (line 2): no cultivar here has that name``."""
    text = one.text if len(one.text) <= _LONGEST else f"{one.text[:_LONGEST]}…"
    return f"“{text}” ({one.place}): {_WHY[one.why]}"


def read_told(found: NameList, added: int, onto: str) -> list[str]:
    """How many names were found and what became of them, what was read, and what stood there twice."""
    there = len(found.names) - added
    already = f", {there} stood there already" if there else ""
    told = [f"{counted(len(found.names), 'name')} found: {added} put on {onto}{already}."]
    if not found.names:
        told = ["No name was found for certain."]
    if found.unmatched:
        told.append(f"{counted(len(found.unmatched), 'entry').replace('entrys', 'entries')} did not match and were left out; they are listed below.")  # fmt: skip
    if found.of:
        told.append(f"Read: {found.of}.")
    if found.again:
        told.append(f"Named more than once, taken once: {_names(found.again)}.")
    return told


UNOFFERED = "No nursery offers these now, as far as is on record: {}."
NO_OFFERS = "These records hold no nursery offers, so they do not tell what can be bought."
NOTHING_COVERED = "It covers no day surely yet, so nothing can be said of what could be dropped."


def unoffered_told(catalogue: Catalogue, names: Sequence[str], most: int = 8) -> list[str]:
    """Which of a list no nursery is on record for, or that the records tell it of none; [] where each can be bought."""
    offered = nurseries(catalogue)
    missing = [name for name in names if not offered[name]]
    if not missing:
        return []
    return [
        UNOFFERED.format(listed([called(name) for name in missing], most)) if offered.any() else NO_OFFERS
    ]


def droppable_told(asked: Question) -> list[str]:
    """Who of the slate could be dropped, alone and together, and of which list, days and certainty that is so; [] where nothing can be said
    of it. The one answer to it: whoever tells it, tells this."""
    found = asked.droppable
    if found is None:
        return []
    if _covers_nothing(asked):
        return [NOTHING_COVERED]
    days = days_told(*asked.selling, asked.catalogue.south)
    head = f"{DROPPABLE}, of the {len(asked.shortlist)} on my slate ({days}, fruit in {years_in_ten(asked)})"
    if not found.alone:
        return [f"{head}: none. Without any one of them a covered day is covered no longer."]
    told = [f"{head}, any one of them: {_all_but(asked, found.alone)}."]
    if len(found.together) > 1:
        same = set(found.together) == set(found.alone)
        told.append(f"At once: {'all of these' if same else _all_but(asked, found.together)}. {SPARE}")
    if asked.strip and any(row.gaps for row in asked.strip.rows):
        told.append("Days that lie in a gap already may get barer; take one off and the strip shows it.")
    return [" ".join(told)]


def _all_but(asked: Question, names: Sequence[str]) -> str:
    """All the names or, where most of the slate is among them, how many, and those who are not."""
    stay = [name for name in asked.shortlist if name not in set(names)]
    if len(names) <= 2 * len(stay):
        return _names(names, len(names))
    return f"each of the {len(names)}" if not stay else f"{len(names)}, all but {_names(stay, len(stay))}"


def _covers_nothing(asked: Question) -> bool:
    return asked.strip is not None and not any(row.covered.any() for row in asked.strip.rows)


def droppable_filed(asked: Question, names: Iterable[str]) -> list[str]:
    """Of each name, as a file holds it; empty where nothing can be said of it."""
    found = asked.droppable
    if found is None or _covers_nothing(asked):
        return ["" for _ in names]
    alone, together = set(found.alone), set(found.together)
    return ["yes, with the others so marked" if one in together else "yes, alone" if one in alone else "no" for one in names]  # fmt: skip


def compared_told(asked: Question, found: Compared) -> list[str]:
    """How many are on both, how many days each covers for each buyer, and what each would close for the other."""
    south, told = asked.catalogue.south, []
    told.append(f"{len(found.both)} on both, {len(found.mine)} only on my slate, {len(found.other)} only on the other list.")  # fmt: skip
    if found.outside:
        told.append(f"{len(found.outside)} of the other list {'does' if len(found.outside) == 1 else 'do'} not pass your filters; the days count them all the same.")  # fmt: skip
    if not found.days:
        return [*told, asked.catalogue.ripening.refused]
    for place, (mine, other) in enumerate(found.cover):
        buyer = asked.buyers[place]
        whose = f"{market_called(buyer)}: " if buyer else ""
        left = f" ({found.passing[place]} with only those that pass your filters)" if found.outside else ""
        told.append(f"{whose}my slate covers {mine} of {counted(found.days, 'selling day')}, the other list {other}{left}.")  # fmt: skip
        if mine < found.days:
            told.append(f"{whose}{_closed(found.mine_closed[place], 'my gaps', 'the other list', south)}")
        theirs = found.covers[place][1]
        told.append(f"{whose}{statement(theirs, asked.season_kind, 'the other list')}")
        if other < found.days:
            near = [
                f"{days_told(gap.first, gap.last, south)} ({near_told(theirs, gap, south)})"
                for gap in theirs.gaps
            ]
            told.append(f"{whose}the other list leaves not covered: {listed(near, 4)}.")
            told += [f"{whose}{nearest}" for nearest in [nearest_told(theirs, south)] if nearest]
            told.append(f"{whose}{_closed(found.other_closed[place], 'its gaps', 'my slate', south)}")
    return told


def _closed(spans: Spans, whose: str, added: str, south: bool) -> str:
    if not spans:
        return f"with {added} added, no day of {whose} closes."
    return f"with {added} added, these days of {whose} close: {spans_told(spans, south)}."


def _names(names: Iterable[str], most: int = 6) -> str:
    return listed([called(name) for name in names], most)
