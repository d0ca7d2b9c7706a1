"""What is said of an order of trees: what to buy, what it promises, how sure that is, and what would help."""

from __future__ import annotations

import math

from dashboard.answers.ordered import AT_RISK, BOTH, REPLICATIONS, Order
from dashboard.answers.ordering import FRESH, OrderWanted, borne
from dashboard.order import Ordered
from dashboard.order.priced import SURE
from dashboard.order.spending import Spent
from dashboard.ripening import day_label
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.figures import counted, listed
from dashboard.wording.order_changes import changed_told
from dashboard.wording.order_figures import dollars, percent_up, pounds, share

PLACED = (
    "In each season a winter and spring on record at {} take from the crops, the same year for all cultivars. "
    "Crops that were weighed had lost some to their own, so this is careful."
)
UNPLACED = "Warm winters and spring frosts of your place are not counted. They are once a place is chosen: on My site, or as the place of a command or notebook."
VARY = "Yields vary: these are estimates for trees in full bearing, not a guarantee."
ALONE = "The trees are for this buyer alone; those for another buyer are ordered beside them."
SHARED = (
    "Fruit may go to either buyer whose sizes it meets. Enough for each alone and for both together is what is promised. "
    "In each week one fixed split of what suits both then fills them alike on average, as far as their fruit allows."
)
CAUTIONED = (VARY, ALONE, *CAUTIONS)


def progress_told(now: Ordered | Spent) -> str:
    """A line while it works."""
    if isinstance(now, Spent):
        return f"{now.seconds:4.0f} s: {share(now.met)} of the fruit; no order for this money brings more than {percent_up(now.gap)} more"
    if now.bundles is None:
        why = "no order keeps all promises" if math.isinf(now.bound) else "no order found yet"
        return f"{now.seconds:4.0f} s: {why}"
    return f"{now.seconds:4.0f} s: {dollars(now.cost)}, at most {percent_up(now.gap)} above the least"


def cautioned(wanted: OrderWanted) -> tuple[str, ...]:
    """``CAUTIONED``, of an order for two buyers how their fruit is counted."""
    return CAUTIONED if wanted.also is None else (VARY, SHARED, *CAUTIONS)


def buyers_called(wanted: OrderWanted) -> str:
    return " and ".join(market.name if market else "any buyer" for market in wanted.buyers)


def whose(order: Order, place: int) -> str:
    """For which of two buyers a week is; "" where there is one."""
    return "" if order.wanted.also is None else f" for {order.weeks['buyer'].iloc[place]}"


def week_called(order: Order, place: int) -> str:
    row, south = order.weeks.iloc[place], order.wanted.catalogue.south
    return f"{day_label(row['first'], south)} to {day_label(row['last'], south)}{whose(order, place)}"


def answer_told(order: Order) -> str:
    rows = order.rows
    kinds = counted(rows["cultivar"].nunique(), "cultivar")
    return (
        f"Order {counted(order.trees, 'tree')} of {kinds} for {dollars(rows['cost'].sum())}; "
        f"they take {order.acres:.1f} acres at {order.wanted.trees_per_acre:.0f} trees an acre."
    )


def promise_told(order: Order) -> str:
    wanted, part = order.wanted, order.short.part if order.short else 1.0
    if wanted.as_much:
        return f"It is made to bring as much of the fruit you want as {_limits(order)} allows, so no single week is promised."
    return (
        f"It is made so that each week at least {share(part * wanted.fill)} of the fruit is there on average, "
        f"and {share(part * wanted.worst)} in the worst fifth of seasons."
    )


def _limits(order: Order) -> str:
    """ "$4,000 and 2.5 acres"."""
    money, acres = order.wanted.money, order.wanted.acres
    return listed([*([dollars(money)] if money is not None else []), *([f"{acres:g} acres of land"] if acres is not None else [])])  # fmt: skip


def gap_told(order: Order) -> str:
    if isinstance(order.found, Spent):
        return f"No order that keeps to {_limits(order)} brings more than {percent_up(order.found.gap)} more, over the seasons it was made for."
    if order.short is not None:
        return "As not all could be promised, how near this is to the least cost was not worked out."
    if order.found.gap <= 0:
        return "No order of whole bundles that keeps these promises costs less, over the seasons it was made for."
    return f"No order that keeps these promises costs more than {percent_up(order.found.gap)} less, over the seasons it was made for."


def shares_told(order: Order) -> list[str]:
    """Who has most of the trees, where no cultivar may have too many."""
    if order.wanted.most_share >= 1:
        return []
    trees = order.rows.groupby("cultivar")["trees"].sum()
    most = f"{trees.idxmax()} has most, {share(trees.max() / trees.sum())}"
    return [f"You allow no cultivar more than {share(order.wanted.most_share)} of the trees of this order; {most}."]  # fmt: skip


def lowered_told(order: Order) -> list[str]:
    """The weeks in which less was promised than asked, as no order could do it."""
    weeks = order.weeks
    return [
        f"In the week {week_called(order, place)} all trees on offer fall short, so {share(row['lowered'])} less is promised there."
        if row["lowered"] >= 0.01
        else f"In the week {week_called(order, place)} all trees on offer fall a little short of what was asked."
        for place, row in enumerate(weeks.to_dict("records"))
        if row["lowered"] > 1e-9
    ]


def short_told(order: Order) -> list[str]:
    """What cannot be kept, in which weeks, and what would help."""
    short = order.short
    if short is None:
        return []
    told = ["Not every promise can be kept with what you allow." if short.proven else "No order that keeps every promise was found in the time."]  # fmt: skip
    for place, (fill, worst) in enumerate(zip(*short.missing, strict=True)):
        if max(fill, worst) > 0.005:
            less = f"{100 * fill:.0f} % on average, {100 * worst:.0f} % in the worst fifth of seasons"
            told.append(f"The week {week_called(order, place)} lacks {less}.")
    if short.trees is not None:
        acres = math.ceil(10 * short.trees / order.wanted.trees_per_acre) / 10
        told.append(f"Would help: land for {short.trees:,} trees ({acres:.1f} acres).")
    if short.cultivars is not None:
        told.append(f"Would help: {short.cultivars} cultivars.")
    if short.largest is not None:
        told.append(f"It stands in the way that no cultivar may have more than {share(order.wanted.most_share)} of the trees. Up to {share(short.largest)} would do.")  # fmt: skip
    told.append(f"Or promise less: about {share(short.part)} of each promise was found possible.")
    return told


def risk_told(order: Order) -> str:
    weeks = order.weeks[(order.weeks["kg"] > 0) & (order.weeks["buyer"] != BOTH)]
    at_risk = [place for place, row in weeks.iterrows() if row["fully"] < AT_RISK]
    kept = f"Over {FRESH:,} other seasons the leanest week has {share(weeks['fill'].min())} of its fruit on average"
    if not at_risk:
        return f"{kept}; every week is met in full in at least {share(weeks['fully'].min())} of seasons."
    many = f"{len(at_risk)} of {len(weeks)} weeks"
    return f"{kept}; {many} are met in full in less than {share(AT_RISK)} of seasons."


def years_told(order: Order) -> str:
    years = order.years
    told = [
        f"year {row['year']:.0f}: {share(row['met'])}" for row in years[years["year"] <= 5].to_dict("records")
    ]
    return f"Share of the fruit there as the trees grow: {listed(told)}; later as in year 5."


def without_told(order: Order) -> str:
    row = order.without.iloc[0]
    return f"Without {row['cultivar']}, the one most needed, the week {week_called(order, row['week'])} has {share(row['met_then'])} of its fruit."


def replicated_told(order: Order) -> list[str]:
    least, _ = order.replicated
    if math.isnan(least):
        return []
    if least <= 0:
        return [
            f"Other seasons were drawn {REPLICATIONS} times. They differ too much to say what such an order must cost at the least."
        ]
    return [
        f"Other seasons were drawn {REPLICATIONS} times. They show with {100 * SURE:.0f} % confidence that no order which keeps these promises in the long run costs less than {dollars(least)}."
    ]


def rests_on(wanted: OrderWanted) -> str:
    """Whose crops a tree's are taken from."""
    if wanted.bears is None:
        return borne(wanted.catalogue).note
    return f"Trees are taken to bear {pounds(wanted.bears)} in full bearing, as you say; how they differ is from the records."


def left_out_told(order: Order) -> list[str]:
    out = order.wanted.left_out
    who = "this buyer" if order.wanted.also is None else "these buyers"
    return [f"Nothing can be ordered of {listed(list(out))}: not taken by {who}, never picked, or on offer nowhere."] if out else []  # fmt: skip


def lines(order: Order) -> list[tuple[str, str]]:
    """What is said of the whole, the answer first."""
    return [
        ("Answer", answer_told(order)),
        *(("Missing", line) for line in (*short_told(order), *lowered_told(order))),
        ("Promise", promise_told(order)),
        *(("Shares", line) for line in shares_told(order)),
        ("Proof", gap_told(order)),
        ("Risk", risk_told(order)),
        ("If one is lost", without_told(order)),
        *changed_told(order),
        ("Years", years_told(order)),
        *(("Other seasons", line) for line in replicated_told(order)),
        *(("Left out", line) for line in left_out_told(order)),
        ("Rests on", rests_on(order.wanted)),
        ("Chill and frost", placed_told(order)),
    ]


def placed_told(order: Order) -> str:
    place = order.wanted.place
    return UNPLACED if place is None else PLACED.format(place.name)
