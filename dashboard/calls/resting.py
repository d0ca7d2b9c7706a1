"""On what an answer rests, in sentences: buyer, filters, records, intervals, dates; and the cautions that go with it."""

from __future__ import annotations

import datetime as dt

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.question import Question
from dashboard.calls.columns import season_to_come
from dashboard.wording.cautions import CAUTIONS, MOVES, averages_decide
from dashboard.wording.figures import DATED_WITH_COVER, counted, market_told
from dashboard.wording.my_site import margin_told
from dashboard.wording.pictures import over, under

INTERVALS = "Low and high are the ends of the likely range: of 90 %, for a score of 80 %."


def evidence(asked: Question, dated: bool = True) -> list[str]:
    """What was asked, and on what the figures rest."""
    told = over(asked)
    if asked.profile is not None:
        told.insert(1, market_told(asked.profile, asked.units)[1])
        told += [averages_decide(asked.refused)] if asked.refused else []
    told += [INTERVALS, under(asked, dt.date.today())[0]]
    return [*told, *([dates_told(asked.catalogue, asked.season_kind)] if dated else [])]


def dates_told(catalogue: Catalogue, season_kind: str) -> str:
    season = season_to_come(catalogue)
    return f"Dates are of {DATED_WITH_COVER[season_kind]}, written in {season}. {MOVES}"


def rests_on(catalogue: Catalogue) -> str:
    """The records, where no question is asked."""
    return under(Question(catalogue), dt.date.today())[0]


def cautions(catalogue: Catalogue) -> list[str]:
    invented = ["Invented example: all of it is made up."] if catalogue.invented else []
    return [*invented, *CAUTIONS]


def cautions_of(asked: Question) -> list[str]:
    """The same; of a question about chill what its figures are, first, and how near those that pass come to what was asked."""
    return [*margin_told(asked), *cautions(asked.catalogue)]


def passing_told(asked: Question) -> str:
    """Why nothing is left, or how many are."""
    if asked.emptied is not None:
        return asked.emptied.sentence
    return f"{counted(int(asked.passes.sum()), 'cultivar')} pass the filters."
