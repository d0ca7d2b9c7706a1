"""How well a season is covered, and the cultivars that would close each of its gaps."""

from __future__ import annotations

from markupsafe import Markup

from dashboard.answers.question import Comparison
from dashboard.wording.figures import kind
from dashboard.wording.gaps import cover_told, gap_told

MOST = 3  # closers told of a gap


def gaps_told(asked: Comparison) -> Markup:
    """Whose cover is told, how good it is, and what would hurt it most."""
    whose = "your shortlist" if asked.shortlist else passing(asked)
    lines = cover_told(asked, whose, "red", strong=Markup("<b>{}</b>").format, text=Markup)
    return Markup("").join(Markup("<p>{}</p>").format(line) for line in lines)


def passing(asked: Comparison) -> str:
    return "all that pass your filters" + (" and qualify, or may" if asked.profile else "")


def closers_view(asked: Comparison) -> dict:
    """A row a gap and a cultivar that would close it, best first; a gap that none would close says so."""
    unpicked = ", in whatever weeks they are picked" if asked.ripening else ""
    rows = []
    for gap, closers in asked.closers:
        when = gap_told(gap, asked.catalogue.south)
        for name, days in closers.head(MOST).items():
            kept = "yes" if name in asked.shortlist else "no"
            known = asked.catalogue.cultivars.loc[str(name)].to_dict()
            rests = f"{asked.catalogue.windows['seasons'][str(name)]}"
            rows.append(
                {
                    "id": str(name),
                    "name": str(name),
                    "cells": [when, kept, str(name), kind(known), f"{days:.1f}", str(known["status"]), rests],
                }
            )
            when = ""
        if closers.empty:
            rows.append(
                {
                    "id": f"{gap.first:.0f}",
                    "name": "",
                    "cells": [
                        when,
                        "no",
                        "",
                        "",
                        "",
                        "none that passes would; By class lists those of any status",
                        "",
                    ],
                }
            )
    return {
        "title": f"What would close the gaps: of {passing(asked)}{unpicked}, those that add most",
        "columns": [
            {"key": "gap", "label": "Gap", "kind": "over"}, {"key": "keep", "label": "List", "kind": "keep"}, {"key": "name", "label": "Cultivar", "kind": "name"}, {"key": "kind", "label": "Fruit"},
            {"key": "days", "label": "Days without fruit it would cover", "kind": "number"}, {"key": "status", "label": "Status"}, {"key": "seasons", "label": "Seasons", "kind": "number"},
        ],
        "rows": rows, "empty": "There is no gap to close.",
    }  # fmt: skip
