"""What holds for a whole data set and is declared once: tip, rating scales, seasons, and whether it is invented."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from difflib import get_close_matches

from dashboard.records import brix_at_20
from dashboard.records.meanings import ABOUT_ITEMS
from dashboard.records.not_used import ALL_USED, NotUsed
from dashboard.records.problems import Problem, listed
from dashboard.records.schema import FIRMNESS, PRECISIONS, RATINGS
from dashboard.records.sheets import Source
from dashboard.records.taken import ALIKE, Taken, taken

# What may be declared, on the sheet about or in a data package; there the scales stand together under "ratings", and the
# first and last season under "seasons".
ITEMS = tuple(
    dict.fromkeys(
        [*(item for item, _, _ in ABOUT_ITEMS), "seasons", *(f"{rating}_{end}" for rating in RATINGS for end in ("low", "high", "best"))]
    )
)  # fmt: skip

# Stone fruit are read with an 8 mm tip, sold as 5/16 in (7.9375 mm): one and the same (common practice, no source).
TIPS_MM = (7.9, 8.1)


@dataclass(frozen=True)
class Scale:
    """A rating scale as it was used in the field; ``best`` is the end that is most desirable."""

    low: float = 0.0
    high: float = 10.0
    best: float = 10.0

    def mapped(self, rating):
        """On 0-10 with 10 most desirable."""
        from_worst = rating - self.low if self.best == self.high else self.high - rating
        return 10 * from_worst / (self.high - self.low)


@dataclass(frozen=True)
class Declaration:
    title: str = ""
    region: str = ""
    invented: bool = False
    tip_mm: float = 8.0
    temperature_compensated: bool = True
    full_bloom_open_pct: float = 50.0
    ratings: Mapping[str, Scale] = field(default_factory=lambda: {name: Scale() for name in RATINGS})
    seasons: tuple[int, int] | None = None  # first and last, dates outside are refused
    date_precision: str = (
        "day"  # how exactly the dates of samples are known, where nothing finer or coarser is said
    )
    not_used: NotUsed = ALL_USED  # headings, sheets and files that are left out on purpose
    south: bool = False  # any site lies south: a season begins in July of the year before
    refused: Mapping[str, tuple[str, str]] = field(default_factory=dict)  # column: rule and suggestion
    currency: str = ""  # of every price, its three letters (ISO 4217); "" where none is declared
    taken: Taken = ALIKE  # which fruit were sampled
    refractometer_zero: str = brix_at_20.NOT_KNOWN  # how it was set, where temperature is not compensated

    def refusal(self, column: str) -> tuple[str, str] | None:
        """Why a whole column cannot be used (rule, suggestion)."""
        if column in FIRMNESS and not TIPS_MM[0] <= self.tip_mm <= TIPS_MM[1]:
            return (
                f"was read with a {self.tip_mm:g} mm tip; readings of different tips cannot be converted, so it was left out",
                "declare tip_mm 8 if an 8 mm (5/16 in) tip was used",
            )
        return self.refused.get(column)

    @property
    def sentences(self) -> tuple[str, ...]:
        """How the readings were taken, for a reader of the figures."""
        return (
            f"Firmness was read with a tip of {self.tip_mm:g} mm.",
            brix_at_20.sentence(self.temperature_compensated, self.refractometer_zero),
            f"Full bloom means {self.full_bloom_open_pct:g} % of the flowers open.",
            *(
                [f"Days of picking are known to the {self.date_precision} only."]
                if self.date_precision != "day"
                else []
            ),
            *filter(None, [self.taken.sentence]),
        )

    @property
    def dates(self) -> tuple[date, date]:
        """First and last day that may be."""
        first, last = self.seasons or (1950, 2100)
        return date(first - 1, 7, 1) if self.south else date(first, 1, 1), date(last, 12, 31)


def declared(source: Source) -> tuple[Declaration, list[Problem]]:
    """The declaration of a source; what it does not say, or says wrongly, is as in ``Declaration()`` and told."""
    problems: list[Problem] = []

    def tell(item: str, value: object, rule: str, suggestion: str) -> None:
        problems.append(
            Problem("error", source.about_file, source.about_sheet, None, item, str(value), rule, suggestion)
        )

    items = dict(source.about or {})
    if not items.keys() - {"title"}:
        where = "a sheet named about" if source.about_sheet else "datapackage.json"
        problems.append(
            Problem("flag", source.about_file, source.about_sheet, rule="nothing is declared about the records; an 8 mm tip and ratings of 0 to 10, 10 most desirable, are taken to hold",
                    suggestion=f"declare them in {where}")
        )  # fmt: skip
    default = Declaration()

    def number(item: str, low: float, high: float, otherwise: float) -> float:
        if item not in items:
            return otherwise
        value = _number(items[item])
        if value is None or not low <= value <= high:
            tell(
                item,
                items[item],
                f"is not a number from {low:g} to {high:g}; {otherwise:g} is taken to hold",
                "correct it",
            )
            return otherwise
        return value

    def yes(item: str, otherwise: bool) -> bool:
        if item not in items:
            return otherwise
        word = str(items[item]).strip().casefold()
        if word not in ("true", "false", "yes", "no", "1", "0"):
            tell(
                item,
                items[item],
                f"is neither yes nor no; {'yes' if otherwise else 'no'} is taken to hold",
                "write yes or no",
            )
            return otherwise
        return word in ("true", "yes", "1")

    for item in items:
        if item not in ITEMS and item != "ratings":
            near = get_close_matches(item, ITEMS, 1, 0.6)
            meant = f"did you mean {near[0]}?" if near else f"the items are {listed(ITEMS)}"
            tell(item, items[item], "is of no item that is understood; it was left out", meant)
    scales, refused = _scales(items, tell)
    return Declaration(
        title=str(items.get("title", "") or ""),
        region=str(items.get("region", "") or ""),
        invented=yes("invented", default.invented),
        tip_mm=number("tip_mm", 1, 30, default.tip_mm),
        temperature_compensated=yes("temperature_compensated", default.temperature_compensated),
        full_bloom_open_pct=number("full_bloom_open_pct", 1, 100, default.full_bloom_open_pct),
        ratings=scales,
        seasons=_seasons(items, tell),
        date_precision=_precision(items, tell),
        not_used=_not_used(items, tell),
        refused=refused,
        currency=_currency(items, tell),
        taken=taken(items, _number, tell),
        refractometer_zero=brix_at_20.zero(items, tell),
    ), problems


def _precision(items: Mapping[str, object], tell) -> str:
    word = str(items.get("date_precision", "day")).strip().casefold()
    if word not in PRECISIONS:
        tell(
            "date_precision",
            items["date_precision"],
            "is not day, week or year; day is taken to hold",
            "write one of the three",
        )
        return "day"
    return word


def _not_used(items: Mapping[str, object], tell) -> NotUsed:
    """A list of names, or names between semicolons."""
    given = items.get("not_used", [])
    names = given.split(";") if isinstance(given, str) else given
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        tell(
            "not_used",
            given,
            "is not a list of names; nothing is taken as not used",
            'write for example ["notes.csv", "samples: color card"]',
        )
        return ALL_USED
    return NotUsed(tuple(name.strip() for name in names if name.strip()))


def _currency(items: Mapping[str, object], tell) -> str:
    given = items.get("currency")
    written = str(given or "").strip()
    if not written or re.fullmatch(r"[A-Za-z]{3}", written):
        return written.upper()
    tell(
        "currency",
        given,
        "is not a currency's three letters (ISO 4217); prices are shown without one",
        "write for example USD",
    )
    return ""


def _scales(items: Mapping[str, object], tell) -> tuple[dict[str, Scale], dict[str, tuple[str, str]]]:
    """Scale by rating; a rating whose scale cannot be understood is refused rather than guessed."""
    given = items.get("ratings")
    given = given if isinstance(given, Mapping) else {}
    if "ratings" in items and not isinstance(items["ratings"], Mapping):
        tell(
            "ratings",
            items["ratings"],
            "is not a list of scales; 0 to 10, 10 most desirable, is taken to hold",
            "write low, high and best of each",
        )
    scales: dict[str, Scale] = {}
    refused: dict[str, tuple[str, str]] = {}
    for name in given:
        if name not in RATINGS:
            tell(
                f"ratings.{name}",
                given[name],
                "is of no rating there is; it was left out",
                f"the ratings are {listed(RATINGS)}",
            )
    for name in RATINGS:
        one = given.get(name, {})
        ends = dict(one) if isinstance(one, Mapping) else {"scale": one}
        for end in ("low", "high", "best"):
            ends.setdefault(end, items.get(f"{name}_{end}"))  # as a workbook says it
        scale = _scale(ends) if ends.keys() <= {"low", "high", "best"} else None
        if scale is None:
            written = ", ".join(f"{end} {value}" for end, value in ends.items() if value is not None)
            tell(
                f"ratings.{name}",
                written,
                "is not a scale",
                "write its low, its high and its best; low has to be less than high, and best one of the two",
            )
            refused[name] = (
                "has no scale that can be understood; it was left out",
                "correct the scale in the declaration",
            )
        scales[name] = scale or Scale()
    return scales, refused


def _scale(ends: Mapping[str, object]) -> Scale | None:
    said = {end: _number(ends[end]) for end in ("low", "high", "best") if ends[end] is not None}
    low, high = said.get("low", 0.0), said.get("high", 10.0)
    best = said.get("best", high)
    if low is None or high is None or best is None or low >= high or best not in (low, high):
        return None
    return Scale(low, high, best)


def _seasons(items: Mapping[str, object], tell) -> tuple[int, int] | None:
    given = items.get("seasons")
    if given is None and ("first_season" in items or "last_season" in items):
        given = [items.get("first_season"), items.get("last_season")]
    if given is None:
        return None
    years = [_number(year) for year in given] if isinstance(given, list | tuple) else []
    known = [int(year) for year in years if year is not None and year % 1 == 0 and 1900 <= year <= 2100]
    if len(years) != 2 or len(known) != 2 or known[0] > known[1]:
        tell(
            "seasons",
            given,
            "is not a first and a last year; dates are not held to any",
            "write for example [2018, 2025]",
        )
        return None
    return known[0], known[1]


def _number(value: object) -> float | None:
    if isinstance(value, bool):
        return None
    try:
        number = float(value)  # type: ignore[arg-type]
    except (TypeError, ValueError, OverflowError):
        return None
    return number if abs(number) < 1e9 else None
