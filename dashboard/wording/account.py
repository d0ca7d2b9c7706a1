"""One cultivar's account with a market as a reader sees it: what it may expect, what each wish costs it, and whether each limit
holds. The page and the paper tell it in the same words."""

from __future__ import annotations

from dataclasses import replace

from dashboard.answers.question import Question
from dashboard.estimates.chances import FRUIT, LONG_RUN, NEXT_SEASON
from dashboard.market import Limit
from dashboard.market.reasons import in_seasons
from dashboard.terms.traits import trait_called
from dashboard.wording.cautions import averages_decide
from dashboard.wording.column_kinds import plain
from dashboard.wording.figures import WAYS, bounded, chance, limit_told, measured, site_name


def account_told(asked: Question) -> list[str]:
    """Its chances and its score, and what would have to change where it is out."""
    found = asked.account
    if found is None:
        return []
    lines, row = [], found.prospect
    if row is None:
        lines.append(averages_decide(asked.refused))
    elif row["clears"] == row["clears"]:
        parts = f"limits on class and mean {chance(row['on_means'])}, limits on the share of fruit {chance(row['on_fruit'])}"
        told = f"Chance that it qualifies, every limit at once: {chance(row['clears'])} ({parts})."
        if row["expected"] == row["expected"]:
            around = (
                f"in 8 cases of 10 between {100 * row['score_low']:.0f} and {100 * row['score_high']:.0f}"
            )
            told += f" Score to be expected {100 * row['expected']:.0f} ({around})."
        lines.append(told)
    lines += [_seasons(asked, *one) for one in found.seasons.items() if one[1] == one[1]]
    return [*lines, *(_needed(asked, *one) for one in found.needed)]


def _seasons(asked: Question, limit: Limit, of_ten: float) -> str:
    """The share is over all seasons together; a poor one may lie far below."""
    often = (
        "nearly every season"
        if of_ten >= 9.5
        else f"{of_ten:.0f} seasons of 10"
        if of_ten >= 0.5
        else "hardly any season"
    )
    wanted = limit_told(replace(limit, seasons=None), asked.units)
    return f"Season by season: {wanted} in {often}."


def _needed(asked: Question, limit: Limit, mean: float, low: float, high: float) -> str:
    wanted = f"To qualify: {limit_told(limit, asked.units)}."
    if mean != mean:
        return f"{wanted} It has no reading."
    if low > high:
        return f"{wanted} No cultivar can: fruit of one cultivar scatter more than that."
    bound, word = (low, "at least") if mean < low else (high, "at most")
    now, then = (measured(limit.key, value, asked.units) for value in (mean, bound))
    return f"{wanted} For that its long-run mean would have to be {word} {then}; it is {now}."


COSTS = (
    plain("wish", "Wish", paper="Wish of the market"), plain("value", "Its value", "number"), plain("welcome", "How welcome", "number"),
    plain("weight", "Part of all weights", "number"), plain("costs", "Costs, points", "number"), plain("met", "Met in full at", "number"),
)  # fmt: skip
LIMITS = (
    plain("limit", "Limit"), plain("asks", "Asked of"), plain("holds", "Chance that the limit holds", "number"),
    plain(LONG_RUN, "Chance that its long-run mean clears it", "number"), plain(NEXT_SEASON, "Chance that next season's mean clears it", "number"),
    plain(FRUIT, "Share of future fruit that clears it", "number"), plain("remark", "", "reason"),
)  # fmt: skip


def cost_rows(asked: Question) -> list[dict[str, str]]:
    """The cells of ``COSTS`` for each wish, the dearest first."""
    found = asked.account
    rows: list[dict[str, str]] = []
    for cost in found.costs if found else ():
        trait, known = trait_called(cost.wish.key), cost.welcome == cost.welcome
        rows.append({
            "name": trait.label, "wish": f"{trait.label}: {WAYS[cost.wish.shape]}",
            "value": measured(cost.wish.key, cost.value, asked.units) if known else trait.written(cost.value, asked.units),
            "welcome": f"{100 * cost.welcome:.0f} %" if known else "not recorded", "weight": f"{100 * cost.share:.0f} %",
            "costs": f"{100 * cost.costs:.0f}" if cost.costs == cost.costs else "–", "met": measured(cost.wish.key, cost.met_from, asked.units),
        })  # fmt: skip
    return rows


def limit_rows(asked: Question) -> list[dict[str, str]]:
    """The cells of ``LIMITS`` for each bound on a trait; the remark is what was borrowed to answer, or why there is no answer."""
    assert asked.dossier is not None
    rows = []
    for limit, answers in asked.dossier["chances"]:
        bound, word = (
            (limit.at_least, "at least") if limit.at_least is not None else (limit.at_most, "at most")
        )
        wanted = f"{trait_called(limit.key).label} {word} {bounded(limit.key, bound, asked.units)}"
        asks = (
            f"{100 * limit.share:g} % of the fruit{in_seasons(limit)}"
            if limit.share is not None
            else "the mean"
        )
        holds = chance(asked.account.chance_of(limit) if asked.account else float("nan"))
        shares = {key: chance(answers[key][0]) for key in (LONG_RUN, NEXT_SEASON, FRUIT)}
        remark = " ".join(dict.fromkeys(why for _, why in answers.values() if why))
        rows.append(
            {"name": wanted, "limit": wanted, "asks": asks, "holds": holds, **shares, "remark": remark}
        )
    return rows


def limits_title(asked: Question) -> str:
    where = f"at {site_name(asked.catalogue, asked.site)}" if asked.site else "at sites like these"
    return f"Against the limits of the market: whether each holds, and three different questions, {where}"


NO_WISHES = "This market has no wishes."
NO_LIMITS = "This market sets no limit on a measured trait."
