"""The names behind the counts: in the order of the ranking, each with its usual days of picking and one figure."""

from __future__ import annotations

from typing import Any

from dashboard.answers.question import Question
from dashboard.market.verdict import MAY_QUALIFY, TAKEN
from dashboard.page.hall.told import question
from dashboard.ripening import day_label
from dashboard.terms.traits import trait_called

SCORE = "score, 0 to 100"
HOW = "Usual days of picking; {figure}{may}."
MAY = "; ? may qualify"
NOBODY = "Nobody here qualifies, or may."


def names_told(asked: Question) -> dict[str, Any]:
    """``names`` by rank: place, name, days and figure, texts each. With a market those that qualify, or may; else all that pass."""
    ranked = asked.ranking
    if asked.profile is not None:
        ranked = ranked[ranked["verdict"].isin(TAKEN)]
    scored = asked.profile is not None and bool(ranked["score"].notna().any())
    south = asked.catalogue.south
    rows = [
        [
            str(place),
            f"{name} ?" if row["verdict"] == MAY_QUALIFY else str(name),
            _days(row, south),
            _figure(row, scored, asked.units),
        ]
        for place, (name, row) in enumerate(ranked.iterrows(), start=1)
    ]
    may = MAY if (ranked["verdict"] == MAY_QUALIFY).any() else ""
    return {
        "title": asked.emptied.sentence if asked.emptied else question(asked),
        "said": HOW.format(
            figure=SCORE if scored else trait_called("size").heading(asked.units).lower(), may=may
        )
        if rows
        else NOBODY * (not asked.emptied),
        "names": rows,
        "keys": [str(name) for name in ranked.index],
    }


def _days(row: Any, south: bool) -> str:
    if row["first"] != row["first"]:
        return "no pick"
    first, last = (day_label(row[end], south) for end in ("first", "last"))
    month, day = last.split(" ")
    return f"{first}–{day if first.startswith(f'{month} ') else last}"


def _figure(row: Any, scored: bool, units: str) -> str:
    if scored:
        return f"{100 * row['score']:.0f}" if row["score"] == row["score"] else "–"
    return trait_called("size").written(row["size"], units) if row["size"] == row["size"] else "–"
