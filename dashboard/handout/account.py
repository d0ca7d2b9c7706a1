"""One cultivar before a market, on paper: what it may expect, what each wish costs it, and three questions about each limit."""

from __future__ import annotations

from dashboard.comparison import Comparison
from dashboard.estimates.chances import FRUIT, LONG_RUN, NEXT_SEASON
from dashboard.handout.blocks import Block, Words
from dashboard.handout.columns import Column, Rows
from dashboard.market import Limit
from dashboard.traits import TRAITS
from dashboard.words import WAYS, bounded, chance, limit_told, measured, site_name


def account_told(asked: Comparison) -> list[str]:
    """Its chances and its score, and what would have to change where it is out."""
    found = asked.account
    if found is None:
        return []
    lines, row = [], found.prospect
    if row is None:
        lines.append(f"No chances are told for this market: {asked.refused}")
    elif row["clears"] == row["clears"]:
        parts = f"limits on class and mean {chance(row['on_means'])}, limits on the share of fruit {chance(row['on_fruit'])}"
        told = f"Chance that it clears every limit: {chance(row['clears'])} ({parts})."
        if row["expected"] == row["expected"]:
            around = (
                f"in 8 cases of 10 between {100 * row['score_low']:.0f} and {100 * row['score_high']:.0f}"
            )
            told += f" Score to be expected {100 * row['expected']:.0f} ({around})."
        lines.append(told)
    return [*lines, *(_needed(asked, *one) for one in found.needed)]


def _needed(asked: Comparison, limit: Limit, mean: float, low: float, high: float) -> str:
    wanted = f"To be in: {limit_told(limit, asked.units)}."
    if mean != mean:
        return f"{wanted} It has no reading."
    if low > high:
        return f"{wanted} No cultivar can: fruit of one cultivar scatter more than that."
    bound, word = (low, "at least") if mean < low else (high, "at most")
    now, then = (measured(limit.key, value, asked.units) for value in (mean, bound))
    return f"{wanted} For that its long-run mean would have to be {word} {then}; it is {now}."


def costs(asked: Comparison) -> Rows:
    """Each wish of the market, the dearest first."""
    found = asked.account
    rows = []
    for cost in found.costs if found else ():
        known = cost.welcome == cost.welcome
        rows.append((
            f"{TRAITS[cost.wish.key].label}: {WAYS[cost.wish.shape]}",
            measured(cost.wish.key, cost.value, asked.units) if known else TRAITS[cost.wish.key].written(cost.value, asked.units),
            f"{100 * cost.welcome:.0f} %" if known else "not recorded", f"{100 * cost.share:.0f} %",
            f"{100 * cost.costs:.0f}" if cost.costs == cost.costs else "–", measured(cost.wish.key, cost.met_from, asked.units),
        ))  # fmt: skip
    columns = (
        Column("Wish of the market", 160), Column("Its value", 62, right=True), Column("How welcome", 66, right=True),
        Column("Part of all weights", 66, right=True), Column("Costs, points", 62, right=True), Column("Met in full at", 66, right=True),
    )  # fmt: skip
    title = "What each wish of the market costs it, in points of the score (0 to 100), the dearest first"
    return Rows(title, columns, tuple(rows), empty="This market has no wishes.")


def chances(asked: Comparison) -> tuple[Block, ...]:
    """Three different questions about each of the market's limits on a trait, and under them what was borrowed to answer."""
    assert asked.dossier is not None
    rows = []
    remarks: dict[str, list[str]] = {}
    for limit, answers in asked.dossier["chances"]:
        bound, word = (
            (limit.at_least, "at least") if limit.at_least is not None else (limit.at_most, "at most")
        )
        wanted = f"{TRAITS[limit.key].label} {word} {bounded(limit.key, bound, asked.units)}"
        asks = f"{100 * limit.share:g} % of the fruit" if limit.share is not None else "the mean"
        holds = chance(asked.account.chance_of(limit) if asked.account else float("nan"))
        rows.append(
            (wanted, asks, holds, *(chance(answers[key][0]) for key in (LONG_RUN, NEXT_SEASON, FRUIT)))
        )
        if remark := " ".join(dict.fromkeys(why for _, why in answers.values() if why)):
            remarks.setdefault(remark, []).append(wanted)
    columns = (
        Column("Limit", 130), Column("Asked of", 80), Column("Chance that the limit holds", 70, right=True), Column("Chance that its long-run mean clears it", 88, right=True),
        Column("Chance that next season's mean clears it", 88, right=True), Column("Share of future fruit that clears it", 84, right=True),
    )  # fmt: skip
    where = f"at {site_name(asked.catalogue, asked.site)}" if asked.site else "at sites like these"
    table = Rows(
        f"Against the limits of the market: whether each holds, and three different questions, {where}",
        columns,
        tuple(rows),
        empty="This market sets no limit on a measured trait.",
    )
    told = (Words(f"{'; '.join(whose)}: {why}", size=7.2, after=2) for why, whose in remarks.items())
    return table, *told
