"""What would fill the slate, in words: who closes a gap, and a proposal with a reason for each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import pandas as pd

from dashboard.answers.choices import YEARS
from dashboard.answers.planning import Easing, Pick, Plan
from dashboard.answers.question import Question
from dashboard.answers.strip import Row
from dashboard.market.verdict import QUALIFIES
from dashboard.ripening.cover import Gap
from dashboard.ripening.model import ANY
from dashboard.wording.column_kinds import Column, plain
from dashboard.wording.columns import COLUMNS
from dashboard.wording.figures import chance, counted, listed
from dashboard.wording.gaps import near_told, usual_told
from dashboard.wording.lists import unoffered_told
from dashboard.wording.planning import (
    answer_told,
    asked_told,
    chances_told,
    easing_told,
    missing_told,
    reason_told,
    seasons_told,
)
from dashboard.wording.strip import gap_label

ASKED_FIRST = "This is what it is built for. Change what is not so; nothing goes on your slate unasked."
ASKED_PARTS = "It asks for buyer, days, trees on offer, fruit, winter chill and how surely. Scroll for all."
LOOKING = "Looking for the fewest cultivars that fill your season …"
LOOKING_FOR_MORE = "Looking for what would help …"
NOBODY_THEN = "Nothing that passes your filters has fruit then."
HELPFUL = ": days times the chance it qualifies."  # their order
TO_KEEP = "☆ puts one on your slate."
SHOWN = 10  # who closes a gap, at first
EASED = 2  # ways to ask for less
CLOSES = plain("closes", "Days it closes", kind="number")
ADDS = plain("adds", "Adds", kind="number")
BOTH = plain("both", "Chance it qualifies, too, and is picked then", kind="number")
WHY = plain("why", "Why", kind="reason")
NEVER = plain("never", "Not this one", kind="bar")
LEFT_OUT = "Never proposed: {names}."
ALLOW = "Propose them again"
OTHER_YEARS = "Built for {built}. The strip shows {shown}; what it counts may differ."
AROUND = ("first", "score", "clears", "rests", "bacterial_spot", "nursery")


def gap_columns(asked: Question) -> tuple[Column, ...]:
    return (
        *_named("keep", "mark", "name"),
        CLOSES,
        ADDS,
        *([BOTH] if asked.profile else []),
        *_around(asked),
    )


def proposal_columns(asked: Question) -> tuple[Column, ...]:
    return (*_named("keep", "mark", "name"), WHY, *_around(asked), NEVER)


def gap_told(row: Row, gap: Gap, south: bool, found: int, judged: bool) -> list[str]:
    """``Jun 10–Jun 21 · 12 days without enough fruit: fruit in 41 to 76 years of 100.``, and who would help, in which order."""
    whose = f"{row.buyer}: " if row.buyer else ""
    told = f"{whose}{gap_label(gap.first, gap.last, south)} without enough fruit: {near_told(row.cover, gap, south)}."
    if not found:
        return [told, NOBODY_THEN]
    shown = f"the {SHOWN} that help most" if found > SHOWN else "most helpful first"
    return [told, f"{counted(found, 'cultivar')} would help, {shown}{HELPFUL if judged else '.'} {TO_KEEP}"]


def gap_rows(asked: Question, found: pd.DataFrame) -> Iterator[dict[Any, Any]]:
    """``found`` from ``replacing.closers``, cut to what is shown."""
    rows = asked.rows_of(tuple(str(name) for name in found.index))
    gained = found[["closes", "adds", "both"]].to_dict("index")
    for name, values in rows.iterrows():
        yield {
            **values.to_dict(), "name": str(name),
            "closes": f"{gained[name]['closes']:.0f}", "adds": f"{gained[name]['adds']:.1f} days a year",
            "both": chance(gained[name]["both"]),
        }  # fmt: skip


def added(plan: Plan) -> list[Pick]:
    """Who a proposal adds to what is kept, in order of picking."""
    return [pick for pick in plan.picks if not pick.kept]


def proposal_told(plan: Plan) -> list[str]:
    """The answer, and what cannot be done."""
    lines = [
        answer_told(plan),
        *seasons_told(plan),
        f"{asked_told(plan.asked)}.",
        *usual_of(plan),
        *chances_told(plan),
        *doubts_told(plan),
        *missing_told(plan),
    ]
    if plan.asked.pool.barred:
        lines.append(LEFT_OUT.format(names=listed(plan.asked.pool.barred, 6)))
    if not plan.refused and not added(plan):
        lines.insert(0, "Nothing to add.")
    return lines


def usual_of(plan: Plan) -> list[str]:
    """That years move the usual days that stand beside each of them; [] where it is built for one kind of year."""
    ripe, fresh = plan.asked.catalogue.ripening, added(plan)
    return [usual_told(ripe)] if fresh and plan.asked.season_kind == ANY and not ripe.refused else []


def looked_at_told(asked: Question) -> list[str]:
    """That the strip shows other years than those the proposal is built for; [] where it does not."""
    if asked.season_kind == asked.built_for:
        return []
    return [OTHER_YEARS.format(built=YEARS[asked.built_for], shown=YEARS[asked.season_kind])]


def doubts_told(plan: Plan) -> list[str]:
    """What a buyer may not take, nobody offers, or was seen only once, of those added: said before they are put on the slate."""
    merits = [(pick.name, pick.merits) for pick in added(plan)]
    verdicts = [f"verdict {at}" for at in range(len(plan.asked.markets))]
    doubts = {
        "May not qualify: {}.": [name for name, row in merits if QUALIFIES not in set(row[verdicts])],
        "Seen in one season only: {}.": [name for name, row in merits if row["seasons"] < 2],
    }
    told = [said.format(listed(names, 8)) for said, names in doubts.items() if names]
    return [*told, *unoffered_told(plan.asked.catalogue, [name for name, _ in merits])]


def easings_told(found: Sequence[Easing]) -> list[str]:
    """What would help most, the best first."""
    return [easing_told(one) for one in found[:EASED]] or [
        "Nothing we tried would leave fewer days without fruit."
    ]


def proposal_rows(asked: Question, plan: Plan) -> Iterator[dict[Any, Any]]:
    """Who would be added, in order of picking, each with its reason."""
    fresh = added(plan)
    rows = asked.rows_of(tuple(pick.name for pick in fresh)) if fresh else None
    for pick in fresh:
        assert rows is not None
        yield {
            **rows.loc[pick.name].to_dict(),
            "name": pick.name,
            "why": f"{reason_told(pick, plan.asked)}.",
            "never": "Never this one",
        }


def _named(*keys: str) -> tuple[Column, ...]:
    return tuple(COLUMNS[key] for key in keys)


def _around(asked: Question) -> tuple[Column, ...]:
    return tuple(column for column in _named(*AROUND) if asked.profile or not column.ranked)
