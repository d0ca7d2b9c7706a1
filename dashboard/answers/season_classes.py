"""The season of a question told by class: of what passes and its buyer takes, who is picked within the selling days, class by class."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.answers.class_weeks import class_of
from dashboard.answers.question import Question
from dashboard.answers.strip import in_order


@dataclass(frozen=True, eq=False)
class SeasonClasses:
    """``classes``: by class its windows, the earliest first, the largest class first; how many are ``outside`` the selling days, and how
    many pass and are picked but ``miss`` the buyer, or cannot be judged."""

    classes: dict[str, pd.DataFrame]
    outside: int
    miss: int


def season_classes(asked: Question) -> SeasonClasses:
    """Those on the slate are left out: they have a calendar of their own."""
    windows = asked.windows[~asked.windows.index.isin(asked.shortlist)]
    taken = asked.fit["taken"].reindex(windows.index).to_numpy(dtype=bool)
    opens, closes = asked.selling
    inside = (windows["last"] + 0.5 >= opens) & (windows["first"] - 0.5 <= closes)
    shown = windows[taken & inside]
    kinds = class_of(asked.catalogue)[shown.index]
    counts = kinds.value_counts()
    order = sorted(counts.index, key=lambda kind: (-counts[kind], kind))
    classes = {str(kind): shown[(kinds == kind).to_numpy()] for kind in order}
    return SeasonClasses(classes, int((taken & ~inside).sum()), int((~taken).sum()))


def slate_windows(asked: Question) -> pd.DataFrame:
    """Of the slate, whatever the filters, who has a time of picking, in order of picking."""
    return in_order(asked.catalogue, asked.shortlist, asked.site, asked.season_kind)


def picked_each_week(windows: pd.DataFrame, span: tuple[float, float]) -> tuple[np.ndarray, np.ndarray]:
    """(weeks,) the first day of each week of the span, and how many are usually being picked on some day of it."""
    starts = np.arange(span[0], span[1] + 1, 7)
    ends = np.minimum(starts + 6, span[1])
    first, last = (windows[end].to_numpy(dtype=float)[:, None] for end in ("first", "last"))
    return starts, ((first <= ends + 0.5) & (last >= starts - 0.5)).sum(axis=0)


def picked_each_day(windows: pd.DataFrame, span: tuple[float, float]) -> np.ndarray:
    """(days of the span,) how many are usually being picked."""
    days = np.arange(span[0], span[1] + 1)
    first, last = (windows[end].to_numpy(dtype=float)[:, None] for end in ("first", "last"))
    return ((first <= days + 0.5) & (last >= days - 0.5)).sum(axis=0)
