"""How sure an order is: how it hangs on the weights, what one limit keeps out, who is not beaten; the same on page and slate."""

from __future__ import annotations

import math

from dashboard.answers.merits import bearings
from dashboard.answers.question import Question
from dashboard.market import Limit, Market
from dashboard.market.verdict import QUALIFIES
from dashboard.market.weighing import BY
from dashboard.terms.traits import CLASSES, trait_called
from dashboard.terms.units import figure
from dashboard.wording.cautions import averages_decide
from dashboard.wording.figures import chance, counted, limit_told, listed

MOST_NAMED = 5


def first_told(asked: Question) -> tuple[str, str]:
    """``92 qualify for Roadside stand``, and ``31 more may · of 134 that pass the filters``; without a market who passes."""
    left = f"{int(asked.passes.sum()):,}"
    if asked.profile is None:
        return f"{left} pass the filters", "by name; choose who buys to rank them"
    count = asked.own_count
    unknown = [f"{count.unknown:,} not known"] if count.unknown else []
    return (
        f"{count.qualify:,} qualify for {asked.profile.name}",
        " · ".join([f"{count.may:,} more may", *unknown, f"of {left} that pass the filters"]),
    )


def order_told(asked: Question) -> list[str]:
    """How sure the order is, and the one limit that keeps most out: a sentence or two each; nothing without a market."""
    if asked.profile is None:
        return []
    refused = averages_decide(asked.refused) if asked.refused else ""
    lines = (_nobody(asked), _weights(asked), _opening(asked), _apart(asked), refused)
    return [line for line in lines if line]


def _nobody(asked: Question) -> str:
    if asked.ranking["taken"].any() or not asked.nearest:
        return ""
    clears = asked.ranking["clears"]
    told = [f"{name} ({chance(float(clears[name]))})" for name in asked.nearest]
    return f"No cultivar that passes your filters qualifies, and none may. Nearest, with the chance that it qualifies after all: {listed(told)}."


def _weights(asked: Question) -> str:
    rows = asked.ranking
    inside = rows[
        ((rows["verdict"] == QUALIFIES) & (rows["group"] == rows["group"].min())).to_numpy()
    ].dropna(subset="hindmost")
    if len(inside) < 2:
        return ""
    top = min(asked.top, len(inside))
    first = inside.iloc[:top]
    stays = first.index[(first["hindmost"] <= top).to_numpy()]
    comes = inside.index[top:][(inside["foremost"].iloc[top:] <= top).to_numpy()]
    leader, lowest = str(inside.index[0]), int(inside["hindmost"].iloc[0])
    lead = (
        f"{leader} stays first"
        if lowest == 1
        else f"{leader}, now first, could stand as far back as place {lowest}"
    )
    moved = f"If every weight moves by up to {100 * BY:.0f} %, {lead}"
    if len(stays) == top:
        return f"{moved}, and the first {top} stay the same." if top > 1 else f"{moved}."
    others = (
        f", and {listed([str(name) for name in comes], MOST_NAMED)} could come among them"
        if len(comes)
        else ""
    )
    return f"{moved}; {len(stays)} of the first {top} stay among them whichever way{others}."


def _opening(asked: Question) -> str:
    if not asked.openings:
        return ""
    most = asked.openings[0]
    said = f"Strictest limit: “{limit_told(most.limit, asked.units)}”. Without it {counted(most.lets_in, 'more cultivar')} would clear every limit on average."
    eased = _eased(most.limit, most.bound, most.end, asked.units)
    return f"{said} {eased} {most.first}." if eased else said


def _eased(limit: Limit, bound: float | str | None, end: str, system: str) -> str:
    if bound is None:
        return ""
    if end == "any_of":
        return f"Taking {CLASSES[limit.key][0].lower()} {bound} too lets in, among others,"
    if end == "share" and float(bound) < 0.05:
        return ""  # nearly none of its fruit: no limit worth naming
    if end == "share":
        return f"Asking it of {math.floor(100 * float(bound))} % of the fruit lets in"
    trait = trait_called(limit.key)
    unit, step = trait.unit(system), 10 ** -trait.decimals(system)
    exact = unit.from_si(float(bound)) / step  # rounded so that it still lets it in
    eased = (math.floor(exact + 1e-9) if end == "at_least" else math.ceil(exact - 1e-9)) * step
    return (
        f"Asking {end.replace('_', ' ')} {figure(eased, trait.decimals(system))} {unit.symbol}".strip()
        + " lets in"
    )


def _apart(asked: Question) -> str:
    apart = int((asked.ranking["group"] > 0).sum())
    if not apart:
        return ""
    stand = "1 cultivar stands" if apart == 1 else f"{apart:,} cultivars stand"
    return (
        f"{stand} last because nothing joins them to the others: never at one site in one season with them, not even through a third. "
        "Places, and chances of being among the first, count only those that are joined."
    )


WAYS = (
    ("larger", "smaller", "nearer to the ideal size"),
    ("firmer", "softer", "nearer to the ideal firmness"),
    ("sweeter", "less sweet", "nearer to the ideal sugar"),
)


def bettered(market: Market | None) -> str:
    """``larger, firmer and sweeter``, or as the market wishes these."""
    ways = []
    for way, (more, less, near) in zip(bearings(market), WAYS, strict=True):
        ways.append(more if way is None else less if way.shape == "smaller" else near)
    return f"{', '.join(ways[:-1])} and {ways[-1]}"


def not_beaten_told(asked: Question) -> str:
    """Who is not beaten in the pictures, and how sure that is; nothing where nobody can be told from the others."""
    sure = asked.sure_not_beaten
    if sure is None or not (sure > 0).any():
        return ""
    names = asked.catalogue.cultivars.index
    order = [row for row in (-sure).argsort(kind="stable") if sure[row] >= 0.5]
    told = [f"{names[row]} ({chance(float(sure[row]))})" for row in order]
    among = "that pass and qualify or may" if asked.profile else "that pass"
    start = f"Ringed, the fuller the surer: of the cultivars {among}, none is {bettered(asked.profile)} than it at once."
    more = (
        f" Most likely so: {listed(told)}."
        if told
        else " None is so in more cases than not: the estimates do not tell them apart."
    )
    return start + more
