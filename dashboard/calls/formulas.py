"""A trait of one's own: a formula over measured ones, worked out for each sample before the model, so that it has an error like any other.

A formula is read, never run: numbers, traits, plus, minus, times, divided by, and brackets; anything else is refused in one sentence.
"""

from __future__ import annotations

import ast
import operator
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any

import numpy as np

from dashboard.answers.catalogue import Catalogue
from dashboard.calls.understood import AskError, shown, word
from dashboard.estimates import Worth, worth
from dashboard.records.names import plain
from dashboard.terms.traits import TRAITS

LONGEST = 200  # characters
_SIGNS: dict[type, Callable[[Any, Any], Any]] = {
    ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv,
}  # fmt: skip
KNOWN = 'write numbers, traits, + - * / and brackets, as "sugar / firmness".'


def derived(catalogue: Catalogue, name: str, formula: str, units: str) -> Worth:
    """What every cultivar is worth in the trait that the formula gives, of sample means in the reader's units."""
    if not isinstance(name, str) or not name.strip() or not name.replace(" ", "_").isidentifier():
        raise AskError(
            f"A trait's name is letters, digits and spaces, beginning with a letter, not {shown(name)}."
        )
    if plain(name) in {plain(word) for key, one in TRAITS.items() for word in (key, one.label)}:
        raise AskError(f"{name} is measured already; give what you work out another name.")
    if key_of(name) in catalogue.summaries and key_of(name) not in catalogue.own_traits:
        raise AskError(
            f"{shown(name)} stands for something else already; give what you work out another name."
        )
    parsed(formula)
    return _worth(catalogue, key_of(name), " ".join(formula.split()), units)


def key_of(name: str) -> str:
    """The key of a trait of one's own: its name as Python, a market's lines and a link can write it."""
    return "_".join(name.split())


@lru_cache(maxsize=32)
def _worth(catalogue: Catalogue, name: str, formula: str, units: str) -> Worth:
    checks = frozenset(catalogue.cultivars.index[catalogue.cultivars["check"].to_numpy()])
    frame = catalogue.summaries.assign(**{name: values_of(catalogue, formula, units)})
    return worth(frame, name, checks, relatives=catalogue.relatives, kinds=catalogue.shapes)


def values_of(catalogue: Catalogue, formula: str, units: str) -> np.ndarray:
    """(samples,) what the formula gives for the means of each; NaN where one of its traits was not measured."""
    summaries = catalogue.summaries
    means = {
        key: trait.unit(units).from_si(summaries[key].to_numpy(dtype=float))
        for key, trait in TRAITS.items()
        if key in summaries
    }
    with np.errstate(all="ignore"):
        values = np.asarray(value_of(parsed(formula), means), dtype=float) + np.zeros(len(summaries))
    values[~np.isfinite(values)] = np.nan
    if np.isnan(values).all():
        raise AskError(f"No sample has a value of {formula!r}; its traits were never measured together.")
    return values


def parsed(formula: Any) -> ast.expr:
    """The formula as it is understood; AskError, one sentence, for what is none."""
    if not isinstance(formula, str):
        raise AskError(f"A formula is written as text in quotation marks, not as {shown(formula)}.")
    if len(formula) > LONGEST:
        raise AskError(f"A formula has at most {LONGEST} characters; this one has {len(formula)}.")
    try:
        found = ast.parse(formula.strip(), mode="eval").body
    except (SyntaxError, ValueError, MemoryError, RecursionError):
        raise AskError(f"{shown(formula)} is no formula; {KNOWN}") from None
    if not _traits(found):
        raise AskError(f"{shown(formula)} names no trait; {KNOWN}")
    return found


def value_of(part: ast.expr, means: Mapping[str, np.ndarray]) -> Any:
    """The value of a part that ``_traits`` has let in; NaN for a trait that was never measured."""
    if isinstance(part, ast.BinOp):
        return _SIGNS[type(part.op)](value_of(part.left, means), value_of(part.right, means))
    if isinstance(part, ast.UnaryOp):
        return -value_of(part.operand, means)
    if isinstance(part, ast.Name):
        return means.get(_key(part.id), np.nan)
    assert isinstance(part, ast.Constant)
    return np.float64(part.value)  # type: ignore[arg-type]


def _traits(part: ast.expr) -> set[str]:
    """The traits of a formula; AskError for anything that is not on the list of what it may hold."""
    if isinstance(part, ast.BinOp) and type(part.op) in _SIGNS:
        return _traits(part.left) | _traits(part.right)
    if isinstance(part, ast.UnaryOp) and isinstance(part.op, ast.USub):
        return _traits(part.operand)
    if isinstance(part, ast.Name):
        return {_key(part.id)}
    if isinstance(part, ast.Constant) and type(part.value) in (int, float) and abs(part.value) < 1e9:  # type: ignore[arg-type]
        return set()
    raise AskError(f"{shown(ast.unparse(part))} cannot stand in a formula; {KNOWN}")


def _key(name: str) -> str:
    return word(name, {key: key for key in TRAITS}, "trait")
