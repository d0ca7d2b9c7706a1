"""The list of traits, against the tables they come from and the way they are written."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import dashboard
from dashboard.records.schema import TABLES
from dashboard.terms.traits import CLASSES, FRUIT_TRAITS, HEADLINE, SAMPLE_TRAITS, TRAITS
from dashboard.terms.units import QUANTITIES


def test_every_trait_is_measured_on_fruit_or_judged_once_a_sample():
    assert set(FRUIT_TRAITS) | set(SAMPLE_TRAITS) == set(TRAITS)
    assert not set(FRUIT_TRAITS) & set(SAMPLE_TRAITS)


def test_every_trait_is_a_known_quantity_and_says_which_way_is_better():
    assert {trait.quantity for trait in TRAITS.values()} <= set(QUANTITIES)
    assert {trait.better for trait in TRAITS.values()} <= {"more", "less", "depends"}


def test_every_judged_trait_has_its_column_in_the_samples():
    columns = TABLES["samples"].by_name
    assert all(trait in columns or f"{trait}_pct" in columns for trait in SAMPLE_TRAITS)


def test_the_words_of_the_classes_are_those_of_the_cultivars_table():
    columns = TABLES["cultivars"].by_name
    assert {name: columns[name].words for name in CLASSES} == {
        name: words for name, (_, words) in CLASSES.items()
    }


@pytest.mark.parametrize(
    ("trait", "si", "us", "metric"),
    [("size", 63.5, "2.50", "63.5"), ("firmness", 44.4822, "10.0", "44"), ("sugar", 12.34, "12.3", "12.3"), ("split_pit", 9.6, "10", "10")],
)  # fmt: skip
def test_a_value_is_written_in_the_readers_unit(trait, si, us, metric):
    assert (TRAITS[trait].written(si, "us"), TRAITS[trait].written(si, "si")) == (us, metric)


@pytest.mark.parametrize("nothing", [None, float("nan")])
def test_nothing_known_is_an_en_dash(nothing):
    assert TRAITS["size"].written(nothing, "us") == "–"


def test_headings_name_the_unit_where_there_is_one():
    assert TRAITS["size"].heading("us") == "Size (in)"
    assert TRAITS["size"].heading("si") == "Size (mm)"
    assert TRAITS["roundness"].heading("us") == "Roundness"


@pytest.mark.parametrize(("si", "written"), [(-0.04, "0.0"), (0.04, "0.0"), (-0.06, "-0.1")])
def test_nothing_is_written_with_a_minus(si, written):
    assert TRAITS["sugar"].written(si, "si") == written


@pytest.mark.parametrize(
    ("trait", "si", "system", "written"),
    [("sugar", -0.04, "us", "0.0"), ("sugar", 0.04, "us", "0.0"), ("sugar", -0.06, "us", "-0.1"), ("size", 2.54, "us", "+0.10")],
)  # fmt: skip
def test_a_difference_has_a_sign_but_for_none(trait, si, system, written):
    assert TRAITS[trait].difference(si, system) == written


def test_the_traits_told_where_there_is_room_for_a_few_are_named_in_one_place():
    """No other file lists just these, in whatever order."""
    where = []
    for path in sorted(Path(dashboard.__file__).parent.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            listed = {ast.Tuple: "elts", ast.List: "elts", ast.Set: "elts", ast.Dict: "keys"}.get(type(node))
            words = [getattr(one, "value", None) for one in getattr(node, listed)] if listed else []
            if len(words) == len(HEADLINE) and set(words) == set(HEADLINE):
                where.append(path.name)
    assert where == ["traits.py"]
