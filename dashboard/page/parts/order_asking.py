"""What is asked of an order of trees, typed in: pounds by week, land, spacing, what a tree bears and costs, and how surely a week is filled."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, ClassVar

import numpy as np
import param

from dashboard.answers.choices import CHOICES
from dashboard.answers.demand import WEEK, amount_kg, demand_of
from dashboard.answers.order_choices import (
    AS_MUCH,
    MOST_ACRES,
    MOST_BORNE,
    MOST_LB,
    MOST_MONEY,
    MOST_PRICE,
    PROMISES,
    trees_per_acre,
)
from dashboard.answers.ordering import OrderWanted
from dashboard.charts import style
from dashboard.page.parts import live
from dashboard.page.parts.files import content_of
from dashboard.page.patches.scripted import Element
from dashboard.ripening.days import day_key, day_of_key
from dashboard.terms.units import KG_PER_POUND
from dashboard.visit.state import State
from dashboard.wording import order_page as words

CSS = (
    style.BASE_CSS
    + f"""
.line {{ display: flex; flex-wrap: wrap; gap: 8px 16px; align-items: end; }} [hidden] {{ display: none !important; }}
label {{ display: grid; grid-template-columns: minmax(0, 1fr); gap: 2px; max-width: 100%; }} label span {{ font-weight: 600; }} details .line label span {{ font-weight: 400; }}
input, select {{ font: inherit; border: 1px solid {style.EDGE}; border-radius: 6px; padding: 3px 8px; min-height: 32px; width: 9em; box-sizing: border-box; background: {style.PAPER}; color: {style.INK}; }}
select {{ width: auto; max-width: min(100%, 100vw - 28px); }} input[type=file] {{ width: auto; max-width: 100%; border: 0; padding: 0; }} input:focus-visible, select:focus-visible, summary:focus-visible {{ outline: 3px solid {style.CHOSEN}; outline-offset: 1px; }}
.how {{ margin: 4px 0; }} .drawn {{ display: grid; grid-template-columns: auto minmax(0, 1fr); gap: 0 8px; max-width: 640px; font-size: 12px; margin-bottom: 26px; }} .whose {{ grid-column: 1 / -1; margin: 0; }} .whose:empty {{ display: none; }}
.bars {{ display: flex; height: 120px; border-bottom: 1px solid {style.EDGE}; }} .bar {{ position: relative; flex: 1 1 0; min-width: 0; margin: 0 1px; background: {style.PAPER}; cursor: pointer; }} .fill {{ position: absolute; inset: auto 12% 0; background: {style.SHADES[3]}; pointer-events: none; }}
.top {{ position: absolute; left: 0; right: 0; height: 36px; margin-bottom: -18px; cursor: ns-resize; touch-action: none; user-select: none; white-space: nowrap; }} .top::after {{ content: ""; position: absolute; inset: 16px 8% auto; border-top: 4px solid {style.LEAF}; border-radius: 2px; }}
.day {{ position: absolute; top: calc(100% + 6px); white-space: nowrap; }} .most {{ line-height: 1; }}
.folds {{ display: flex; flex-wrap: wrap; gap: 0 24px; }} details[open] {{ flex: 1 0 100%; }}
summary {{ cursor: pointer; color: {style.LEAF}; font-weight: 600; padding: 5px 0; width: fit-content; }} .faults p {{ margin: 6px 0 0; padding: 6px 10px; background: {style.FAULTY}; border-left: 3px solid {style.LIMIT}; }}
@media (pointer: coarse), (max-width: {style.PHONE}px) {{ input, select {{ min-height: 44px; font-size: 16px; }} summary {{ padding: 12px 0; }} input {{ width: 8em; }} }}
"""
)
SECOND = "second"  # before the day of a week that the second buyer wants
LONGEST_NAME = 100  # characters of a file's
NUMBERS = {  # what is typed as a number: what it is called in a fault, its least, its most, and an example
    "acres": ("Land", 0.01, MOST_ACRES, "2.5"),
    "bears": ("A full crop", 1, MOST_BORNE, "120"),
    "money": ("An amount", 1, MOST_MONEY, "4000"),
    "tree_price": ("A price per tree", 0.01, MOST_PRICE, "9.50"),
    "most_share": ("A largest share", 1, 100, "25"),
}


class OrderAsking(Element):
    """``act(field, value)`` is called with what was typed, ``opened(name, content)`` with a file (None: larger than is sent)."""

    told = param.String(default='{"first": [], "rest": [], "weeks": [], "file": "", "faults": []}')

    script = Path(__file__).with_name("order_asking.js")
    dress: ClassVar[tuple[str, ...]] = (CSS,)

    def __init__(
        self, act: Callable[[str, str], None], opened: Callable[[str, bytes | None], None], **params
    ):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (5, 10), **params})
        self._act, self._opened = act, opened

    @live.at_once
    def heard(self, msg) -> None:
        if msg.get("field") == "file":
            name = " ".join(str(msg.get("file")).split())[:LONGEST_NAME]
            self._opened(name, arrived(msg.get("content"), msg.get("size")))
        elif isinstance(msg.get("field"), str) and isinstance(msg.get("value"), str):
            self._act(msg["field"], msg["value"].strip())


def arrived(content: object, size: object) -> bytes | None:
    """None for a file that is larger than is sent, and for one that did not arrive whole."""
    try:
        raw = content_of(content)
    except ValueError:
        return None
    return raw if size == len(raw) else None


class Asking:
    """One visitor's fields; what is typed becomes a choice, what cannot be one sentence."""

    def __init__(self, state: State) -> None:
        self.state, self.faults = state, list[str]()
        self.element = OrderAsking(self._typed, self._opened)
        self.tell()

    def tell(self) -> None:
        state, wanted = self.state, self.state.question.order_wanted
        second = state.question.second_buyer
        promises = {**PROMISES, state.promise: CHOICES["promise"].write(wanted.catalogue, state.promise)}
        view = {
            "first": [
                _field("weekly", words.amount_called(wanted.market, second is not None), state.weekly, "800", text=True),
                *([_field("second_weekly", words.amount_called(second, True), state.second_weekly, "none", text=True)] if second else []),
                _field("acres", "Acres you have", state.acres, "as needed"),
                {**_field("promise", CHOICES["promise"].label, state.promise), "options": list(promises.items())},
                *([_field("money", "$ you have for trees", state.money, "as needed")] if state.promise == AS_MUCH else []),
            ],
            "rest": [
                _field("spacing", f"Feet between rows by trees ({wanted.trees_per_acre:.0f} an acre)", state.spacing, text=True),
                _field("bears", "Pounds per tree in full bearing", state.bears, words.usual_told(wanted)),
                _field("tree_price", "$ a tree where no offer is known", state.tree_price, "offers only"),
                _field("most_share", "Most trees of one cultivar, %", state.most_share, "any share"),
            ],
            "weeks": [
                *_weeks(wanted),
                *(_weeks(wanted, second.name) if second and wanted.also else []),
            ],
            "file": words.file_asked(wanted.market, second is not None),
            "faults": self.faults,
        }  # fmt: skip
        self.element.told = json.dumps(view, ensure_ascii=False)

    def _typed(self, field: str, value: str) -> None:
        self.faults = []
        try:
            self.state.choose(**self._choices(field, value))
        except ValueError as fault:
            self.faults = [str(fault)]
        self.tell()

    def _opened(self, name: str, content: bytes | None) -> None:
        """The weeks of the file become the selling days, each with its amount."""
        self.faults = []
        south = self.state.question.catalogue.south
        try:
            if content is None:
                raise ValueError(
                    f"{name} is larger than 120 kB or did not arrive whole; a line for each week is enough."
                )
            asked = demand_of(content, name, south)
            starts = asked.first + WEEK * np.arange(len(asked.kg))
            weeks = tuple(
                f"{day_key(day, south)} {_pounds(f'{kg} kg')}"
                for day, kg in zip(starts, asked.kg, strict=True)
            )
            self.state.choose(
                weekly="",
                weeks=weeks,
                opens=day_key(asked.first, south),
                closes=day_key(starts[-1] + WEEK - 1, south),
            )
        except ValueError as fault:
            self.faults = [str(fault)]
        self.tell()

    def _choices(self, field: str, value: str) -> dict[str, Any]:
        if field in ("weekly", "second_weekly"):
            return {field: _pounds(value) if value else ""}
        if field == "promise":
            return {"promise": value}
        if field == "spacing":
            trees_per_acre(value or CHOICES["spacing"].default)
            return {
                "spacing": "".join(value.casefold().split()).replace("×", "x") or CHOICES["spacing"].default
            }
        if field in NUMBERS:
            return {field: _number(field, value)}
        which, _, key = field.rpartition(" ")
        return self._week("second_" if which == SECOND else "", key, value) if which in ("", SECOND) else {}

    def _week(self, whose: str, key: str, value: str) -> dict[str, Any]:
        """The amount of one week, of the first buyer ("") or the second; what was typed there before is forgotten, and so it is where it is as in all weeks."""
        wanted = self.state.question.order_wanted
        south = wanted.catalogue.south
        keys = [day_key(first, south) for first, *_ in words.weeks_asked(wanted)]
        if key not in keys:
            return {}
        first = wanted.demand.days[keys.index(key)]
        kept = tuple(
            one
            for one in getattr(self.state, f"{whose}weeks")
            if not first <= day_of_key(one[:5], south) < first + WEEK
        )
        pounds = _pounds(value) if value else ""
        alike = pounds in ("", getattr(self.state, f"{whose}weekly"))
        return {f"{whose}weeks": kept if alike else (*kept, f"{key} {pounds}")}


def _weeks(wanted: OrderWanted, second: str = "") -> list[dict[str, Any]]:
    """A field a week, those of the second buyer under his name."""
    south, mark = wanted.catalogue.south, f"{SECOND} " if second else ""
    return [
        _field(f"{mark}{day_key(first, south)}", f"{label}, {second}" if second else label, f"{pounds:.0f}")
        for first, label, pounds in words.weeks_asked(wanted, bool(second))
    ]


def _field(field: str, label: str, value: str, hint: str = "", text: bool = False) -> dict[str, Any]:
    return {"field": field, "label": label, "value": value, "hint": hint, "text": text}


def _pounds(value: str) -> str:
    """ "350 kg" as "771.62"; ValueError, one sentence, for what is no amount."""
    pounds = round(amount_kg(value) / KG_PER_POUND, 2)
    if pounds > MOST_LB:
        raise ValueError(f"{value[:40]!r} is more than {MOST_LB:,.0f} lb a week; check the number.")
    return f"{pounds:.2f}".rstrip("0").rstrip(".")


def _number(field: str, value: str) -> str:
    """As a link has it; "" for nothing. ValueError, one sentence."""
    called, least, most, example = NUMBERS[field]
    if not value:
        return ""
    try:
        number = float(value.replace(",", "").removeprefix("$").removesuffix("%"))
    except ValueError:
        number = float("nan")
    if not least <= number <= most:
        raise ValueError(f"{called} of {value[:20]!r} cannot be used; write a number from {least:g} to {most:,.0f}, for example {example}.")  # fmt: skip
    return f"{number:.2f}".rstrip("0").rstrip(".")
