"""An order of trees as the page tells it: what cannot be filled comes first, then the trees, then the weeks that may be short."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from dashboard.answers.demand import Demand
from dashboard.answers.order_helped import Reach
from dashboard.answers.ordered import AT_RISK, BOTH, Order
from dashboard.answers.ordering import OrderWanted
from dashboard.market import Market
from dashboard.order import Ordered
from dashboard.order.spending import Spent
from dashboard.ripening import day_label
from dashboard.terms.units import KG_PER_POUND
from dashboard.wording import ordering as words
from dashboard.wording.figures import counted, listed
from dashboard.wording.order_figures import percent_up, share

SURPLUS = 2.0
MOST_WEEKS = 3  # named one by one
NAME = "How many trees"
BUILD_FIRST = (
    "Your slate is empty. An order is made of the cultivars on it: put some there with ☆, or build one."
)
ASK = "Type the pounds you want each week. The rest has a usual value, and you can change it."
READ = (
    "A column is a week. The blue line is what you want. The black line is the middle season. "
    "The dark box holds half of all seasons and the pale one 8 in 10. Red: short in more than 2 years in 10. What is far more than you want is cut off."
)
YEARS_READ = "Year from planting, and the share of the season’s fruit that is there, in per cent."
BAD_YEARS = "A week may have all its fruit in 8 years of 10 and still bring too little in the others."
CHANGED = "What you ask has changed since. Plan it again."
AT_WORK = "Planning …"
STOPPING = "Stopping …"
NOTHING_YET = "Stopped before an order was found. Plan it again and let it run longer."
FAILED = "The order could not be worked out; the reason is in the server’s log. Try again in a minute."
CROWDED = "Many orders are being planned just now; try again in a minute."
LEFT = "Other people's plans before yours: {}."


def progress_told(now: Ordered | Spent) -> str:
    """A line while it works."""
    if isinstance(now, Spent):
        return f"{AT_WORK} {now.seconds:.0f} s. At most {percent_up(now.gap)} more fruit for this money."
    if now.bundles is None:
        return f"{AT_WORK} {now.seconds:.0f} s"
    return f"{AT_WORK} {now.seconds:.0f} s. At most {percent_up(now.gap)} above the least cost so far."


def suits(buyer: str) -> str:
    """Over the picture of what one of two buyers, or both, could have."""
    return "Fruit for both together" if buyer == BOTH else f"Fruit that suits {buyer}, whoever gets it"


def missing_told(order: Order, found: Reach) -> list[str]:
    """What stands in the way: nothing where the list fills every week as asked."""
    if order.short is not None:
        return words.short_told(order)
    if order.wanted.as_much:
        met = order.years["met"].iloc[-1]
        return [f"These trees bring {share(met)} of all the fruit you want, once they bear in full.", *words.left_out_told(order)]  # fmt: skip
    if not found.short:
        return words.left_out_told(order)
    rows, weeks = order.weeks, len(order.wanted.demand.kg)
    many = len({place % weeks for place, kg in enumerate(order.wanted.kg) if kg > 0})
    fill, worst = (100 * order.wanted.fill, 100 * order.wanted.worst)
    fails = [
        place
        for place in found.short
        if 100 * rows["fill"][place] < fill or 100 * rows["worst"][place] < worst
    ]
    one_by_one = {
        place % weeks for place in fails if place < 2 * weeks
    }  # not told of both together once more
    fails = [place for place in fails if place < 2 * weeks or place % weeks not in one_by_one]
    if not fails:
        return words.left_out_told(order)
    lean = sorted(fails, key=lambda place: rows["fill"][place])
    told = _of_weeks(
        order, lean, lambda place: f"{share(rows['fill'][place])}, in bad years {share(rows['worst'][place])}"
    )
    return [
        f"Your list cannot fill {len({place % weeks for place in fails})} of {many} weeks as surely as you ask, or only with far more trees.",
        f"The order below brings less in the week of {told}.",
        *([BAD_YEARS] if any(rows["fully"][place] >= AT_RISK for place in fails) else []),
        *words.left_out_told(order),
    ]


def helps_told(order: Order, found: Reach) -> list[str]:
    """The cheapest easings known: a cultivar more, or a smaller promise."""
    if order.wanted.as_much:
        return []
    told, many, before, weeks = [], len(found.short), math.inf, len(order.wanted.demand.kg)
    for place, one in enumerate(found.helps):
        many_left = len({week % weeks for week in one.short})  # of two buyers a week counts once
        if many_left >= before:
            break
        before, beside = many_left, "Add" if not place else "With that, add"
        left = counted(many_left, "week") if many_left else "no week"
        told.append(
            f"{beside} {one.name} (${one.price:,.2f} a tree, {one.nursery}), and {left} still would fall short."
        )
    if many:
        told.append("Or be content with less: choose “mostly” under “Each week is filled”.")
    return told


def risk_told(order: Order) -> str:
    """The weeks that may be short, in words, over fresh seasons."""
    rows = order.weeks[(order.weeks["kg"] > 0) & (order.weeks["buyer"] != BOTH)]
    lean = rows[rows["fully"] < AT_RISK].sort_values("fully")
    if lean.empty:
        first = int(rows.index[int(rows["fully"].to_numpy().argmin())])
        likeliest = _of_weeks(
            order, [first], lambda place: f"in {_in_hundred(rows['fully'][place])} years of 100"
        )
        return f"No week is short in more than 2 years of 10. Likeliest to be short: the week of {likeliest}."
    told = _of_weeks(order, list(lean.index), lambda place: f"{_in_ten(lean['fully'][place])} years of 10")
    return f"Short in more than 2 years of 10: the week of {told}. In brackets, the years that have all its fruit."


def _of_weeks(order: Order, places: Sequence[int], told: Callable[[int], str]) -> str:
    """ "Jun 10 (55 %), Jun 17 (60 %) and 3 more"."""
    south, first = order.wanted.catalogue.south, order.weeks["first"]
    return listed(
        [f"{day_label(first[place], south)}{words.whose(order, place)} ({told(place)})" for place in places],
        MOST_WEEKS,
    )


def surplus_told(order: Order) -> list[str]:
    """How much more than is wanted the trees bear in a middle season, where that is twice as much or more: nobody may buy it."""
    task = order.found.task
    weeks = task.weeks[task.volume > 0]
    times = float(order.fan[2][weeks].sum() / task.wanted[weeks].sum())
    return [] if times < SURPLUS else [f"In a middle season these weeks bring about {times:.0f} times what you want. The rest needs another buyer."]  # fmt: skip


def _in_ten(share: float) -> str:
    return f"{math.floor(10 * share + 1e-9)}"


def _in_hundred(fully: float) -> int:
    """Years in which it is not full; never 0, as none is sure."""
    return max(1, round(100 * (1 - fully)))


def whole_told(order: Order) -> list[tuple[str, str]]:
    """What is folded: how sure it is, and what it rests on."""
    return [
        ("Promise", words.promise_told(order)),
        *(("Shares", line) for line in words.shares_told(order)),
        ("Proof", words.gap_told(order)),
        ("Fresh seasons", words.risk_told(order)),
        ("If one is lost", words.without_told(order)),
        *(("Other seasons", line) for line in words.replicated_told(order)),
        ("Rests on", words.rests_on(order.wanted)),
        ("Chill and frost", words.placed_told(order)),
    ]


def usual_told(wanted: OrderWanted) -> str:
    """What stands in the field of the crop while nothing is typed."""
    usual = wanted.usual
    return "" if math.isnan(usual) else f"{usual / KG_PER_POUND:.0f} from the records"


def amount_called(market: Market | None, two: bool) -> str:
    """What stands over the field of the pounds a week."""
    return f"Pounds each week for {market.name}" if two and market else "Pounds wanted each week"


def file_asked(market: Market | None, two: bool) -> str:
    """What stands over the field of a file."""
    whose = f", for {market.name}" if two and market else ""
    return f"Or open a table (.csv) with the columns week, amount and unit{whose}"


def weeks_asked(wanted: OrderWanted, also: bool = False) -> list[tuple[float, str, float]]:
    """Each week by its first day: that, its words, and the pounds wanted, ``also`` by the second buyer."""
    south, days = wanted.catalogue.south, wanted.demand.days
    asked = (wanted.also if also else wanted.demand) or Demand(days[0], (0.0,) * (len(days) - 1))
    return [
        (float(first), day_label(first, south), kg / KG_PER_POUND)
        for first, kg in zip(days[:-1], asked.kg, strict=True)
    ]
