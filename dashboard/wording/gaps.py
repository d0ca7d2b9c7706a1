"""Who of a list covers nothing, how well the rest cover a season, and its gaps: sentences for page, paper and slate alike."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from dashboard.answers import standing
from dashboard.answers.question import Question
from dashboard.market.verdict import MAY_QUALIFY, MISSES, NOT_KNOWN
from dashboard.ripening import day_label
from dashboard.ripening.cover import Cover, Gap
from dashboard.ripening.few_seasons import assumption
from dashboard.ripening.model import ANY
from dashboard.wording.figures import called, counted, listed, of_hundred, years_in_ten

# What is said of one and of several of a list, by their verdict.
UNCOVERING = {
    MISSES: (
        "misses {market}, its fruit covers {nothing}",
        "miss {market}, their fruit covers {nothing}",
    ),
    NOT_KNOWN: (
        "lacks a reading to judge by{whom}, counted as covering nothing",
        "lack a reading to judge by{whom}, counted as covering nothing",
    ),
    MAY_QUALIFY: ("may qualify for {market}, counted, but not sure",) * 2,
}
COVER = (
    "{whose} ({count}): the chance, day by day, that at least {enough} being picked. A gap ({drawn}) is a stretch of days with fruit in "
    "fewer than {sure}."
)
VISITED = "Fruit was looked at about every {} days. First and last ripe days lie between visits: the middle is taken, the doubt counted."
HARDEST = "Hardest to replace: {name}, without it {days} more days without fruit a year."
Strong = Callable[[str], str]


def uncovering(asked: Question) -> list[list[tuple[str, str, str]]]:
    """A buyer of the slate, and by verdict what is said of one, and of several; nothing without a market."""
    found: list[list[tuple[str, str, str]]] = []
    two = len(asked.buyers) > 1
    for buyer in asked.buyers:
        nothing = "none of its days" if two else "no day here"
        whom = f" for {buyer.name}" if two and buyer else ""
        said = {"market": buyer.name if buyer else "", "nothing": nothing, "whom": whom}
        found.append(
            [
                (word, one.format(**said), more.format(**said))
                for word, (one, more) in UNCOVERING.items()
                if buyer
            ]
        )
    return found


def uncovering_told(asked: Question, names: Iterable[str]) -> list[str]:
    """Of a list, what covers nothing for a buyer, and what may not: a sentence each; none without a market."""
    names, told = list(names), []
    for buyer, each in zip(asked.buyers, uncovering(asked), strict=True):
        verdict = standing.fits(asked.catalogue, buyer, asked.basis)["verdict"]
        for word, one, several in each:
            if found := [called(name) for name in names if verdict.get(name) == word]:
                said = several if len(found) > 1 else one
                told.append(f"{len(found)} of {len(names)} {said}: {listed(found)}.")
    return told


def gaps_head(asked: Question) -> str:
    return f"Gaps, days with fruit in fewer than {years_in_ten(asked)}"


def no_gap(asked: Question, span: str = "") -> str:
    return f"No gap: each single day{span} has fruit in at least {years_in_ten(asked)}."


def whole_told(cover: Cover, kind: str, whose: str = "") -> str:
    """Of whole seasons of that ``kind``: ``In about 3 years in 10 all 83 days have fruit. Expect about 4 days a year without fruit; …``."""
    words, found = whole_words(kind, cover.least), cover.whole
    length, bare = len(cover.days), math.floor(found.bare + 0.5)
    return words["told"].format(
        whose=f"{whose}: in" if whose else "In",
        years=words["years"][math.floor(10 * found.chance + 0.5)],
        all=words["all"].format(length) if length > 1 else words["one"],
        days=words["about"].format(counted(bare, "day")) if bare else words["less"],
        worst=words["worst"].format(found.worst) if found.worst else "",
    )


def whole_words(kind: str, least: int) -> dict[str, Any]:
    """What ``whole_told`` is made of, for a published slate to say the same; ``years`` by how many of ten."""
    of = "" if kind == ANY else f"{kind} "
    lacking = "without fruit" if least == 1 else "with too little fruit"
    return {
        "years": [
            f"fewer than 1 {of}year in 10", f"about 1 {of}year in 10", *(f"about {one} {of}years in 10" for one in range(2, 10)),
            f"more than 9 {of}years in 10",
        ],
        "told": f"{{whose}} {{years}} {{all}} {has_fruit(least)}. Expect {{days}} a year {lacking}{{worst}}.",
        "all": "all {} days have", "one": "the one day has", "about": "about {}", "less": "less than 1 day",
        "worst": "; in the worst year of ten {} or more",
    }  # fmt: skip


def cover_told(
    asked: Question, whose: str, drawn: str, each: Sequence[str] = (), strong: Strong = str, text: Strong = str
) -> list[str]:  # fmt: skip
    """Whose cover is told, who covers nothing, ``each`` gap in its own line, what is crowded and who is hardest to replace.

    ``drawn``: how gaps are drawn. ``strong`` and ``text`` are those of the medium: paper takes plain texts, the page markup.
    """
    cover, south = asked.cover, asked.catalogue.south
    if cover is None:
        return [asked.catalogue.ripening.refused]
    lines = [
        text(COVER).format(
            whose=strong(f"Cover of {whose}"), count=counted(len(cover.names), "cultivar"), drawn=drawn, sure=years_in_ten(asked),
            enough="one of them is" if asked.least == 1 else f"{asked.least} of them are",
        ),
        *uncovering_told(asked, asked.shortlist), *each,
    ]  # fmt: skip
    if not cover.gaps:
        lines.append(no_gap(asked, " from {} to {}".format(*(day_label(day, south) for day in cover.span))))
    lines.append(whole_told(cover, asked.season_kind))
    if assumed := assumption(asked.catalogue.ripening.seasons):
        lines.append(assumed)
    if between := visited(asked):
        lines.append(between)
    if cover.crowded:
        lines.append(
            f"Crowded, more than twice the usual number at once: {listed([days_told(*ends, south) for ends in cover.crowded])}."
        )
    losses = cover.losses
    if len(losses) > 1 and losses.iloc[0] >= 0.5 and asked.shortlist:
        days = f"{losses.iloc[0]:.0f}" if losses.iloc[0] >= 1 else "up to one"
        lines.append(text(HARDEST).format(name=strong(called(losses.index[0])), days=days))
    return lines


def visited(asked: Question) -> str:
    """How often sites were visited, and what that leaves open; "" where that was daily or there is no model."""
    ripe = asked.catalogue.ripening
    fewest, most = ripe.every(ripe.known_site(asked.site))
    if ripe.refused or most <= 1:
        return ""
    return VISITED.format(f"{fewest:.2g}" if fewest == most else f"{fewest:.2g} to {most:.2g}")


def near_told(cover: Cover, gap: Gap) -> str:
    """How near the days of a gap come: ``fruit in 41 to 76 years of 100``."""
    chance = cover.chance[(cover.days >= gap.first) & (cover.days <= gap.last)]
    ends = dict.fromkeys(int(100 * one) for one in (chance.min(), chance.max()))
    return f"{has_fruit(cover.least)} in {' to '.join(map(str, ends))} years of 100"


def has_fruit(least: int) -> str:
    return "fruit" if least == 1 else "enough fruit"


def gap_told(gap: Gap, south: bool) -> str:
    """``Aug 3 to Aug 11: fruit in 41 of 100 years on its worst day; …``: when it is, how bad and how long it gets."""
    return (
        f"{days_told(gap.first, gap.last, south)}: fruit in {of_hundred(gap.chance)} of 100 years on its worst day; there and around it "
        f"expect {_bare(*map(round, gap.days))}"
    )


def _bare(few: int, middle: int, many: int) -> str:
    """Days without fruit in a row: of ten years the best, the middle one and the worst. A gap is never told as no days."""
    if middle < 1:
        return f"fruit every day in most years, but 1 in 10 without it for {counted(max(many, 1), 'day')} or more"
    around = f" ({few}–{many})" if few else f" (up to {many})"
    return f"{counted(middle, 'day')} without fruit{around if few < many else ''}"


def days_told(first: float, last: float, south: bool) -> str:
    """``Aug 3 to Aug 11``; one date for one day."""
    ends = list(dict.fromkeys(day_label(day, south) for day in (first, last)))
    return " to ".join(ends)
