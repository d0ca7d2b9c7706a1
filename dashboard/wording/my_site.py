"""What the weather of a place says, in sentences: chill by winter, needs met, bloom and frost, each with its caution."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pandas as pd

from dashboard.answers import filters as filtering
from dashboard.answers.chill_choices import chill_bound
from dashboard.answers.choices import FILTERS
from dashboard.answers.filters import Filters
from dashboard.answers.my_site import MySite, by_measure
from dashboard.answers.question import Question
from dashboard.market.placed import KIND
from dashboard.ripening import day_label
from dashboard.site.needs import NEEDS, enough, rounded_to
from dashboard.site.winters import HOURS, PORTIONS
from dashboard.terms.traits import UNKNOWN
from dashboard.wording.figures import counted, listed, qualify_told

UNITS = {PORTIONS: "portions", HOURS: "hours"}
OFTEN = 9  # winters in ten, from which on a need counts as met
HOT_C = 35.0
NEAR = 0.9  # of a bound on what is needed, from where on there is little margin; ours
_ENOUGH = (
    "Winter chill at {{place}}: {{well}} of {{known}} {} with a need on record {} enough in {} winters of 10."
)
SHORT: dict[str, Any] = {  # of a slate; what is said of one, and of several
    "none": "Winter chill at {place}: the need of none of these is on record.",
    "enough": (_ENOUGH.format("cultivar", "gets", OFTEN), _ENOUGH.format("cultivars", "get", OFTEN)),
    "never": "In no winter on record would any of them have gone short.",
    "together": "In the winter of {year}, {count} would have gone short together: {names}.",
}
NO_WEATHER = "These records hold no weather. Open a file with a day’s lowest and highest temperature, below."
CAUTIONS = (
    "Chill and frost figures are estimates from a thermometer, not from your trees. No model of them holds everywhere.",
    "Your local extension service and your own records of bloom and crop come first.",
)


def chill_asked_told(asked: Question) -> list[str]:
    """How many pass what was asked of the chill they need; [] where nothing was."""
    if not asked.chill:
        return []
    others = filtering.passes(asked.catalogue, replace(asked.filters, chill=()))
    told = f"{int(asked.passes.sum()):,} of {counted(int(others.sum()), 'cultivar')} pass with {_bounds_told(asked)}"
    qualify = f"; {qualify_told(asked)}" if asked.profile else ""
    missing = filtering.left_out(asked.catalogue, asked.filters).get("chill")
    return [f"{told}{qualify}.", *([f"{missing}."] if missing else [])]


def _within_told(asked: Question) -> str:
    """ "Winter chill needed at most 650 hours: 3 of my 12 (A, B, C). 7 need more (…). Of 2 no need is on record in that unit (…)."."""
    alone = Filters(chill=asked.chill)
    index = asked.catalogue.cultivars.index
    within = dict(zip(index, filtering.passes(asked.catalogue, alone), strict=True))
    unknown = dict(zip(index, filtering.all_missing(asked.catalogue, "chill", asked.chill), strict=True))
    groups = [
        [name for name in asked.shortlist if within[name]],
        [name for name in asked.shortlist if not within[name] and not unknown[name]],
        [name for name in asked.shortlist if not within[name] and unknown[name]],
    ]
    few, more, none = (f" ({listed(names, len(names))})" if names else "" for names in groups)
    bounds = _bounds_told(asked)
    return (
        f"{bounds[:1].upper()}{bounds[1:]}: {len(groups[0])} of my {len(asked.shortlist)}{few}. {len(groups[1])} need more{more}. "
        f"Of {len(groups[2])} no need is on record in that unit{none}."
    )


def _bounds_told(asked: Question) -> str:
    one = FILTERS["chill"]
    return one.told(one.full, asked.catalogue, asked.chill)


def in_ten(share: float) -> str:
    """``9.2 in 10``: only what always was, or never, is told as 10 or 0."""
    if share != share:
        return UNKNOWN
    if share in (0, 1):
        return f"{10 * share:.0f} in 10"
    return f"{min(max(10 * share, 0.1), 9.9):.1f} in 10"


def need_told(row: Any) -> str:
    """``51 portions``."""
    return f"{row['need']:g} {UNITS[row['measure']]}" if row["measure"] else UNKNOWN


def enough_told(row: Any, where: str = "") -> str:
    """``9.2 in 10 (10 if it needs 675 hours, 8.8 if 725)``: winters, and what the rounding of its need leaves open; ``where`` follows the
    figure."""
    if not row["measure"]:
        return UNKNOWN
    told = in_ten(row["enough"]) + where
    if row["enough_high"] - row["enough_low"] < 0.005:
        return told
    least, most = (f"{row['need'] + side * row['step'] / 2:g}" for side in (-1, 1))
    ends = (f"{10 * row[end]:.1f}".removesuffix(".0") for end in ("enough_high", "enough_low"))
    return "{} ({} if it needs {} {}, {} if {})".format(
        told, next(ends), least, UNITS[row["measure"]], next(ends), most
    )


def chill_facts(asked: Question, name: str) -> list[tuple[str, str]]:
    """For the card of a cultivar: winters with enough at my site, by each unit that its need is recorded in; nothing without any."""
    found = asked.my_site
    if found is None or found.refused:
        return []
    return [
        (f"Enough chill, by {UNITS[measure]}", enough_told({**told.loc[name], "measure": measure}, f" winters at {found.name}"))
        for measure, told in found.by_unit.items()
        if told["need"].notna()[name]
    ]  # fmt: skip


def of_name(asked: Question, name: Any) -> Any:
    """What is known of the chill of one cultivar at my site; None without any weather."""
    found = asked.my_site
    return None if found is None or found.refused else found.enough.loc[name]


def supply_told(found: MySite) -> list[str]:
    """The answer first: what nine winters in ten brought; then their spread, and how they moved."""
    supply, least, years = found.winters.supply, found.assured, found.winters.years
    lines = [
        f"In {OFTEN} winters of 10, {found.name} had at least {least[PORTIONS]:.0f} chill portions and {least[HOURS]:.0f} chill hours.",
        f"That rests on {counted(len(years), 'winter')}, {years[0]} to {years[-1]}, by the year of their spring.",
    ]
    spread = [f"{supply[name].min():.0f} to {supply[name].max():.0f} {UNITS[name]}" for name in UNITS]
    lines.append(f"Winters ran from {' and from '.join(spread)}.")
    trend = found.winters.trend(by_measure(found))
    if trend is not None:
        unit = UNITS[by_measure(found)]
        way = "fell" if trend.per_decade < 0 else "rose"
        ends = sorted((trend.low, trend.high))
        sure = "so winters changed" if trend.sure else "so they may not have changed at all"
        lines.append(
            f"In ten years they {way} by {abs(trend.per_decade):.1f} {unit} on average (95 % between {ends[0]:+.1f} and {ends[1]:+.1f}), {sure}."
        )
        lines.append("A trend tells what was, not what will be.")
    return lines


def rounding_told(asked: Question) -> str:
    """How much the rounding of the recorded needs matters, over all cultivars."""
    found = asked.my_site
    if found is None or found.refused:
        return ""
    told = found.enough[found.enough["measure"] != ""]
    if not len(told):
        return "No cultivar has its need for chill on record."
    steps = [_step(rounded_to(told.loc[told["measure"] == name, "need"].to_numpy()), UNITS[name]) for name in UNITS if (told["measure"] == name).any()]  # fmt: skip
    most = 10 * float((told["enough_high"] - told["enough_low"]).max())
    moved = f"moves a figure by at most {most:.1f} winters in 10" if most >= 0.05 else "moves no figure here"
    return f"Needs are recorded to the nearest {' or '.join(steps)}. That alone {moved}."


def doubt_told(asked: Question) -> list[str]:
    """What else a recorded need leaves open: how it was found, which the records do not say, and where its two units do not agree."""
    found = asked.my_site
    if found is None or found.refused or not (found.enough["measure"] != "").any():
        return []
    well = found.enough["enough"] >= OFTEN / 10 - 1e-9
    tenth = found.catalogue.cultivars.assign(
        **{column: 1.1 * found.catalogue.cultivars[column] for column in NEEDS.values()}
    )
    less = int(well.sum() - (enough(tenth, found.winters)["enough"] >= OFTEN / 10 - 1e-9).sum())
    who = "no cultivar fewer" if not less else f"{counted(less, 'cultivar')} fewer"
    lines = [
        f"How a need was found is not on record. Were each a tenth higher, {who} would get enough in {OFTEN} winters of 10."
    ]
    by = [told["enough"] >= OFTEN / 10 - 1e-9 for told in found.by_unit.values()]
    both = np.logical_and.reduce([told["need"].notna() for told in found.by_unit.values()])
    if both.any():
        apart = int((both & (by[0] != by[1])).sum())
        lines.append(
            f"{counted(int(both.sum()), 'cultivar')} have a need in portions and in hours: for {apart} of them the two do not agree on {OFTEN} in 10. Portions count here."
        )
    return lines


def margin_told(asked: Question) -> list[str]:
    """Of a question about chill, by its filters or its buyer's limits: what such figures are, and how many of those that pass a bound on
    what is needed come near it; nothing of any other."""
    of_place = any(limit.kind == KIND for buyer in asked.buyers if buyer for limit in buyer.limits)
    if not (asked.chill or asked.enough or of_place):
        return []
    lines = [CAUTIONS[0]]
    for bound in asked.chill:
        told, column, most = chill_bound(bound)
        needs = asked.catalogue.cultivars.loc[asked.passes, column]
        near = int(((needs > NEAR * most) & (needs <= most)).sum())
        who = f"{counted(near, 'cultivar')} that {'pass' if near > 1 else 'passes'} need{'' if near > 1 else 's'} more than {NEAR * most:g} of your {told}"
        lines.append(f"{who}: leave a margin, for needs are rounded and winters differ." if near else f"None that pass needs more than {NEAR * most:g} of your {told}.")  # fmt: skip
    return lines


def _step(step: float, unit: str) -> str:
    return unit.removesuffix("s") if step == 1 else f"{step:g} {unit}"


def records_told(found: MySite) -> list[str]:
    """What was done to the days of the place, and whether its record jumps."""
    lines = list(found.station.told)
    lines += [f"Winter {year} is left out: {why}." for year, why in found.winters.left_out]
    if found.jump is not None:
        more, by = found.jump.by_c > 0, f"{abs(found.jump.by_c):.1f} °C"
        way = f"it reads {by} {'warmer' if more else 'colder'} against the stations nearby"
        if not found.jump.against:
            way = f"its days span {by} {'more' if more else 'less'} from lowest to highest"
        lines.append(f"From {found.jump.year} on {way}. Was the thermometer moved?")
    hot = found.station.tmax > HOT_C
    years = len(set(found.station.days.year))
    return [*lines, f"Days over {HOT_C:.0f} °C: {hot.sum() / max(years, 1):.0f} a year.", _hail_told(found)]


def _hail_told(found: MySite) -> str:
    noted = found.catalogue.records_tables.get("hail")
    here = None if noted is None else noted[noted["site"] == found.key]
    if here is None or not len(here):
        return "Hail is noted on no sample of this place, which is not to say that none fell."
    return f"Hail is noted on {counted(len(here), 'sample')} here, in {listed([str(year) for year in sorted(set(here['year']))])}. It is shown and not modeled."


def slate_told(asked: Question) -> list[str]:
    """Of my slate: who needs no more chill than was asked for, or, where nothing was, who gets enough at the place, and who goes short in the same winter."""
    found, names = asked.my_site, asked.shortlist
    if asked.chill and names:
        return [_within_told(asked)]
    if found is None or found.refused or not names:
        return []
    told = found.enough.loc[list(names)]
    known = told[told["measure"] != ""]
    if not len(known):
        return [SHORT["none"].format(place=found.name)]
    well = int((known["enough"] >= OFTEN / 10 - 1e-9).sum())
    lines = [SHORT["enough"][len(known) > 1].format(place=found.name, well=well, known=len(known))]
    together = found.short_together(names)
    if not together:
        return [*lines, SHORT["never"]]
    year, short = next(iter(together.items()))
    return [*lines, SHORT["together"].format(year=year, count=len(short), names=listed(list(short)))]


def rows(asked: Question) -> pd.DataFrame:
    """The slate or, while that is empty, all that pass and have a need on record; by how rarely they get enough."""
    found = asked.my_site
    assert found is not None
    names = list(asked.shortlist) or list(asked.catalogue.cultivars.index[asked.passes])
    told = found.enough.loc[names]
    if not asked.shortlist:
        told = told[told["measure"] != ""]
    return told.sort_values(["enough", "need"], ascending=[True, False], kind="stable")


def bloom_told(asked: Question, name: str) -> str:
    """``9 April, 3 to 15 April``: full bloom over the springs on record, the earliest and the latest."""
    found = asked.my_site
    if found is None or found.bloomed is None:
        return UNKNOWN
    at = asked.catalogue.cultivars.index.get_loc(name)
    days = found.bloomed.day[:, at]  # of the calendar's year, in the south too
    usual, first, last = (day_label(float(one)) for one in (np.median(days), days.min(), days.max()))
    return f"{usual}, {first} to {last}"


def frost_told(asked: Question, names: Sequence[str]) -> list[str]:
    """Over a set: how many springs cost it more than its thinning, the worst of them, and who is hit together."""
    found = asked.my_site
    if found is None or found.bloomed is None or not len(names):
        return []
    at = asked.catalogue.cultivars.index.get_indexer(pd.Index(list(names)))
    lost, years = found.bloomed.lost[:, at], found.bloomed.years
    worst = int(lost.mean(axis=1).argmax())
    hit = [year for row, year in enumerate(years) if (lost[row] > 0.9).any()]
    told = f"In {len(hit)} of {counted(len(years), 'spring')} frost would have taken over 90 % of the bloom of at least one of them"
    lines = [told + (f": {', '.join(map(str, hit[-8:]))}." if hit else ".")]
    lines.append(
        f"The worst spring was {years[worst]}: {100 * lost[worst].mean():.0f} % of their bloom on average."
    )
    if not found.key:
        lines.append(
            "No bloom is on record at this place: its dates are carried over from the sites of the records, and may be off."
        )
    half = float(np.median(found.bloomed.half[:, at]))
    lines.append(
        f"Dates are told from the weather of each spring, give or take {half:.0f} days in 9 cases of 10."
    )
    return lines
