"""Ratings of one person that never leave the lower part of a scale that the others of the sheet use to its end."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from dashboard.records.importing.by_person import persons, placed
from dashboard.records.importing.facts import Facts
from dashboard.records.importing.layouts import Layout
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.mapping import Answers
from dashboard.records.importing.pages import Page
from dashboard.records.importing.roles import ROLES
from dashboard.records.odd_scales import ADVICE, below
from dashboard.records.problems import named_rows, quoted

CHANCE = 1e-3  # of a sheet few people are looked at, of a trial many stretches of days
RATED = tuple(name for name, role in ROLES.items() if role.column.rating)


def suspect_scales(
    shapes: Sequence[Layout], pages: Sequence[Page], answers: Answers, parts: Sequence[Facts], ledger: Ledger
) -> None:
    """Flag, at the first of them, the ratings of one person that chance would hardly keep so low."""
    whole = placed(parts, RATED)
    for name in dict.fromkeys(whole["role"]):
        cells = whole[(whole["role"] == name).to_numpy()].reset_index(drop=True)
        written = cells["text"].astype(float).to_numpy()
        for heading, word, mine in persons(shapes, pages, answers, cells):
            here = np.isin(cells["page"], cells["page"][mine])
            found = below(
                written[here], cells["cultivar"].to_numpy(dtype=object)[here], mine[here], chance=CHANCE
            )
            if found is None:
                continue
            first = cells[mine].sort_values("code")
            rows = named_rows([ledger.number(int(code)) for code in first["code"]])
            rule = f"is the first of {found.count:,} ratings of {name} by {heading} {quoted(word)} ({rows}) that {found.rule}"
            ledger.flag(int(first["code"].iloc[0]), rule, ADVICE)
