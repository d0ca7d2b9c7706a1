"""The calendar of a season as rows: my slate in order of picking with its gaps, then the others class by class, and how they are dressed.

Everything stands on one axis, the selling days. What misses the buyer, or is picked outside those days, is counted and not drawn.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pandas as pd

from dashboard.answers.question import Question
from dashboard.answers.season_classes import picked_each_day, season_classes, slate_windows
from dashboard.charts import style
from dashboard.charts.calendar import extent
from dashboard.ripening import axis_days, day_label
from dashboard.ripening.model import ANY
from dashboard.wording import strip as strip_words
from dashboard.wording.figures import DATED, counted
from dashboard.wording.gaps import days_told, uncovering_told, usual_told

BEGIN = "Your slate is empty: press ☆ beside a cultivar below, or Build a slate over the tabs."
ANY_YEAR = "Gaps and covered days count any year."
HIDDEN = {"hatched": "may qualify", "hollow": "covers nothing for the buyer"}


def calendar_view(asked: Question, opened: Iterable[str] = ()) -> dict[str, Any]:
    """The whole calendar as plain texts and places from 0, the first selling day, to 1; only ``opened`` classes hold their rows."""
    south, span, opened = asked.catalogue.south, _span(asked), set(opened)
    days = span[1] - span[0] + 1
    found, slate, strip = season_classes(asked), slate_windows(asked), asked.strip
    gaps = strip.rows[0].gaps if strip and asked.shortlist else ()
    bars = {bar["name"]: bar["look"] for bar in strip_words.drawn(asked, strip)["bars"]} if strip else {}
    return {
        "heading": f"My slate in {DATED[asked.season_kind]}",
        "said": _said(asked, slate),
        "marks": [[_place(day, span), label] for day, label in axis_days(*span, south)],
        "gaps": [
            [_place(gap.first - 0.5, span), _place(gap.last + 0.5, span), strip_words.gap_label(gap.first, gap.last, south)]
            for gap in gaps
        ],
        "slate": [_row(asked, name, row, span, bars) for name, row in slate.iterrows()],
        "others": _others(asked, sum(map(len, found.classes.values()))),
        "rest": [line for line in (_outside(found.outside), _missing(asked, found.miss)) if line],
        "days": int(days),
        "classes": [
            {
                "kind": kind, "told": f"{kind} ({len(windows)})", "open": kind in opened,
                "band": picked_each_day(windows, span).tolist(),
                "rows": [_row(asked, name, row, span, {}) for name, row in windows.iterrows()] if kind in opened else [],
            }
            for kind, windows in found.classes.items()
        ],
    }  # fmt: skip


def _said(asked: Question, slate: pd.DataFrame) -> list[str]:
    """Under the heading: how much is covered, of which years, and by what not."""
    if not asked.shortlist:
        return [_covered(asked)]
    years = [f"{usual_told(asked.catalogue.ripening)} {ANY_YEAR}".strip()] if asked.season_kind == ANY else []
    return [_covered(asked), *years, *uncovering_told(asked, asked.shortlist), *_unpicked(asked, slate)]


def _span(asked: Question) -> tuple[float, float]:
    """The selling days; where nobody was ever picked, those of any calendar."""
    first, last = asked.selling
    return (first, last) if first == first and last == last else extent(asked.catalogue.windows)


def _covered(asked: Question) -> str:
    if not asked.shortlist:
        return BEGIN
    if asked.strip is None:
        return asked.catalogue.ripening.refused
    return strip_words.longest_told(asked, asked.strip)


def _unpicked(asked: Question, slate: pd.DataFrame) -> list[str]:
    missing = [name for name in asked.shortlist if name not in slate.index]
    return [strip_words.NEVER_PICKED.format(names=", ".join(missing[:6]))] if missing else []


def _others(asked: Question, count: int) -> str:
    if asked.emptied:
        return asked.emptied.sentence
    more = " more" if asked.shortlist else ""
    what = f"qualify, or may, for {asked.profile.name}" if asked.profile else "pass your filters"
    if not count:
        return f"No{more} cultivars that {what} are picked in your selling days."
    return f"{count}{more} that {what}, by class. Darker: more of them ripe at once. Open a class for its cultivars."


def _outside(count: int) -> str:
    return f"{counted(count, 'more cultivar')} ripen outside your selling days." if count else ""


def _missing(asked: Question, count: int) -> str:
    if not count or not asked.profile:
        return ""
    return f"Left out: {count} that miss {asked.profile.name} or cannot be judged for it."


def _row(asked: Question, name: Any, row: Any, span: tuple[float, float], looks: dict[str, str]) -> dict[str, Any]:  # fmt: skip
    known, south = asked.catalogue.cultivars.loc[name], asked.catalogue.south
    look = looks.get(str(name)) or strip_words.LOOKS.get(str(asked.fit["verdict"][name]), "hollow")
    when = days_told(row["first"], row["last"], south).replace(" to ", "–")
    doubt = row["first_low"] == row["first_low"] and row["last_high"] == row["last_high"]
    ends = (
        f"; likely (90 %) between {day_label(row['first_low'], south)} and {day_label(row['last_high'], south)}"
        if doubt
        else ""
    )
    low, high = (row["first_low"], row["last_high"]) if doubt else (row["first"], row["last"])
    told = f", {HIDDEN[look]}" if look in HIDDEN and asked.profile else ""
    return {
        "name": str(name), "flesh": str(known["flesh_colour"]), "look": look, "kept": name in asked.shortlist, "when": when, "check": name in asked.catalogue.checks,
        "at": [_place(day, span) for day in (row["first"] - 0.5, row["last"] + 0.5, low, high)],
        "tip": f"{name}: usually picked {when}{ends}{told}",
    }  # fmt: skip


def _place(day: float, span: tuple[float, float]) -> float:
    """Days are drawn from their own midnight: the first selling day begins at 0, the last ends at 1."""
    return round(min(max((float(day) - span[0] + 0.5) / (span[1] - span[0] + 1), 0.0), 1.0), 4)


CALENDAR_CSS = (
    style.BASE_CSS
    + f"""
:host {{ display: block; --bare: {style.BARE}99; --leaf: {style.LEAF}; }} [hidden] {{ display: none !important; }}
section {{ background: {style.PAPER}; border: 1px solid {style.EDGE}; border-radius: 8px; padding: 8px 16px; margin-bottom: 12px; --gaps: none; }}
h2 {{ margin: 0; font-size: 20px; line-height: 1.3; }} h3 {{ margin: 0; font-size: 16px; }} p {{ margin: 0 0 4px; }} .quiet {{ color: {style.QUIET}; font-size: 12px; }}
.line {{ display: grid; grid-template-columns: 24px minmax(90px, 150px) minmax(0, 1fr) 108px; gap: 0 8px; align-items: center; min-height: 24px; }}
.line button {{ border: 0; background: none; padding: 0; text-align: left; min-height: 24px; overflow: hidden; text-overflow: ellipsis; white-space: nowrap; }}
.keep {{ color: {style.LEAF}; text-align: center !important; }} .name {{ font-weight: 600; color: {style.LEAF}; }}
.track {{ position: relative; align-self: stretch; background: var(--gaps); }}
.doubt, .length {{ position: absolute; left: calc(100% * var(--a)); width: calc(100% * (var(--b) - var(--a))); }}
.doubt {{ top: 50%; height: 0; border-top: 1.5px solid {style.QUIET}; }}
.length {{ top: 50%; height: 10px; margin-top: -5px; min-width: 5px; border: 1.5px solid {style.INK}; border-radius: 6px; box-sizing: border-box; background: var(--flesh); }}
.yellow {{ --flesh: {style.FLESH["yellow"][0]}; }} .red {{ --flesh: {style.FLESH["red"][0]}; }} .unknown {{ --flesh: {style.UNKNOWN_FLESH[0]}; }}
.white {{ --flesh: radial-gradient(circle, {style.INK} 0 1.2px, {style.PAPER} 1.5px) 0 center / 9px 100% {style.PAPER}; }}
.hatched .length {{ background: repeating-linear-gradient(135deg, transparent 0 4px, {style.PAPER} 4px 7px), var(--flesh); }}
.hollow .length {{ background: {style.PAPER}; border-style: dashed; border-color: {style.QUIET}; }}
.when {{ color: {style.QUIET}; font-size: 12px; white-space: nowrap; }}
.axis .track, .bare .track {{ background: none; }} .axis {{ font-size: 12px; color: {style.QUIET}; border-bottom: 1px solid {style.RULE}; }} .axis .track {{ height: 18px; }}
.axis .track span {{ position: absolute; left: calc(100% * var(--a)); transform: translateX(-50%); white-space: nowrap; }}
.bare .track {{ height: 18px; }} .bare i {{ position: absolute; top: 2px; bottom: 2px; left: calc(100% * var(--a)); width: calc(100% * (var(--b) - var(--a))); background: {style.BARE};
  border-bottom: 3px solid {style.BARE_EDGE}; font: 12px/11px {style.FONT}; color: {style.INK}; overflow: hidden; text-overflow: ellipsis; white-space: nowrap; text-align: center; box-sizing: border-box; }}
details {{ border-top: 1px solid {style.RULE}; }} summary {{ list-style: none; cursor: pointer; padding: 2px 0; }} summary::-webkit-details-marker {{ display: none; }}
summary .line {{ min-height: 24px; }} summary .kind {{ grid-column: 1 / 3; font-weight: 600; }} summary .kind::before {{ content: "▸ "; color: {style.LEAF}; }} [open] > summary .kind::before {{ content: "▾ "; }}
.band {{ background: var(--band), {style.WASH}; height: 14px; align-self: center; border-radius: 3px; }}
summary:focus-visible, .line button:focus-visible {{ outline: 3px solid {style.CHOSEN}; outline-offset: 1px; }}
@media (max-width: 700px) {{ .bare i {{ font-size: 0; }} section {{ padding: 8px; }} .line {{ grid-template-columns: 28px minmax(70px, 96px) minmax(0, 1fr); }} .when {{ display: none; }} }}
@media (pointer: coarse) {{ .others .line {{ min-height: 44px; }} .others .line button {{ min-height: 44px; }} .slate .line:not(.axis, .bare) {{ min-height: 32px; }} }}
@media (forced-colors: active) {{ .length, .bare i, .band, .track {{ forced-color-adjust: none; }} .track {{ background-color: {style.PAPER}; }} .axis .track {{ forced-color-adjust: auto; }} }}
"""
)
