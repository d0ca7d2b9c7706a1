"""A trait of one's own is read from a closed list, worked out for each sample, and has an error like any other."""

from __future__ import annotations

import ast

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard import AskError, Records
from dashboard.calls.formulas import parsed, value_of
from dashboard.estimates import worth
from dashboard.terms.traits import TRAITS
from dashboard.terms.units import N_PER_LBF
from tests.calls.told import fault_of, one_sentence


def test_it_is_worked_out_for_each_sample_before_the_model(few: Records):
    told = few.derive("sugar to firmness", "sugar / firmness", units="si")
    summaries = few.catalogue.summaries
    by_hand = worth(
        summaries.assign(ratio=summaries["sugar"] / summaries["firmness"]),
        "ratio",
        frozenset(few.catalogue.checks),
    ).values
    np.testing.assert_allclose(told["sugar_to_firmness"], by_hand["estimate"].reindex(told.index))
    np.testing.assert_allclose(told["sugar_to_firmness_se"], by_hand["se"].reindex(told.index))
    assert (told["samples"] > 0).all()
    assert told["sugar_to_firmness"].is_monotonic_decreasing
    pounds = few.derive("sugar to firmness", "sugar / firmness")
    np.testing.assert_allclose(
        pounds["sugar_to_firmness"], told["sugar_to_firmness"].reindex(pounds.index) * N_PER_LBF, rtol=1e-3
    )
    assert "pounds" in pounds.said[0]
    assert told.picture() is not None


def test_a_measured_trait_times_one_is_that_trait(few: Records):
    """With ratings, which are judged once a sample as a formula's values are."""
    own, measured = few.derive("as rated", "1 * attractiveness"), few.estimates("attractiveness")
    np.testing.assert_allclose(own["as_rated"].reindex(measured.index), measured["attractiveness"], rtol=1e-6)


def test_what_may_be_below_zero_is_not_set_aside(few: Records):
    told = few.derive("less firm", "-firmness")
    assert len(told) == len(few.estimates("firmness"))
    assert (told["less_firm"] < 0).all()


@pytest.mark.parametrize(
    ("formula", "told"),
    [
        ("suger / firmness", "did you mean 'sugar'?"), ("sugar ** 2", "cannot stand in a formula"), ("sugar if 1 else 2", "cannot stand"), ("__import__('os')", "cannot stand"),
        ("sugar.real", "cannot stand"), ("sugar[0]", "cannot stand"), ("'sugar'", "cannot stand"), ("True + sugar", "cannot stand"), ("1e300 * sugar", "cannot stand"),
        ("sugar /", "is no formula"), ("", "is no formula"), ("2 + 2", "names no trait"), ("sugar + " * 50 + "sugar", "at most 200"), (3, "not as 3"),
        ("(" * 90 + "sugar" + ")" * 90, ""), ("sugar // 2", "cannot stand"), ("lambda: sugar", "cannot stand"), ("sugar\x00", "is no formula"), ("not sugar", "cannot stand"),
    ],
)  # fmt: skip
def test_what_is_no_formula_is_told(few: Records, formula, told: str):
    if told:
        assert told in fault_of(lambda: few.derive("mine", formula))
    else:
        assert len(few.derive("mine", formula))


@pytest.mark.parametrize("name", ["", "1st", "a/b", "sugar", "Red skin", 3, None, "<b>"])
def test_a_name_that_cannot_be_a_column_s_is_told(few: Records, name):
    fault_of(lambda: few.derive(name, "sugar / firmness"))


def test_what_was_never_measured_together_is_told(few: Records):
    assert "never measured together" in fault_of(lambda: few.derive("mine", "sugar / (size - size)"))


@given(
    st.text(max_size=60)
    | st.lists(
        st.sampled_from([*TRAITS, "+", "-", "*", "/", "(", ")", "2", ".5", "x", "**", ","]), max_size=12
    ).map(" ".join)
)
def test_any_text_is_a_formula_or_told_in_one_sentence(text: str):
    faults = []
    try:
        found = parsed(text)
    except AskError as fault:
        faults.append(str(fault))
    assert all(map(one_sentence, faults))
    if not faults:
        with np.errstate(all="ignore"):
            mine = np.broadcast_to(
                np.asarray(value_of(found, {key: np.array([2.0]) for key in TRAITS}), dtype=float), 1
            )
            told = eval(
                compile(ast.Expression(found), "", "eval"), {key: np.array([2.0]) for key in TRAITS}
            )  # what Python makes of it
        np.testing.assert_allclose(mine, told)
