"""How well a season is covered, and the cultivars that would close each of its gaps."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.charts import listing
from dashboard.page.parts.elements import paragraphs
from dashboard.wording.column_kinds import plain
from dashboard.wording.columns import COLUMNS
from dashboard.wording.filling import ADDS, CLOSES, gap_rows
from dashboard.wording.gaps import cover_told, gap_told
from dashboard.wording.lists import droppable_told

MOST = 3  # closers told of a gap
NOBODY = "none that passes would; By class lists those of any status"
NURSERIES = "none that passes would; your filter by nursery may leave out some that would"


def gaps_told(asked: Question) -> Markup:
    """Whose cover is told, how good it is, and what would hurt it most."""
    whose = "my slate" if asked.shortlist else passing(asked)
    lines = [
        *cover_told(asked, whose, "red", strong=Markup("<b>{}</b>").format, text=Markup),
        *droppable_told(asked),
    ]
    return paragraphs(lines)


def passing(asked: Question) -> str:
    return "all that pass your filters" + (" and qualify, or may" if asked.profile else "")


def closers_view(asked: Question) -> dict:
    """A row a gap and a cultivar that would close it, best first; a gap that none would close says so."""
    unpicked = ", in whatever weeks they are picked" if asked.ripening else ""
    rows: list[dict[Any, Any]] = []
    for gap, closers in asked.closers:
        when = gap_told(gap, asked.catalogue.south)
        for row in gap_rows(asked, closers.head(MOST)):
            rows.append({**row, "gap": when})
            when = ""
        if closers.empty:
            rows.append(
                {
                    "id": f"{gap.first:.0f}",
                    "name": "",
                    "only": {"gap": when, "status": NURSERIES if asked.nursery else NOBODY},
                }
            )
    columns = (
        plain("gap", "Gap", "over"), COLUMNS["keep"], COLUMNS["name"], replace(COLUMNS["mark"], kind="text"), CLOSES, ADDS,
        *([COLUMNS["clears"]] if asked.profile else []), COLUMNS["status"], COLUMNS["seasons"],
    )  # fmt: skip
    return {
        "title": f"What would close the gaps: of {passing(asked)}{unpicked}, the most helpful",
        **listing.of_its_own(asked, columns, rows),
        "empty": "There is no gap to close.",
    }
