"""One cultivar with its buyer, a few side by side, and who could take the place of one."""

from __future__ import annotations

import pandas as pd

from dashboard.answers.question import Question
from dashboard.answers.stand_ins import stand_ins
from dashboard.calls.columns import Found, Headings, Told, add_picks, add_trait, column_of
from dashboard.calls.reading import CHANCE
from dashboard.market import Limit
from dashboard.terms.traits import UNKNOWN, trait_called
from dashboard.wording.account import account_told
from dashboard.wording.differences import sentence
from dashboard.wording.figures import WAYS, counted, kind, limit_told, measured
from dashboard.wording.my_site import enough_told, of_name


def reasons(asked: Question) -> Found:
    """Of the opened cultivar: a row a limit and a wish of its buyer."""
    found, profile, name = asked.account, asked.profile, asked.cultivar
    if profile is None or found is None:
        said = f"{name}: {kind(dict(asked.catalogue.cultivars.loc[name]))}. Ask for a market to be told what it says."
        return pd.DataFrame(index=pd.RangeIndex(0)), [said], {}
    rows = []
    values = {trait: float(frame["estimate"][name]) for trait, frame in asked.values.items()}
    for limit in profile.limits:
        own = _own(asked, name, limit, values)
        rows.append({"part": "limit", "asks": limit_told(limit, asked.units), "value": own, "chance_pct": 100 * found.holds.get(limit, float("nan"))})  # fmt: skip
    for cost in found.costs:
        key = cost.wish.key
        rows.append({
            "part": "wish", "asks": f"{trait_called(key).label.lower()}: {WAYS[cost.wish.shape]}", "value": measured(key, cost.value, asked.units),
            "met_pct": 100 * cost.welcome, "weight_pct": 100 * cost.share, "costs_points": 100 * cost.costs,
        })  # fmt: skip
    columns = ["part", "asks", "value", "chance_pct", "met_pct", "weight_pct", "costs_points"]
    frame = pd.DataFrame(rows, columns=columns)
    labels = ("Limit or wish", "Asks for", "Its value", "Chance that it holds (%)", "Met (%)", "Part of all weights (%)", "Costs, points of the score")  # fmt: skip
    headings: Headings = {
        column: (label, CHANCE if column == "chance_pct" else 0)
        for column, label in zip(columns, labels, strict=True)
    }
    return frame, [f"{name}: {asked.reason(name)}.".replace("..", "."), *account_told(asked)], headings


def comparison(asked: Question) -> Found:
    """Of those set side by side."""
    found = asked.side_by_side
    assert found is not None
    told = Told()
    if asked.profile is not None:
        rows = asked.rows_of(found.names)
        told.add("verdict", rows["verdict"].astype(str), "Qualifies")
        told.add("score", 100 * rows["score"].astype(float), "Score (0 to 100)", 0)
        told.add("chance_pct", 100 * rows["clears"].astype(float), "Chance it qualifies (%)", CHANCE)
    add_picks(told, asked.catalogue, found.windows["first"], found.windows["last"])
    told.add("days_after", found.days_after.astype(float), "Days after the earliest", 1)
    for key, values in found.values.items():
        add_trait(told, trait_called(key), asked.units, values)
    for name in ("seasons", "sites", "samples", "fruit"):
        told.add(name, found.counts[name].astype(int))
    said = [sentence(one, asked.units) for one in found.real] or [
        f"Nothing is sure after looking at {counted(len(found.differences), 'difference')}: chance alone could have made each of them."
    ]
    for why, traits in found.refused.items():
        said.append(f"{', '.join(trait_called(trait).label for trait in traits)}: not told. {why}")
    return told.frame(pd.Index(found.names)), said, told.headings


def near_ones(asked: Question) -> Found:
    """Who could take the place of the opened cultivar."""
    name, units = asked.cultivar, asked.units
    found = stand_ins(asked.catalogue, name, asked.profile, asked.basis, asked.apart, asked.status)
    told = Told()
    told.add("days_later", [one.days for one in found], "Days later", 1)
    if asked.profile is not None:
        told.add("verdict", [str(asked.fit["verdict"][one.name]) for one in found], "Qualifies")
    for trait_key in dict.fromkeys(change.trait for one in found for change in one.changes):
        trait = trait_called(trait_key)
        unit, changes = (
            trait.unit(units),
            [next(c for c in one.changes if c.trait == trait_key) for one in found],
        )
        by = [unit.from_si(change.by) - unit.from_si(0.0) for change in changes]
        label = f"{trait.heading(units)}, more or less"
        told.add(f"{column_of(trait, units)}_more", by, label, trait.decimals(units))
        told.add(f"{trait_key}_sure_pct", [100 * change.sure for change in changes], "how sure (%)", CHANCE)
    if found:
        said = [
            f"{counted(len(found), 'cultivar')} of the same class could stand in for {name}; the nearest is {found[0].name}."
        ]
    else:
        said = [f"No cultivar of the same class ripens within {counted(asked.apart, 'day')} of {name}."]
    return told.frame(pd.Index([one.name for one in found], dtype="str")), said, told.headings


def _own(asked: Question, name: str, limit: Limit, values: dict[str, float]) -> str:
    """What there is of a cultivar to hold against a limit."""
    if limit.kind == "class":
        return str(asked.catalogue.cultivars.loc[name, limit.key])
    if limit.kind == "place":
        told = of_name(asked, name)
        return UNKNOWN if told is None or limit.winters is None else enough_told(told)
    return measured(limit.key, values[limit.key], asked.units)
