"""When cultivars are picked, and the gaps that a set of them leaves."""

from __future__ import annotations

import pandas as pd

from dashboard.answers.catalogue import windows_at
from dashboard.answers.question import Question
from dashboard.calls.columns import Found, Told, add_dates, add_picks, dates
from dashboard.calls.reading import CHANCE
from dashboard.calls.resting import passing_told
from dashboard.wording.figures import counted, listed
from dashboard.wording.gaps import cover_told, gap_told

HELPERS = 3  # named of those that would close a gap


def season_of(asked: Question, names: tuple[str, ...] | None) -> Found:
    """Of these names, or of all that pass."""
    if names is None:
        windows = asked.windows
        said = [f"{counted(len(windows), 'cultivar')} that pass have a recorded pick."]
        if unknown := int(asked.passes.sum()) - len(windows):
            said.append(f"{counted(unknown, 'cultivar')} without a recorded pick: unknown, not absent.")
        if asked.emptied is not None:
            said = [passing_told(asked)]
    else:
        every = windows_at(asked.catalogue, asked.site, asked.season_kind).loc[list(names)]
        windows = every.sort_values("middle", kind="stable")
        known = windows.dropna(subset="middle")
        said = [f"{listed(list(known.index))} are picked in this order."] if len(known) > 1 else []
        if missing := [name for name in windows.index if name not in known.index]:
            said.append(f"No pick is on record of {listed(missing)}.")
    told = Told()
    add_picks(told, asked.catalogue, windows["first"], windows["last"])
    add_dates(
        told, asked.catalogue,
        surely_from=(windows["first_low"], "Likely (90 %) not before"), surely_to=(windows["last_high"], "Likely (90 %) not after"),
    )  # fmt: skip
    told.add("days_from_check", windows["from_check"].astype(float), "Days from the check", 1)
    told.add("seasons", windows["seasons"].astype(int))
    told.add("sites", windows["sites"].astype(int))
    if asked.profile is not None:
        told.add("verdict", asked.fit["verdict"].reindex(windows.index).astype(str), "Qualifies")
    return told.frame(windows.index), said, told.headings


def gaps_of(asked: Question) -> Found:
    """Of the shortlist or, while it is empty, of all that qualify or may."""
    cover, south = asked.cover, asked.catalogue.south
    whose = "this set" if asked.shortlist else "all that qualify or may" if asked.profile else "all that pass"
    said = cover_told(
        asked, whose, "a row below", [f"{gap_told(gap, south)}." for gap in cover.gaps] if cover else []
    )
    found = list(asked.closers) if cover else []
    told = Told()
    for name, heading, values in (
        ("first", "First day", [gap.first for gap, _ in found]), ("last", "Last day", [gap.last for gap, _ in found])
    ):  # fmt: skip
        told.add(name, dates(asked.catalogue, values), heading)
    told.add("days", [int(gap.last - gap.first) + 1 for gap, _ in found], "Days")
    told.add(
        "chance_pct", [100 * gap.chance for gap, _ in found], "Chance of fruit on its worst day (%)", CHANCE
    )
    for end, at, heading in (("", 1, "Days without fruit in a row"), ("_low", 0, ""), ("_high", 2, "")):
        told.add(f"bare_days{end}", [gap.days[at] for gap, _ in found], heading, 0)
    told.add("a_week_pct", [100 * gap.week for gap, _ in found], "Chance of a week without fruit (%)", CHANCE)
    helping = [
        ", ".join(
            f"{name} (closes {counted(int(days), 'day')})"
            for name, days in helps["closes"].head(HELPERS).items()
        )
        for _, helps in found
    ]
    told.add("would_help", helping)
    return pd.DataFrame(told.columns), said, told.headings
