"""The fruit a buyer wants by week: from a file, or so much a week from one day to another.

A file (.csv) has a column ``week`` (the day a week begins) and ``amount``, and ``unit`` (lb, kg or bushel) where it is not pounds. What a bushel
weighs differs with who weighs it, so it is a setting; 48 lb is common practice, in the law of many states, from memory.
"""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from dashboard.ripening import day_label
from dashboard.ripening.typed_days import day_typed
from dashboard.terms.units import KG_PER_POUND

WEEK, MOST_WEEKS = 7, 53
BUSHEL_LB = 48.0
LARGEST = 200_000  # bytes of a file
MOST_KG = 1e8  # a week
_UNITS = {"lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb", "kg": "kg", "bu": "bu", "bushel": "bu", "bushels": "bu"}  # fmt: skip


@dataclass(frozen=True)
class Demand:
    """``kg`` wanted in each week from day ``first`` of the season on; the last week is shorter where it ends with day ``last``."""

    first: float
    kg: tuple[float, ...]
    last: float = math.inf

    @property
    def days(self) -> np.ndarray:
        """(weeks + 1,) where the weeks begin, and the day after the last."""
        return np.minimum(self.first + WEEK * np.arange(len(self.kg) + 1), self.last + 1)


def each_week(
    amount: str, first: str, last: str, south: bool = False, bushel_lb: float = BUSHEL_LB
) -> Demand:
    """So much ("800 lb") in each week from one day to another, a shorter last week less. ValueError, one sentence, for what cannot be."""
    per_week, start, end = amount_kg(amount, bushel_lb), day_typed(first, south), day_typed(last, south)
    if end < start:
        raise ValueError(f"--to {last} comes before --from {first}; the last day must come after the first.")
    return evenly(per_week, start, end)


def evenly(kg: float, first: float, last: float, others: Mapping[float, float] | None = None) -> Demand:
    """So much each week from day ``first`` to day ``last``, a shorter last week less; ``others`` has by a day of another week what is wanted
    in that one, whole."""
    weeks = math.ceil((last - first + 1) / WEEK)
    each = [kg] * weeks
    each[-1] *= (last - first + 1 - WEEK * (weeks - 1)) / WEEK
    for day, much in (others or {}).items():
        if first <= day <= last:
            each[int((day - first) // WEEK)] = much
    return Demand(first, tuple(each), last)


def alongside(first: Demand, second: Demand, south: bool = False) -> tuple[Demand, Demand]:
    """Both over the same weeks. ValueError, one sentence, where these begin on different weekdays or end within one."""
    if (second.first - first.first) % WEEK:
        raise ValueError(f"The weeks of the two buyers begin on {day_label(first.first, south)} and on {day_label(second.first, south)}; let all begin on the same weekday.")  # fmt: skip
    opens = min(first.first, second.first)
    weeks = max(round((one.first - opens) / WEEK) + len(one.kg) for one in (first, second))
    last = max(one.last for one in (first, second))

    def over(one: Demand) -> Demand:
        before = round((one.first - opens) / WEEK)
        return Demand(opens, (0.0,) * before + one.kg + (0.0,) * (weeks - before - len(one.kg)), last)

    return over(first), over(second)


def amount_kg(said: str, bushel_lb: float = BUSHEL_LB) -> float:
    """Of "800 lb", "350 kg", "20 bushels"; a number alone is pounds. ValueError, one sentence, for another."""
    told = re.fullmatch(r"\s*([-+]?[\d,]*\.?\d+(?:e\d+)?)\s*([a-z]*)\s*", said.casefold())
    unit = _UNITS.get(told[2] or "lb") if told else None
    if told is None or unit is None:
        raise ValueError(f"{said[:40]!r} is no amount of fruit; write it as 800 lb, 350 kg or 20 bushels.")
    number = float(told[1].replace(",", ""))
    kg = number if unit == "kg" else number * KG_PER_POUND * (bushel_lb if unit == "bu" else 1.0)
    if not 0 <= kg <= MOST_KG:
        raise ValueError(f"{said[:40]!r} is no amount of fruit for a week: it is 0 or more, and no more than {MOST_KG:,.0f} kg; check the number.")  # fmt: skip
    return kg


def read_demand(file: str | Path, south: bool = False, bushel_lb: float = BUSHEL_LB) -> Demand:
    """ValueError, one sentence with line, value, rule and what to write; OSError where the file cannot be read."""
    with Path(file).open("rb") as opened:
        return demand_of(opened.read(LARGEST + 1), str(file), south, bushel_lb)


def demand_of(raw: bytes, place: str, south: bool = False, bushel_lb: float = BUSHEL_LB) -> Demand:
    """The same of a file's content, the file being called ``place``."""
    if len(raw) > LARGEST:
        raise ValueError(
            f"{place}: is larger than {LARGEST // 1000} kB; a line for each week is enough, so check that it is the right file."
        )
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise ValueError(f"{place}: is not text in UTF-8; save the table as CSV (UTF-8).") from None
    try:
        rows = list(csv.DictReader(io.StringIO(text), skipinitialspace=True))
    except csv.Error as fault:
        raise ValueError(
            f"{place}: cannot be read as a table ({fault}); save it as CSV with commas."
        ) from None
    named = [{str(key).strip().casefold(): value for key, value in row.items()} for row in rows]
    for needed in ("week", "amount"):
        if not named or needed not in named[0]:
            raise ValueError(f"{place}: has no column {needed!r} with a line below it; its first line is week,amount,unit and the next, for example, Jun 10,800,lb.")  # fmt: skip
    if len(named) > MOST_WEEKS:
        raise ValueError(
            f"{place}: has {len(named)} lines; a season has at most {MOST_WEEKS} weeks, so keep a line a week."
        )
    return _of_weeks(place, named, south, bushel_lb)


def _of_weeks(place: str, rows: list[dict], south: bool, bushel_lb: float) -> Demand:
    by_day: dict[float, float] = {}
    for line, row in enumerate(rows, start=2):
        try:
            day = day_typed(row["week"] or "", south)
            kg = amount_kg(f"{row['amount'] or ''} {row.get('unit') or ''}", bushel_lb)
        except ValueError as fault:
            raise ValueError(f"{place}, line {line}: {fault}") from None
        if day in by_day:
            raise ValueError(
                f"{place}, line {line}: the week of {day_label(day, south)} is there twice; keep one line of it."
            )
        by_day[day] = kg
    first = min(by_day)
    for line, day in enumerate(by_day, start=2):
        if (day - first) % WEEK:
            raise ValueError(f"{place}, line {line}: {day_label(day, south)} is not a whole number of weeks after {day_label(first, south)}; let all weeks begin on the same weekday.")  # fmt: skip
    weeks = int((max(by_day) - first) // WEEK) + 1
    return Demand(first, tuple(by_day.get(first + WEEK * at, 0.0) for at in range(weeks)))
