"""A plan as a reader sees it: what was asked, what is proposed and why, what is missing, and what would help."""

from __future__ import annotations

from dashboard.answers import prospects
from dashboard.answers.choices import ANY_NURSERY, FILTERS, SHARES
from dashboard.answers.planning import Easing, Pick, Plan
from dashboard.answers.selling import SOME, Spans, Wanted
from dashboard.market import Market
from dashboard.ripening.fewest import Fewest
from dashboard.ripening.model import ANY
from dashboard.wording.cautions import averages_decide
from dashboard.wording.covered import left, often
from dashboard.wording.figures import chance, counted, listed
from dashboard.wording.gaps import days_told

MOVED = "; in {} years it is picked then"
SELDOM = "days that are not covered often enough"


def spans_told(spans: Spans, south: bool, most: int = 4) -> str:
    """``Jul 3 to Jul 9, Jul 12``; the longest of many are kept, in their order."""
    longest = sorted(sorted(spans, key=lambda one: one[0] - one[1])[:most])
    return listed([days_told(*one, south) for one in longest], most) + (
        f" and {counted(len(spans) - most, 'shorter stretch')}" if len(spans) > most else ""
    )


def asked_told(asked: Wanted) -> str:
    """``Roadside stand, Jun 10 to Aug 31 (83 days), fruit in 8 years in 10, any year, offered by any nursery``."""
    buyers = " and ".join(market_called(market) for market in asked.markets)
    kind = "" if asked.season_kind == ANY else f"{asked.season_kind} "
    at_once = f"at least {asked.least} cultivars at once" if asked.least > 1 else "fruit"
    days = counted(int(asked.last - asked.first) + 1, "day")
    span = days_told(asked.first, asked.last, asked.catalogue.south)
    told = f"{buyers}, {span} ({days}), {at_once} in {asked.certainty} {kind}years in 10"
    sold = asked.pool.filters.nursery or (ANY_NURSERY,) * asked.pool.offered
    bought = [FILTERS["nursery"].told(FILTERS["nursery"].short, asked.catalogue, sold)] if sold else []
    return ", ".join(
        [told, *(["any year"] if asked.season_kind == ANY else []), *bought, *shares_told(asked)]
    )


def shares_told(asked: Wanted) -> list[str]:
    """``at least a quarter white``: what was asked of the set, share by share."""
    told = []
    for share in asked.shares:
        words = " or ".join(share.words)
        if share.least == SOME:
            told.append(f"some {words}")
        elif share.least > 0:
            part = SHARES.get(
                f"{share.field} {words} {1 / share.least:.0f}", f"{100 * share.least:.0f} % {words}"
            )
            told.append(f"at least {part}")
        if share.most < 1:
            told.append(f"at most {100 * share.most:.0f} % {words}")
    return told


def answer_told(plan: Plan) -> str:
    """How many cultivars, on how many days they have fruit, and which days are left."""
    asked, south = plan.asked, plan.asked.catalogue.south
    if plan.refused:
        return plan.refused
    shares = " and ".join(shares_told(asked))
    kept = f", {shares}" if shares and not plan.lacking and len(plan.picks) > 1 else ""
    days = [often(cover, asked.season_kind, _for(asked, at).strip()) for at, cover in enumerate(plan.covers)]
    told = " ".join([f"{counted(len(plan.picks), 'cultivar')}{kept}.", *days])
    if plan.bare_days:
        bare = [f"{_for(asked, at)}{spans_told(spans, south)}" for at, spans in enumerate(plan.bare) if spans]
        told += f" Not covered: {'; '.join(bare)}."
    if plan.lacking:
        told += f" You asked for {shares}: {counted(plan.lacking, 'cultivar')} short."
    return told


def seasons_told(plan: Plan) -> list[str]:
    """What the covered days leave of a year, a sentence a market."""
    return [
        left(cover, plan.asked.season_kind, _for(plan.asked, at).strip())
        for at, cover in enumerate(plan.covers if plan.picks else ())
    ]


def left_out_told(plan: Plan, other: Plan | None) -> list[str]:
    """Who was left out as no nursery offers them, and what the ``other`` proposal, with them, would save; [] where nobody was."""
    if other is None or other.refused or other.candidates <= plan.candidates:
        return []
    out = f"Left out: {counted(other.candidates - plan.candidates, 'cultivar')} that no nursery offers now."
    if plan.refused:
        return [f"{out} With them there is a proposal."]
    days, fewer = plan.bare_days - other.bare_days, len(plan.picks) - len(other.picks)
    if days > 0:
        return [
            f"{out} With them, {counted(days, 'more day')} would be covered, by {counted(len(other.picks), 'cultivar')}."
        ]
    return [
        f"{out} With them, {fewer} fewer would do."
        if fewer > 0 and not days
        else f"{out} With them, no smaller one was found."
    ]


def chances_told(plan: Plan) -> list[str]:
    """Why no chances are told, a sentence a market; [] where they are."""
    asked = plan.asked
    whys = [prospects.refused(asked.catalogue, market, asked.basis) for market in asked.markets]
    return [
        averages_decide(why, market_called(market))
        for market, why in zip(asked.markets, whys, strict=True)
        if why
    ]


def missing_told(plan: Plan) -> list[str]:
    """The days that no set covers, a sentence a market; [] where every day can be."""
    asked = plan.asked
    return [
        f"{_for(asked, at)}{spans_told(spans, asked.catalogue.south)}: all {counted(plan.candidates, 'candidate')} together do not have "
        f"{'fruit' if asked.least == 1 else 'enough'} then in {asked.certainty} years in 10."
        for at, spans in enumerate(plan.impossible)
        if spans
    ]


def reason_told(pick: Pick, asked: Wanted) -> str:
    """``without it Jul 3 to Jul 9 would not be covered``."""
    south = asked.catalogue.south
    alone = [f"{_for(asked, at)}{spans_told(spans, south, 3)}" for at, spans in enumerate(pick.gaps) if spans]
    if alone:
        return f"without it {'; '.join(alone)} would not be covered{_moved(pick, asked)}"
    if pick.kept:
        return "kept as you asked; the others cover its days"
    if sum(pick.adds) >= 0.05:
        return f"adds {sum(pick.adds):.1f} days a season to {SELDOM}"
    return "counts toward a share by class; the others cover its days"


def _moved(pick: Pick, asked: Wanted) -> str:
    """Which years bring its fruit on days that are not its usual ones."""
    spans = [span for spans in pick.gaps for span in spans] if asked.season_kind == ANY else []
    years = [word for word, off in (("early", any(a < pick.window[0] - 0.5 for a, _ in spans)), ("late", any(b > pick.window[1] + 0.5 for _, b in spans))) if off]  # fmt: skip
    return MOVED.format(" and ".join(years)) if years else ""


def merits_told(pick: Pick) -> str:
    """``score 58, 83 % qualifies, 7 seasons, bacterial spot 2 of 5, 600 h of chill, from Ostravane Trees``."""
    row = pick.merits
    told = [f"score {100 * row['score']:.0f}"] if row["score"] == row["score"] else []
    if row["clears"] == row["clears"]:
        told.append(f"qualifies with a chance of {chance(row['clears'])}")
    told.append(counted(int(row["seasons"]), "season"))
    spot = row["bacterial_spot"]
    told.append(f"bacterial spot {spot:g} of 5" if spot == spot else "bacterial spot not recorded")
    if row["chill_requirement_cp"] == row["chill_requirement_cp"]:
        told.append(f"needs {row['chill_requirement_cp']:g} chill portions")
    elif row["chill_requirement_h"] == row["chill_requirement_h"]:
        told.append(f"needs {row['chill_requirement_h']:g} h of chill")
    told.append(f"from {listed(row['nurseries'], 2)}" if row["nurseries"] else "no nursery offers it")
    return ", ".join(told)


def easing_told(one: Easing) -> str:
    """``With one cultivar more (13): 21 days not covered.``"""
    asked, south = one.plan.asked, one.plan.asked.catalogue.south
    eased = {
        "more": f"one cultivar more ({asked.most})",
        "later": f"a start {counted(one.by, 'day')} later ({days_told(asked.first, asked.first, south)})",
        "earlier": f"an end {counted(one.by, 'day')} earlier ({days_told(asked.last, asked.last, south)})",
        "certainty": f"{asked.certainty} years in 10 instead of {asked.certainty + one.by}",
        "may": "fruit that may qualify as well",
        "not offered": "cultivars that no nursery offers as well",
        "fewer seasons": "cultivars with fewer seasons of evidence as well",
    }[one.what]
    left = (
        f"{counted(one.plan.bare_days, 'day')} not covered" if one.plan.bare_days else "every day is covered"
    )
    size = "" if one.what == "more" else f" by {counted(len(one.plan.picks), 'cultivar')}"
    return f"With {eased}: {left}{size}."


def bound_told(found: Fewest, size: int, offered: bool = False) -> str:
    """How far from the fewest possible a set of this ``size`` may be; ``offered``: of what can be bought now."""
    if found.least >= size:
        return f"{'Of what can be bought now, fewer' if offered else 'Fewer'} cannot cover these days."
    told = f"fewer than {counted(found.least, 'cultivar')}{' of what can be bought' if offered else ''} cannot cover these days"
    return f"Proven: {told}. Whether a set between the two sizes can is not known."


def market_called(market: Market | None) -> str:
    return market.name if market else "Any fruit"


def _for(asked: Wanted, at: int) -> str:
    return f"{market_called(asked.markets[at])} " if len(asked.markets) > 1 else ""
