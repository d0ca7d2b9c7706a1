"""Every argument of every call, given anything at all or a name with a letter wrong: it is followed, or told in one sentence."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dashboard import Asked, AskError, Records, Table, load, show
from dashboard.calls.records import Bringing
from dashboard.market import MarketError
from dashboard.page import app
from dashboard.records.report import RecordError
from tests.calls.told import one_sentence

# By call, arguments with which it answers.
RIGHT: dict[str, dict[str, Any]] = {
    "records.ask": {"market": "Packer", "units": "us", "site": "River", "year": "late", "flesh_color": "white"},
    "records.find": {"text": "alder"}, "records.fruit": {"name": "Aldermere", "units": "si"},
    "records.estimates": {"trait": "sugar", "units": "us", "site": None}, "records.derive": {"name": "ripe", "formula": "sugar / firmness", "units": "us"},
    "records.with_trait": {"name": "ripe", "formula": "sugar / firmness", "units": "us"}, "records.with_table": {"table": None, "filters": ["tested"]},
    "records.with_market": {"market": {"name": "Mine", "limit": [{"trait": "size", "at_least": 60, "unit": "mm"}]}},
    "ask.ranking": {"columns": "price"}, "ask.why": {"name": "Aldermere"}, "ask.stand_ins": {"name": "Aldermere", "days": 7}, "ask.season": {"of": "Aldermere"},
    "ask.gaps": {"of": ["Aldermere"]}, "ask.site": {"name": "River", "higher": 0, "weather": ""}, "ask.but": {"year": "late"},
    "ask.plan": {"opens": "Jul 1", "closes": "Jul 9", "most": 2, "keep": (), "never": "Aldermere", "offered": False},
    "ask.order": {"each": "20 lb", "opens": "Jul 1", "closes": "Jul 7", "acres": None, "spacing": "18x18", "most": 2, "most_share": 100, "money": None, "place": "", "higher": 0, "weather": "", "second_each": None, "seconds": 1},
    "answer.parquet": {"place": None}, "answer.package": {"place": None}, "load": {"folder": None}, "show": {"what": None, "tabs": ["season"], "tab": "season"},
}  # fmt: skip
NAMES = [(call, name) for call, arguments in RIGHT.items() for name in arguments]
ODD: st.SearchStrategy[Any] = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=9) | st.dates() | st.binary(max_size=3),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=2),
    max_leaves=4,
)  # fmt: skip
TABLE = pd.DataFrame({"cultivar": ["Aldermere", "Candover"], "tested": ["yes", "no"]})
OF_NAMES = (
    "market",
    "year",
    "flesh_color",
    "trait",
    "columns",
    "of",
    "never",
    "tab",
    "tabs",
    "filters",
    "name",
)
WRITES = ("answer.parquet", "answer.package")  # a name that is well written is a file


@pytest.fixture(scope="module")
def calls(few: Records) -> dict[str, Callable[..., Any]]:
    app.prepare()
    owners: dict[str, Any] = {
        "records": few,
        "ask": few.ask("Packer", slate=["Aldermere", "Candover"]),
        "answer": few.ask("Packer").ranking(),
    }
    found: dict[str, Callable[..., Any]] = {"load": load, "show": show}
    return found | {
        call: getattr(owners[call.partition(".")[0]], call.partition(".")[2]) for call in RIGHT if "." in call
    }


def told(call: Callable[[], Any]) -> str:
    """What a call fails with, one sentence; "" where it answers."""
    said = ""
    try:
        call()
    except (AskError, MarketError) as fault:
        said = str(fault)
    except RecordError as fault:  # lists every fault of a folder, each with its place
        return str(fault)
    assert not said or one_sentence(said), said
    return said


def test_every_call_and_each_of_its_arguments_is_tried(calls):
    kinds = {"records": (Records, Bringing), "ask": Asked.__mro__[:-1], "answer": (Table,)}
    public = {
        f"{owner}.{name}": call
        for owner, each in kinds.items()
        for kind in each
        for name, call in vars(kind).items()
        if not name.startswith("_") and inspect.isfunction(call)
    }
    of_any_number = {"ask.compare", "answer.picture"}  # of names: tried in test_faults.py
    with_arguments = {
        name for name, call in public.items() if len(inspect.signature(call).parameters) > 1
    } - of_any_number
    assert with_arguments | {"load", "show"} == set(RIGHT)
    for name, arguments in RIGHT.items():
        every = inspect.signature(calls[name]).parameters.items()
        assert {key for key, one in every if one.kind != one.VAR_KEYWORD} <= set(arguments), name


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(which=st.sampled_from(NAMES), said=ODD)
def test_anything_at_all_is_followed_or_told_in_one_sentence(calls, which: tuple[str, str], said: Any):
    call, name = which
    if call in WRITES and isinstance(said, str):
        said = {said}
    told(lambda: calls[call](**{**right(calls, call), name: said}))


@pytest.mark.alike(5)
@pytest.mark.parametrize("which", NAMES, ids=lambda which: f"{which[0]}({which[1]}=)")
def test_a_name_with_a_letter_wrong_is_told_with_the_right_one(calls, which: tuple[str, str], tmp_path: Path):
    """The argument's name always; its value, where that is a name of something."""
    call, name = which
    arguments = right(calls, call, tmp_path)
    assert told(lambda: calls[call](**arguments)) == ""
    wrong = f"{name[:-1]}{'y' if name[-1] != 'y' else 'x'}"
    if name in inspect.signature(calls[call]).parameters:  # others are filters: tried in test_faults.py
        others = {key: value for key, value in arguments.items() if key != name}
        assert repr(name) in told(lambda: calls[call](**others, **{wrong: arguments[name]}))
    value = arguments[name]
    ones_own = ("records.derive", "records.with_trait", "records.with_market")
    if name in OF_NAMES and call not in ones_own:
        near = [f"{value[0][:-1]}q"] if isinstance(value, list) else f"{value[:-1]}q"
        right_one = value[0] if isinstance(value, list) else value
        assert right_one.casefold() in told(lambda: calls[call](**{**arguments, name: near})).casefold()


def right(calls: dict[str, Callable[..., Any]], call: str, place: Path | None = None) -> dict[str, Any]:
    """Arguments with which it answers, those among them that are made for the test."""
    made = {
        "show": {"what": calls["records.ask"].__self__},
        "answer.parquet": {"place": (place or Path("nowhere")) / "a.parquet"},
        "answer.package": {"place": (place or Path("nowhere")) / "a"},
        "records.with_table": {"table": TABLE},
    }
    return {**RIGHT[call], **made.get(call, {})}
