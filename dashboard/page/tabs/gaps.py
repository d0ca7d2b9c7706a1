"""The gaps of a season in words, and the cultivars that would close each of them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from markupsafe import Markup

from dashboard.answers.question import Comparison
from dashboard.page.parts import listing
from dashboard.ripening import day_label
from dashboard.wording.column_kinds import plain
from dashboard.wording.columns import COLUMNS
from dashboard.wording.figures import (
    counted,
    days_told,
    gap_told,
    listed,
    uncovering_told,
    years_in_ten,
)

MOST = 3  # closers told of a gap
NOBODY = "none that passes would; By class lists those of any status"


def gaps_told(asked: Comparison) -> Markup:
    """Whose cover is told, how good it is, and what would hurt it most."""
    cover = asked.cover
    if cover is None:
        return Markup("<p>{}</p>").format(asked.catalogue.ripening.refused)
    whose = "your shortlist" if asked.shortlist else passing(asked)
    at_once = "one" if asked.least == 1 else str(asked.least)
    lines = [
        Markup(
            "<b>Cover of {}</b> ({}): the chance, day by day, that at least {} of them {} being picked. A gap (red) is a stretch of "
            "days with fruit in fewer than {}."
        ).format(
            whose,
            counted(len(cover.names), "cultivar"),
            at_once,
            "is" if asked.least == 1 else "are",
            years_in_ten(asked),
        )
    ]
    lines += [Markup("{}").format(line) for line in uncovering_told(asked, asked.shortlist)]
    south = asked.catalogue.south
    if not cover.gaps:
        lines.append(
            Markup("No gap: fruit on every day from {} to {} in at least {}.").format(
                *(day_label(day, south) for day in cover.span), years_in_ten(asked)
            )
        )
    if cover.crowded:
        spans = listed([days_told(*ends, south) for ends in cover.crowded])
        lines.append(Markup("Crowded, more than twice the usual number at once: {}.").format(spans))
    losses = cover.losses
    if len(losses) > 1 and losses.iloc[0] >= 0.5 and asked.shortlist:
        lines.append(
            Markup("Hardest to replace: <b>{}</b>, without it {} more days without fruit a year.").format(
                losses.index[0], f"{losses.iloc[0]:.0f}" if losses.iloc[0] >= 1 else "up to one"
            )
        )
    return Markup("").join(Markup("<p>{}</p>").format(line) for line in lines)


def passing(asked: Comparison) -> str:
    return "all that pass your filters" + (" and qualify, or may" if asked.profile else "")


def closers_view(asked: Comparison) -> dict:
    """A row a gap and a cultivar that would close it, best first; a gap that none would close says so."""
    unpicked = ", in whatever weeks they are picked" if asked.ripening else ""
    rows: list[dict[Any, Any]] = []
    for gap, closers in asked.closers:
        when = gap_told(gap, asked.catalogue.south)
        for name, days in closers.head(MOST).items():
            known = asked.catalogue.cultivars.loc[str(name)].to_dict()
            seasons = asked.catalogue.windows["seasons"][str(name)]
            rows.append({**known, "gap": when, "name": str(name), "days": f"{days:.1f}", "seasons": seasons})
            when = ""
        if closers.empty:
            rows.append({"id": f"{gap.first:.0f}", "name": "", "only": {"gap": when, "status": NOBODY}})
    columns = (
        plain("gap", "Gap", "over"), COLUMNS["keep"], COLUMNS["name"], replace(COLUMNS["mark"], kind="text"),
        plain("days", "Days without fruit it would cover", "number"), COLUMNS["status"], COLUMNS["seasons"],
    )  # fmt: skip
    return {
        "title": f"What would close the gaps: of {passing(asked)}{unpicked}, those that add most",
        **listing.of_its_own(asked, columns, rows),
        "empty": "There is no gap to close.",
    }
