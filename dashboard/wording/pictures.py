"""What stands over and under a picture that is taken away: for which buyer, of whom, on what it rests, and of which day."""

from __future__ import annotations

import datetime as dt

from dashboard.answers.question import Question
from dashboard.market import Market
from dashboard.ripening import date_label
from dashboard.wording.figures import (
    basis_told,
    counted,
    filters_told,
    market_told,
    qualify_told,
    records_name,
    sampled,
)

NO_MARKET = "No market chosen."


def over(asked: Question) -> list[str]:
    """The market with its limits, and who passes the filters; a sentence each."""
    market, filters = asked.profile, filters_told(asked)
    buyer = f"{market_line(asked, market)} {qualify_told(asked)}." if market else NO_MARKET
    return [buyer, f"{counted(int(asked.passes.sum()), 'cultivar')} pass; filters: {filters}."]


def market_line(asked: Question, market: Market) -> str:
    """``Market: Regional wholesale. Limits: …``, in the reader's units."""
    limits, _wishes = market_told(market, asked.units)
    return f"Market: {market.name}. {limits}"


def under(asked: Question, on: dt.date) -> list[str]:
    """On what it rests, the name of the records first, and when it was made."""
    known = asked.catalogue
    seasons = sorted(known.summaries["season"].dropna().unique())
    span = f", seasons {int(seasons[0])} to {int(seasons[-1])}" if seasons else ""
    evidence = (
        f"{records_name(known)}. {counted(len(known.summaries), 'sample')} of {sampled(known)} at "
        f"{counted(len(known.sites), 'site')}{span}; figures: {basis_told(asked)}; data version {known.version}."
    )
    return [evidence, f"Made {date_label(on)}."]


def file_name(key: str, on: dt.date, ending: str) -> str:
    """``orchard-slate-season-2026-11-28.svg``."""
    return f"orchard-slate-{key}-{on.isoformat()}.{ending}"
