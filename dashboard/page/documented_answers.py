"""What each answer of a notebook holds, looked up on the answers themselves: its columns, and whether it has a picture."""

from __future__ import annotations

from collections.abc import Callable

from dashboard.answers.catalogue import Catalogue
from dashboard.calls import ordered
from dashboard.calls.columns import OFFERED
from dashboard.calls.records import Records
from dashboard.calls.table import Table

BUYER = "Roadside stand"
DAYS = ("Jul 1", "Jul 14")
HEAD = """### What an answer holds

The columns of each answer for a buyer, in inches and pounds; `units="si"` has `_mm`, `_n` and `_kg` for `_in`, `_lbf` and `_lb`. Ends of a likely
range: where `_low … _high` stands, both are columns. *Drawn*: whether `.picture()` has a picture of it.

| answer | drawn | columns |
|---|---|---|
"""


def answers(catalogue: Catalogue) -> dict[str, Table]:
    """By call one answer of each kind."""
    known = Records(catalogue)
    ask, market = known.ask(BUYER), known.markets
    first, second = map(str, ask.ranking().index[:2])
    july = ask.but(picked_in="July")
    made: dict[str, Callable[[], Table]] = {
        "ask.ranking()": ask.ranking, "ask.why(name)": lambda: ask.why(first), "ask.compare(a, b)": lambda: ask.compare(first, second),
        "ask.stand_ins(name)": lambda: ask.stand_ins(first), "ask.season()": ask.season, "ask.gaps()": ask.gaps, "ask.site()": ask.site,
        "ask.plan(opens, closes)": lambda: july.plan(*DAYS, most=2),
        "records.fruit(name)": lambda: known.fruit(first), "records.estimates(trait)": lambda: known.estimates("sugar"),
        "records.derive(name, formula)": lambda: known.derive("sugar to firmness", "sugar / firmness"),
        "records.markets": lambda: market, "records.cultivars": lambda: known.cultivars,
    }  # fmt: skip
    return {call: make() for call, make in made.items()}


def held(catalogue: Catalogue) -> str:
    """A row an answer: whether it is drawn, and its columns."""
    rows = [
        f"| `{call}` | {'yes' if made._drawn is not None else 'no'} | {shortly(list(made.columns))} |"
        for call, made in answers(catalogue).items()
    ]
    rows.append(
        f"| `ask.order(each, opens, closes)` | no | {shortly([*ordered.COLUMNS])} |"
    )  # which takes long
    return HEAD + "\n".join(rows) + "\n"


def added(catalogue: Catalogue) -> dict[str, str]:
    """By key of a further column of a ranking, the columns that it adds."""
    ask = Records(catalogue).ask(BUYER)
    usual = set(ask.ranking().columns)
    return {key: shortly([name for name in ask.ranking(key).columns if name not in usual]) for key in OFFERED}


def shortly(names: list[str]) -> str:
    """``size_in`` with its ends as one."""
    ended = {name for name in names if {f"{name}_low", f"{name}_high"} <= set(names)}
    ends = {f"{name}{end}" for name in ended for end in ("_low", "_high")}
    return ", ".join(f"`{name}` `_low … _high`" if name in ended else f"`{name}`" for name in names if name not in ends)  # fmt: skip
