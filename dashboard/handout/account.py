"""One cultivar before a market, on paper: what each wish costs it, and three questions about each limit."""

from __future__ import annotations

from dashboard.answers.question import Comparison
from dashboard.handout.blocks import Block, Words
from dashboard.handout.columns import Column, Rows
from dashboard.wording.account import NO_LIMITS, NO_WISHES, cost_rows, limit_rows, limits_title


def costs(asked: Comparison) -> Rows:
    """Each wish of the market, the dearest first."""
    columns = (
        Column("Wish of the market", 160), Column("Its value", 62, right=True), Column("How welcome", 66, right=True),
        Column("Part of all weights", 66, right=True), Column("Costs, points", 62, right=True), Column("Met in full at", 66, right=True),
    )  # fmt: skip
    title = "What each wish of the market costs it, in points of the score (0 to 100), the dearest first"
    return Rows(title, columns, tuple(cost_rows(asked)), empty=NO_WISHES)


def chances(asked: Comparison) -> tuple[Block, ...]:
    """Three different questions about each of the market's limits on a trait, and under them what was borrowed to answer."""
    rows = limit_rows(asked)
    remarks: dict[str, list[str]] = {}
    for wanted, *_, remark in rows:
        if remark:
            remarks.setdefault(remark, []).append(wanted)
    columns = (
        Column("Limit", 130), Column("Asked of", 80), Column("Chance that the limit holds", 70, right=True), Column("Chance that its long-run mean clears it", 88, right=True),
        Column("Chance that next season's mean clears it", 88, right=True), Column("Share of future fruit that clears it", 84, right=True),
    )  # fmt: skip
    table = Rows(limits_title(asked), columns, tuple(row[:-1] for row in rows), empty=NO_LIMITS)
    told = (Words(f"{'; '.join(whose)}: {why}", size=7.2, after=2) for why, whose in remarks.items())
    return table, *told
