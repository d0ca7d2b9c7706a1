"""Figures and choices as short texts for paper, in the words of the page."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from dashboard.answers.catalogue import Catalogue, site_name
from dashboard.answers.choices import CHOICES, FILTERS, YEARS
from dashboard.answers.filters import left_out
from dashboard.answers.question import Question
from dashboard.market import Limit, Market, Wish
from dashboard.market.prospects import POSSIBLE
from dashboard.market.reasons import bound_written, in_seasons
from dashboard.market.verdict import SURE
from dashboard.ripening import day_label
from dashboard.ripening.cover import CERTAINTIES
from dashboard.ripening.model import ANY
from dashboard.terms.traits import CLASSES, UNKNOWN, trait_called

LONGEST_NAME = 40  # letters, inside a sentence
WAYS = {"larger": "the more the better", "smaller": "the less the better", "target": "neither more nor less"}
QUALIFY, UNJUDGED = "{qualify} qualify for {market}, {may} more may", ", of {unknown} it is not known"
SHORT = QUALIFY.replace(" for {market}", "")
_MARKS = (POSSIBLE, SURE, *(years / 10 for years in CERTAINTIES))
# Dates are told of one kind of year; how far any year may lie off is in the chance of cover.
DATED = YEARS | {"any": "an ordinary year"}
DATED_WITH_COVER = YEARS | {"any": "an ordinary year (the chance of cover is of any year)"}


def counted(number: int, word: str) -> str:
    return f"{number:,} {word}{'' if number == 1 else 's'}"


def qualify_told(asked: Question, short: bool = False) -> str:
    """``60 qualify for Regional wholesale, 99 more may, of 3 it is not known``; "" without a market."""
    if asked.profile is None:
        return ""
    count = asked.own_count
    told = (SHORT if short else QUALIFY) + UNJUDGED * bool(count.unknown)
    return told.format(
        qualify=f"{count.qualify:,}",
        market=asked.profile.name,
        may=f"{count.may:,}",
        unknown=f"{count.unknown:,}",
    )


def years_in_ten(asked: Question) -> str:
    """``8 ordinary years in 10``: from when on a day counts as covered."""
    kind = "" if asked.season_kind == ANY else f"{asked.season_kind} "
    return f"{asked.certainty} {kind}years in 10"


def listed(names: Sequence[str], most: int = 6) -> str:
    return ", ".join(names[:most]) + (f" and {len(names) - most} more" if len(names) > most else "")


def called(name: object) -> str:
    """A cultivar in the middle of a sentence: a name that would fill lines is cut."""
    text = str(name)
    return text if len(text) <= LONGEST_NAME else f"{text[:LONGEST_NAME].rstrip()}…"


def chance(part: float) -> str:
    """Never a plain 0 or 100: nothing here is certain; a dash where it is not known."""
    return f"{of_hundred(part)} %" if part == part else "–"


def of_hundred(part: float) -> str:
    """A chance as so many of a hundred, within a sentence that says of what; never rounded up to a mark that it misses, from which a
    cultivar qualifies or a day is covered."""
    if part < 0.01 or part > 0.99:
        return "under 1" if part < 0.01 else "over 99"
    told = round(100 * part)
    return str(told - 1 if told / 100 in _MARKS and part < told / 100 else told)


def price(amount: float, currency: str, each: str) -> str:
    """``USD 12.50 a tree``; no price is told as if everybody knew in which money."""
    if amount != amount:
        return "price not stated"
    return f"{currency} {amount:,.2f} {each}" if currency else f"{amount:,.2f} {each} (currency not stated)"


def score(row: Mapping[Any, Any]) -> str:
    """``62 (48–74)``: the score to be expected with its 80 % interval."""
    if row["score"] != row["score"]:
        return "–"
    low, high = row["score_low"], row["score_high"]
    around = f" ({100 * low:.0f}–{100 * high:.0f})" if low == low else ""
    return f"{100 * row['score']:.0f}{around}"


def measured(key: str, value: float, system: str) -> str:
    """``2.61 in``."""
    trait = trait_called(key)
    return f"{trait.written(value, system)} {trait.unit(system).symbol}".strip()


def bounded(key: str, bound: float, system: str) -> str:
    """A bound of a market, written exactly where one decimal more does that: ``2.375 in``."""
    return f"{bound_written(key, bound, system)} {trait_called(key).unit(system).symbol}".strip()


def interval(key: str, row: Mapping[Any, Any], system: str) -> str:
    """``2.61 (2.48–2.74)``: the estimate with its 90 % interval; says so when the interval is not known."""
    trait = trait_called(key)
    if row[key] != row[key]:
        return "–"
    low, high = row[f"{key}_low"], row[f"{key}_high"]
    if low != low:
        return f"{trait.written(row[key], system)} (?)"
    return f"{trait.written(row[key], system)} ({trait.written(low, system)}–{trait.written(high, system)})"


def evidence(row: Mapping[Any, Any]) -> str:
    if not row["samples"] > 0:
        return "not sampled"
    return f"{counted(int(row['seasons']), 'season')}, {counted(int(row['sites']), 'site')}, {counted(int(row['samples']), 'sample')}"


def picked(row: Mapping[Any, Any], south: bool) -> str:
    """First and last day of the usual window."""
    if row["first"] != row["first"]:
        return "not known"
    return f"{day_label(row['first'], south)} – {day_label(row['last'], south)}"


def kind(row: Mapping[Any, Any]) -> str:
    """``white nectarine``, ``flat yellow peach, selection``: what is not recorded is left out, a numbered selection is told."""
    words = ("flat" if row["shape_type"] == "flat" else "", row["flesh_colour"], row["fruit_type"])
    told = " ".join(str(word) for word in words if word and word != UNKNOWN)
    return f"{told}, selection" if row["status"] == "numbered selection" else told


def pit_told(stone: object) -> str:
    """``freestone``, ``semi-freestone``, ``clingstone``; nothing where that is not recorded."""
    return f"{stone}stone" if stone != UNKNOWN else ""


def classed(row: Mapping[Any, Any]) -> str:
    """``nectarine · semi-free · low acid``: what its mark does not tell, as far as it is recorded."""
    acid = row["acidity_class"]
    told = (row["fruit_type"], row["stone"], f"{acid} acid" if acid != UNKNOWN else UNKNOWN)
    words = [str(word) for word in told if word and word != UNKNOWN]
    return " · ".join([*words, "selection"] if row["status"] == "numbered selection" else words)


def stretches(days: Sequence[tuple[float, float]], south: bool, most: int = 8) -> str:
    """``Jul 20 to Jul 21; Aug 4``: stretches of days as dates."""
    told = [
        f"{day_label(a, south)} to {day_label(b, south)}" if b > a else day_label(a, south) for a, b in days
    ]
    return "; ".join(told[:most]) + (f" and {len(told) - most} more" if len(told) > most else "")


def sampled(catalogue: Catalogue) -> str:
    """``355 sampled cultivars``: of whom there is a pick on record."""
    return counted(int((catalogue.windows["seasons"] > 0).sum()), "sampled cultivar")


def unsampled(catalogue: Catalogue) -> str:
    """``9 more are listed without a sample``; "" where there is none."""
    left = int((~(catalogue.windows["seasons"] > 0)).sum())
    return f"{left:,} more {'is' if left == 1 else 'are'} listed without a sample" if left else ""


def records_name(catalogue: Catalogue) -> str:
    """That they are invented stands in front, where no long title pushes it off the line."""
    return ("Invented example: " if catalogue.invented else "") + catalogue.records_title


def _told_of(catalogue: Catalogue) -> str:
    """The first trait with a reading, by which figures are described: records may hold ratings and no measured fruit."""
    return next((trait for trait, worth in catalogue.worth.items() if (worth.group >= 0).any()), "size")


def basis_told(asked: Question) -> str:
    """What the figures are: by which method, where, and of which fruit."""
    trait = _told_of(asked.catalogue)
    methods = asked.values[trait]["method"]
    where = (
        f"at {site_name(asked.catalogue, asked.site)}"
        if asked.site
        else asked.catalogue.worth[trait].plan.meaning
    )
    fruit = "size and sugar at equal firmness" if asked.ripeness == "equal" else "fruit as picked"
    return f"{methods.iloc[0] if len(methods) else 'none'}, {where}, {fruit}"


def limit_told(limit: Limit, system: str) -> str:
    if limit.kind == "class":
        return f"{CLASSES[limit.key][0].lower()} {' or '.join(limit.any_of)}"
    if limit.kind == "place":
        where = (
            f"at {limit.winters.station.name}" if limit.winters else "at my site, once a station is chosen"
        )
        return f"enough winter chill in {limit.at_least:g} winters of 10 {where}"
    bounds = [
        f"{word} {bounded(limit.key, bound, system)}"
        for word, bound in (("at least", limit.at_least), ("at most", limit.at_most))
        if bound is not None
    ]
    whose = f"{100 * limit.share:g} % of its fruit have" if limit.share is not None else "on average"
    return f"{whose} {trait_called(limit.key).label.lower()} {' and '.join(bounds)}{in_seasons(limit)}"


def limits_short(market: Market, system: str) -> str:
    """The limits in a line that a narrow column holds: ``Asks for size from 2.25 in, sugar from 10.0 °Brix``."""
    said = []
    for limit in market.limits:
        if limit.kind == "class":
            said.append(limit_told(limit, system))
        elif limit.kind == "place":
            said.append("winter chill")
        else:
            ends = (("from", limit.at_least), ("to", limit.at_most))
            bounds = [f"{word} {bounded(limit.key, end, system)}" for word, end in ends if end is not None]
            said.append(" ".join([trait_called(limit.key).label.lower(), *bounds]))
    return f"Asks for {', '.join(dict.fromkeys(said))}" if said else "Asks for nothing"


def market_told(market: Market, system: str) -> tuple[str, str]:
    """A market's limits and wishes, written out."""
    limits = "; ".join(limit_told(limit, system) for limit in market.limits) or "none"
    wishes = (
        ", ".join(dict.fromkeys(trait_called(wish.key).label.lower() for wish in market.wishes)) or "nothing"
    )
    return f"Limits: {limits}.", f"Ranks what qualifies by: {wishes}."


def wish_told(wish: Wish, weights: float, system: str) -> str:
    """``sugar, the more the better: nothing at 9.0 °Brix, met in full at 14.0 °Brix (47 % of all weights)``."""
    low, full, high = (bounded(wish.key, value, system) for value in (wish.low, wish.target, wish.high))
    ends = {"larger": low, "smaller": high, "target": f"{low} and at {high}"}
    return (
        f"{trait_called(wish.key).label.lower()}, {WAYS[wish.shape]}: nothing at {ends[wish.shape]}, met in full at {full} "
        f"({100 * wish.weight / weights:.0f} % of all weights)"
    )


def filters_told(asked: Question) -> str:
    """What was ticked, in words; "none" where nothing was."""
    return "; ".join(_told(asked, name, FILTERS[name].full) for name in _set(asked, FILTERS)) or "none"


def choices_told(asked: Question, filters: bool = True) -> list[str]:
    """The same and what the figures stand for, as short as a hall needs it: bare words first, then those that need more. Without
    ``filters`` only what the figures stand for."""
    told = [name for name in _set(asked, CHOICES) if CHOICES[name].short and (filters or name not in FILTERS)]
    return [
        _told(asked, name, CHOICES[name].short)
        for name in sorted(told, key=lambda name: CHOICES[name].short != "{}")
    ]


def _set(asked: Question, among: Iterable[str]) -> list[str]:
    return [name for name in among if getattr(asked, name) != CHOICES[name].default]


def _told(asked: Question, name: str, sentence: str) -> str:
    said = CHOICES[name].told(sentence, asked.catalogue, getattr(asked, name))
    missing = left_out(asked.catalogue, asked.filters).get(name)
    return f"{said} ({missing})" if missing else said
