"""Factors between units, against the definitions they rest on."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.terms.traits import OWN
from dashboard.terms.units import QUANTITIES, SYSTEMS, UNITS, rounded, shown_in

# Exact by definition, as tabulated in NIST Special Publication 811 (2008), appendix B.8; inch and pound after the
# international yard and pound agreement of 1959 (1 yd = 0.9144 m, 1 lb = 0.45359237 kg), standard gravity after the
# 3rd General Conference on Weights and Measures 1901 (9.80665 m/s2).
INCH_MM = Fraction(9144, 36 * 10)  # a yard is 36 inches
POUND_KG = Fraction(45359237, 10**8)
GRAVITY = Fraction(980665, 10**5)
DEFINED = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "in": INCH_MM,
    "n": Fraction(1),
    "kgf": GRAVITY,
    "lbf": POUND_KG * GRAVITY,
    "kg": Fraction(1),
    "lb": POUND_KG,
    "c": Fraction(1),
    "f": Fraction(5, 9),
}


@pytest.mark.parametrize("suffix", DEFINED)
def test_each_factor_is_the_defined_one_to_the_last_digit(suffix):
    assert UNITS[suffix].factor == pytest.approx(float(DEFINED[suffix]), rel=2.3e-16, abs=0)


def test_an_inch_is_exactly_25_4_mm_and_a_pound_exactly_0_45359237_kg():
    assert UNITS["in"].to_si(1.0) == 25.4
    assert UNITS["lb"].to_si(1.0) == 0.45359237


def test_a_pound_force_has_the_tabulated_newtons():
    # NIST SP 811 appendix B.8: pound-force to newton, 4.448 222 E+00 (seven figures)
    assert f"{UNITS['lbf'].to_si(1.0):.6f}" == "4.448222"


@pytest.mark.parametrize(("fahrenheit", "celsius"), [(32, 0), (212, 100), (-40, -40), (45, 65 / 9)])
def test_fahrenheit_meets_celsius_where_it_should(fahrenheit, celsius):
    assert UNITS["f"].to_si(fahrenheit) == pytest.approx(celsius, abs=1e-12)


@given(st.sampled_from(sorted(UNITS)), st.floats(-1e6, 1e6))
def test_there_and_back_gives_the_same_number(suffix, written):
    unit = UNITS[suffix]
    assert unit.from_si(unit.to_si(written)) == pytest.approx(written, rel=1e-12, abs=1e-9)


def test_arrays_are_turned_at_once():
    np.testing.assert_allclose(UNITS["in"].to_si(np.array([1.0, 2.5])), [25.4, 63.5])


def test_every_unit_measures_one_quantity_and_the_first_of_each_is_si():
    measured = [suffix for name, suffixes in QUANTITIES.items() if name != OWN for suffix in suffixes]
    assert sorted(measured) == sorted(UNITS)
    for suffixes in QUANTITIES.values():
        first = UNITS[suffixes[0]]
        assert (first.factor, first.offset) == (1.0, 0.0)


def test_each_reader_sees_the_units_of_their_system():
    shown = {
        system: [
            shown_in(quantity, system).suffix
            for quantity in ("length", "force", "temperature", "mass", "sugar")
        ]
        for system in SYSTEMS
    }
    assert shown == {"us": ["in", "lbf", "f", "lb", "brix"], "si": ["mm", "n", "c", "kg", "brix"]}


def test_an_unknown_system_is_refused():
    with pytest.raises(ValueError, match="unit system 'imperial'"):
        shown_in("length", "imperial")


def test_a_rounded_figure_of_a_table_is_never_a_minus_nought():
    assert [math.copysign(1, figure) for figure in rounded(pd.Series([-0.01, 0.01, -1.0]), 1)] == [1, 1, -1]
    assert math.copysign(1, rounded(-0.01, 1)) == 1
