"""The columns of the weather: winters with enough chill, of the cultivar and of the place at once; and hail, where it was noted."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pandas as pd

from dashboard.answers.question import Question
from dashboard.terms.traits import UNKNOWN
from dashboard.wording.column_kinds import Column, Filed, Row, as_it_is
from dashboard.wording.figures import counted
from dashboard.wording.my_site import enough_told, of_name


def recorded(row: Row, **units: str) -> str:
    """``51 portions, 725 hours``: what is known of several figures, each with its unit."""
    told = [f"{row[key]:g} {unit}".strip() for key, unit in units.items() if row[key] == row[key]]
    return ", ".join(told) or UNKNOWN


def _label(asked: Question) -> str:
    return f"Enough chill at {asked.my_site.name}" if asked.my_site else "Enough chill"


def _told(asked: Question, row: Row) -> str:
    known = of_name(asked, row["name"])
    return UNKNOWN if known is None else enough_told(known)


def _filed(key: str) -> Callable[[Question, pd.DataFrame], Any]:
    def cells(asked: Question, rows: pd.DataFrame) -> Any:
        found = asked.my_site
        if found is None or found.refused:
            return [np.nan] * len(rows)
        return (10 * found.enough[key].reindex(rows.index)).round(2).tolist()

    return cells


CHILL = Column(
    "winters", _label, _told, "winters of ten that brought the chill it needs at my site; an estimate, not insurance", kind="evidence", offered=True,
    filed=tuple(Filed(f"Winters in 10 with enough chill{end}", _filed(key)) for end, key in (("", "enough"), (", low", "enough_low"), (", high", "enough_high"))),
)  # fmt: skip


def _hail(_asked: Question, row: Row) -> str:
    """``2 samples (2016, 2019)``. Where nobody noted any, none may have fallen, or none may have been noted."""
    return f"{counted(int(row['hail']), 'sample')} ({row['hail_years']})" if row["hail"] else "none noted"


HAIL = Column(
    "hail", "Hail noted", _hail, "on how many of its samples hail was noted, and in which years; shown and not modeled", kind="evidence", by="hail",
    ways=("the most first", "the least first"), offered=True,
    filed=(Filed("Samples with hail noted", as_it_is("hail")), Filed("Years with hail noted", as_it_is("hail_years"))),
)  # fmt: skip
