"""The handout for paper: the plan of a slate that was chosen, a summary, the season, a page a cultivar and the meanings, as one .pdf."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from dashboard.answers.question import Question
from dashboard.handout.asking import with_shortlist
from dashboard.handout.cultivar_page import cultivar
from dashboard.handout.layout import Section, printed
from dashboard.handout.meanings_page import meanings
from dashboard.handout.paper import PAPERS, USUAL
from dashboard.handout.plan_page import plan
from dashboard.handout.season_page import season
from dashboard.handout.summary_page import heading, market_name, summary, today
from dashboard.wording import figures as words
from dashboard.wording.cautions import CAUTIONS


def pdf(
    asked: Question, paper: str = "", progress: Callable[[int, int], None] = lambda page, pages: None,
    answered: Sequence[tuple[str, str]] = (),
) -> bytes:  # fmt: skip
    """``paper`` "a4" or "letter", else the one that goes with the units; ``progress`` is told each page as it is made; ``answered`` is what
    is said of a slate that was proposed."""
    made = sections(asked, answered)
    asked = with_shortlist(asked)
    return printed(
        made,
        PAPERS[paper or USUAL[asked.units]],
        f"{heading(asked)}: {words.records_name(asked.catalogue)}",
        f"{words.counted(len(asked.shortlisted), 'cultivar')}, market {market_name(asked)}, data version {asked.catalogue.version}",
        footer(asked),
        progress,
    )


def sections(asked: Question, answered: Sequence[tuple[str, str]] = ()) -> list[Section]:
    """With the plan first where somebody chose the slate: the first of the ranking are no plan."""
    strip = asked.strip if asked.shortlist else None
    asked = with_shortlist(asked)
    order = asked.shortlisted.sort_values("rank", kind="stable").index
    keys = {str(name): f"cultivar-{place}" for place, name in enumerate(order, start=1)}
    pages = [cultivar(asked, name, key, place) for place, (name, key) in enumerate(keys.items(), start=1)]
    return [
        *([plan(asked, strip, keys, answered)] if strip else []),
        summary(asked, keys),
        *([season(asked, keys)] if keys else []),
        *pages,
        meanings(asked),
    ]


def footer(asked: Question) -> tuple[str, str, str]:
    """Whose records, of when and for which market; the caution that belongs on every sheet."""
    when = f"Made {today()}; data version {asked.catalogue.version}"
    return (
        words.records_name(asked.catalogue),
        f"{when}; market: {market_name(asked)}",
        CAUTIONS[0],
    )
