"""Who of a list covers nothing, how well the rest cover a season, and its gaps: sentences for page, paper and slate alike."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

import numpy as np

from dashboard.answers import standing
from dashboard.answers.question import Question
from dashboard.market.verdict import MAY_QUALIFY, MISSES, NOT_KNOWN
from dashboard.ripening import day_label
from dashboard.ripening.cover import Cover, Gap
from dashboard.ripening.few_seasons import assumption
from dashboard.ripening.model import Ripening
from dashboard.wording.cautions import USUAL
from dashboard.wording.covered import statement
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
CHANCES = "Day by day: the chance that at least {enough} being picked. A gap ({drawn}) is a stretch of days with fruit in fewer than {sure}."
VISITED = "Fruit was looked at about every {} days. First and last ripe days lie between visits: the middle is taken, the doubt counted."
HARDEST = "Hardest to replace: {name}. Without it about {days} more days a year have no fruit."
FEWEST = 0.1  # days a year told of it
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
        text("{} ({}). {}").format(
            strong(f"Cover of {whose}"), counted(len(cover.names), "cultivar"), statement(cover, asked.season_kind)
        ),
        CHANCES.format(
            drawn=drawn, sure=years_in_ten(asked), enough="one of them is" if asked.least == 1 else f"{asked.least} of them are",
        ),
        *uncovering_told(asked, asked.shortlist), *each, *filter(None, [nearest_told(cover, south)]),
    ]  # fmt: skip
    if assumed := assumption(asked.catalogue.ripening.seasons):
        lines.append(assumed)
    if between := visited(asked):
        lines.append(between)
    if cover.crowded:
        lines.append(
            f"Crowded, more than twice the usual number at once: {listed([days_told(*ends, south) for ends in cover.crowded])}."
        )
    return [*lines, *hardest_told(asked, strong, text)]


def hardest_told(
    asked: Question, strong: Callable[[str], str] = str, text: Callable[[str], str] = str
) -> list[str]:
    """Who of my slate counts most: without whom most days a year go without fruit."""
    cover = asked.cover
    if cover is None or not asked.shortlist or len(cover.losses) < 2:
        return []
    losses = cover.losses
    most = f"{losses.iloc[0]:.1f}" if losses.iloc[0] >= FEWEST else f"less than {FEWEST}"
    return [text(HARDEST).format(name=strong(called(losses.index[0])), days=most)]


def usual_told(ripe: Ripening) -> str:
    """What years do to the usual days that stand on a screen, by how much one in ten at the least; "" without a model."""
    return "" if ripe.refused else USUAL.format(counted(max(round(ripe.shift("late")), 1), "day"))


def visited(asked: Question) -> str:
    """How often sites were visited, and what that leaves open; "" where that was daily or there is no model."""
    ripe = asked.catalogue.ripening
    fewest, most = ripe.every(ripe.known_site(asked.site))
    if ripe.refused or most <= 1:
        return ""
    return VISITED.format(f"{fewest:.2g}" if fewest == most else f"{fewest:.2g} to {most:.2g}")


def near_told(cover: Cover, gap: Gap, south: bool) -> str:
    """How near the days of a gap come, and which comes nearest: ``fruit in 41 to 76 years of 100, most on Jul 14``."""
    inside = (cover.days >= gap.first) & (cover.days <= gap.last)
    chance, days = cover.chance[inside], cover.days[inside]
    ends = dict.fromkeys(int(100 * one) for one in (chance.min(), chance.max()))
    most = f", most on {day_label(days[chance.argmax()], south)}" if len(ends) > 1 else ""
    return f"{has_fruit(cover.least)} in {' to '.join(map(str, ends))} years of 100{most}"


def nearest_told(cover: Cover, south: bool) -> str:
    """``Nearest to being covered: Jul 14, fruit in 76 of 100 years.``; "" where no day is bare, or none ever has fruit."""
    chance = np.where(cover.covered, -1.0, cover.chance)
    if chance.max(initial=0.0) <= 0:
        return ""
    told = f"{day_label(cover.days[chance.argmax()], south)}, {has_fruit(cover.least)} in {of_hundred(chance.max())} of 100 years"
    return f"Nearest to being covered: {told}."


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
