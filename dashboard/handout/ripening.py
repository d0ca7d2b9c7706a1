"""Ripening windows and the week's walk as tables, for the command and for paper."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import numpy as np
import pandas as pd

from dashboard.answers.catalogue import Catalogue
from dashboard.handout.tables import comma_separated
from dashboard.records.seasons import season_and_day
from dashboard.ripening import date_label, day_label
from dashboard.ripening.model import KINDS, ripening
from dashboard.ripening.this_week import AHEAD, ThisWeek, this_week
from dashboard.ripening.visits import ripe_days
from dashboard.terms.units import rounded
from dashboard.wording.figures import chance, counted

DAYS = ("first", "first_low", "first_high", "middle", "low", "high", "last", "last_low", "last_high")
FIRST_SEASON = "never picked before: look every week"
LEAST = 0.05  # a smaller chance is no reason to walk there


def ripening_table(catalogue: Catalogue, site: str) -> pd.DataFrame:
    """One row a cultivar and kind of season: DAYS of the season with their dates, days from the check, and the evidence.

    ValueError, one sentence, where there is no model or nothing was picked at the site.
    """
    ripe = catalogue.ripening
    if ripe.refused:
        raise ValueError(ripe.refused)
    site = site_key(catalogue, site)
    if site not in ripe.sites:
        raise ValueError(_unpicked(site, ripe.sites))
    check = catalogue.checks[0] if catalogue.checks else ""
    beside = ripe.from_check(check, site) if check else None
    frames = []
    for kind in KINDS:
        windows = ripe.windows(site, kind).rename(columns={"middle_low": "low", "middle_high": "high"})
        frame = windows[list(DAYS)].round(1)
        for name in ("first", "middle", "last"):
            frame[f"{name}_date"] = [day_label(day, catalogue.south) for day in windows[name]]
        frame.insert(0, "season", kind)
        if beside is not None:
            frame["from_check"] = rounded(beside["from_check"], 1)
            frame["from_check_low"], frame["from_check_high"] = (
                rounded(beside["low"], 1),
                rounded(beside["high"], 1),
            )
        frame["seasons"] = catalogue.windows["seasons"]
        frame["never_here"] = np.where(windows["unseen"], "yes", "no")
        frames.append(frame[windows["first"].notna()])
    table = pd.concat(frames).rename_axis("cultivar").reset_index()
    table.insert(1, "site", site)
    return table.sort_values(["cultivar", "season"], kind="stable", ignore_index=True)


def walk(
    catalogue: Catalogue, site: str, on: date, ahead: int = AHEAD, by_row: bool = False
) -> tuple[pd.DataFrame, ThisWeek]:
    """The cultivars that stand at ``site`` and are likely to be ripe in the ``ahead`` days from ``on``, the most urgent first.

    Columns: look_first ("yes": expected to be ripe by now, and not picked yet this season), days_left (to the expected last day,
    below 0 past it), row, position, trees, cultivar, chance, expected first and last day, picked so far, remark. In order: look_first,
    then the fewest days left, what is past them, what is new; ``by_row`` gives walking order. Only what was picked on or before ``on`` is
    used, so a past date gives the walk of that day. ValueError, one sentence, where it cannot be told.
    """
    site = site_key(catalogue, site)
    known = catalogue.summaries.dropna(subset=["date", "cultivar", "day"])
    season, today = (
        part[0] for part in season_and_day(pd.Series([pd.Timestamp(on)]), np.array([catalogue.south]))
    )
    at_site = known["site"].astype(str) == site
    if not at_site.any():
        raise ValueError(_unpicked(site, catalogue.ripening.sites))
    so_far = ripe_days(known[known["date"] <= pd.Timestamp(on)])
    before = so_far[so_far["season"] < season]
    if before["season"].nunique() < 2:
        raise ValueError(
            f"Before {season} there are picks of {counted(before['season'].nunique(), 'season')}; how far seasons shift takes two at least, "
            "so nothing can be foretold for this one."
        )
    now = known[at_site & (known["season"] == season) & (known["date"] <= pd.Timestamp(on))]
    days = (
        now.groupby(now["cultivar"].astype(str), observed=True)["day"]
        .agg(first="min", last="max")
        .rename_axis("cultivar")
    )
    of_now = so_far[(so_far["season"] == season) & (so_far["site"].astype(str) == site)]
    of_now = of_now.assign(cultivar=of_now["cultivar"].astype(str)).set_index("cultivar")
    days = days.assign(ripe=of_now["first"], ripe_off=of_now["first_off"])
    looked = float(now["day"].max()) if len(now) else None
    ripe = ripening(before, catalogue.cultivars.index)
    week = this_week(ripe, days.reset_index(), site, float(today), ahead, looked)
    here = standing(catalogue, site, on)
    rows = here.join(week.rows, on="cultivar")
    # Of those that bore no fruit in a season before, it is only known whether they are being picked.
    never = rows["first"].isna().to_numpy()
    begun = days["first"].reindex(rows["cultivar"]).to_numpy(dtype=float)
    usual = float((week.rows["last"] - week.rows["first"]).mean())
    rows.loc[never, "picked"] = begun[never]
    rows.loc[never, "chance"] = np.where(np.isnan(begun), np.nan, today <= begun + usual + ahead)[never]
    rows["remark"] = np.where(
        never & np.isnan(begun) & (today <= week.rows["last"].max() + ahead), FIRST_SEASON, rows["remark"]
    )
    rows["remark"] = rows["remark"].fillna("")
    likely = in_walking_order(rows[(rows["chance"] >= LEAST) | (rows["remark"] != "")])
    # One that was never sampled is lost for the season once its window is over; what was picked once has a sample.
    likely["due"] = likely["picked"].isna() & (likely["first"] < today + 0.5)
    likely["left"] = (likely["last"] - today).round(0)
    if not by_row:
        heap = np.select([likely["due"], likely["left"] >= 0, likely["left"] < 0], [0, 1, 2], 3)
        likely = likely.assign(heap=heap).sort_values(["heap", "left"], kind="stable", ignore_index=True)
    south = catalogue.south
    table = pd.DataFrame(
        {
            "look_first": np.where(likely["due"], "yes", ""), "days_left": likely["left"].astype("Int64"),
            "row": likely["row"], "position": likely["position"], "trees": likely["trees"], "cultivar": likely["cultivar"],
            "chance_pct": (100 * likely["chance"]).round(0).astype("Int64"),
            "expected_first": [day_label(day, south) for day in likely["first"]],
            "expected_last": [day_label(day, south) for day in likely["last"]],
            "picked_since": [day_label(day, south) if day == day else "" for day in likely["picked"]],
            "remark": likely["remark"],
        }
    )  # fmt: skip
    return table, week


def walk_text(table: pd.DataFrame, week: ThisWeek, site: str, on: date, catalogue: Catalogue) -> str:
    """The walk for paper: a heading with the season's shift, then a line a cultivar with a box to tick."""
    late = "later" if week.shift >= 0 else "earlier"
    since = (
        f"judged by {counted(week.told_by, 'cultivar')} picked so far"
        if week.told_by
        else "nothing is picked yet this season"
    )
    due = int((table["look_first"] == "yes").sum())
    lines = [
        f"{site}, {date_label(on)}: what may be ripe in the next {AHEAD} days",
        f"This season runs {counted(round(abs(week.shift)), 'day')} {late} than an ordinary one (give or take {1.645 * week.shift_se:.0f}; {since}).",
        *(
            [
                f"Look first at {counted(due, 'cultivar')}, marked !: expected ripe by now, and not picked yet this season."
            ]
            if due
            else []
        ),
        "",
        f"  {'row':>4} {'pos':>4} {'':3} {'cultivar':24} {'left':>4} {'chance':>9}  {'expected':17} picked since",
    ]
    for row in table.to_dict("records"):
        likely = chance(row["chance_pct"] / 100) if pd.notna(row["chance_pct"]) else ""
        place = " ".join(f"{'' if pd.isna(row[name]) else row[name]!s:>4}" for name in ("row", "position"))
        left = "" if pd.isna(row["days_left"]) else row["days_left"]
        when = f"{row['expected_first']} – {row['expected_last']}".removeprefix("– – –")
        lines.append(
            f"{'!' if row['look_first'] else ' '} {place} [ ] {row['cultivar']!s:24.24} {left:>4} {likely:>9}  {when:17} {row['picked_since'] or row['remark']}"
        )
    if table.empty:
        lines.append("Nothing is expected to be ripe in these days; for another day: --date 2025-07-14.")
    aside = sum(problem.severity == "error" for problem in catalogue.problems)
    if aside:
        lines += [
            "",
            f"{counted(aside, 'place')} of the records could not be used; orchard-slate check lists them.",
        ]
    lines += [
        "",
        "left: days to the expected last day, below 0 past it; chance: to be picked in these days;",
        "picked since: its first pick of this season.",
    ]
    return "\n".join(lines) + "\n"


def text(table: pd.DataFrame) -> str:
    """Comma-separated; what a spreadsheet would take for a formula has an apostrophe before it."""
    return comma_separated(table)


def site_key(catalogue: Catalogue, site: str) -> str:
    """The key of a site named by key or by name, whatever the case; what is not known stays as it is."""
    named = {str(key).casefold(): str(key) for key in catalogue.sites["site"]}
    if "name" in catalogue.sites:
        named |= {
            str(name).casefold(): str(key)
            for name, key in zip(catalogue.sites["name"], catalogue.sites["site"], strict=True)
        }
    return named.get(site.strip().casefold(), site)


def standing(catalogue: Catalogue, site: str, on: date) -> pd.DataFrame:
    """Where each cultivar stands at a site on a day: its first row and position and how many trees; without a table of trees,
    every cultivar picked there, its place not known."""
    trees = catalogue.records_tables.get("trees")
    if trees is None or trees.empty:
        names = (
            catalogue.picks.loc[catalogue.picks["site"].astype(str) == site, "cultivar"].astype(str).unique()
        )
        return pd.DataFrame({"cultivar": sorted(names), "row": pd.NA, "position": pd.NA, "trees": pd.NA})
    day = pd.Timestamp(on)
    here = trees[
        (trees["site"].astype(str) == site)
        & (trees["removed"].isna() | (pd.to_numeric(trees["removed"], errors="coerce") >= day.year))
    ]
    first = here.sort_values(["row", "position"], key=_in_order).groupby("cultivar", observed=True)
    place = first[["row", "position"]].first()
    return place.assign(trees=first.size()).rename_axis("cultivar").reset_index()


def in_walking_order(rows: pd.DataFrame) -> pd.DataFrame:
    """Rows with row and position, as one walks past them."""
    return rows.sort_values(["row", "position"], key=_in_order, ignore_index=True)


def _in_order(rows: pd.Series) -> pd.Series:
    """Rows and positions are labels; those that are numbers are walked as numbers."""
    numbers = pd.to_numeric(rows, errors="coerce")
    return numbers if numbers.notna().all() else rows.astype(str)


def _unpicked(site: str, sites: Sequence[str]) -> str:
    if not sites:
        return "No day of picking is on record, only years or nothing, so no time of picking can be told."
    return f"Nothing was picked at a site {site!r}; there are picks at {', '.join(sites)}."
