"""One cultivar before a market, on paper: what each wish costs it, and three questions about each limit."""

from __future__ import annotations

from dashboard.answers.question import Question
from dashboard.handout.blocks import Block, Words
from dashboard.handout.columns import Rows, of
from dashboard.wording.account import COSTS, LIMITS, NO_LIMITS, NO_WISHES, cost_rows, limit_rows, limits_title


def costs(asked: Question) -> Rows:
    """Each wish of the market, the dearest first."""
    title = "What each wish of the market costs it, in points of the score (0 to 100), the dearest first"
    return of(asked, title, COSTS, cost_rows(asked), (160, 62, 66, 66, 62, 66), empty=NO_WISHES)


def chances(asked: Question) -> tuple[Block, ...]:
    """Three different questions about each of the market's limits on a trait, and under them what was borrowed to answer."""
    rows = limit_rows(asked)
    remarks: dict[str, list[str]] = {}
    for row in rows:
        if row["remark"]:
            remarks.setdefault(row["remark"], []).append(row["limit"])
    table = of(asked, limits_title(asked), LIMITS[:-1], rows, (130, 80, 70, 88, 88, 84), empty=NO_LIMITS)
    told = (Words(f"{'; '.join(whose)}: {why}", size=7.2, after=2) for why, whose in remarks.items())
    return table, *told
