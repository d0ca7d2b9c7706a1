"""Short texts of figures: what they are for, and how near they stay."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.market.written import eight_digits, short, short_row
from dashboard.terms.units import UNITS


@pytest.mark.parametrize(
    ("si", "unit", "text"),
    [
        (9.0, "mm", "9"), (0.8, "ratio", "0.8"), (100 * 0.8, "pct", "80"), (0.0, "mm", "0"), (-0.0, "mm", "0"), (-2.5, "mm", "-2.5"),
        (1e16, "mm", "1e+16"), (57.15, "in", "2.25"), (60.325, "in", "2.375"), (60.325, "mm", "60.325"),
        # By the exact definitions 1 lb = 4.4482216152605 N and 1 kgf = 9.80665 N; 40.033995 N is 9 lb to eight digits.
        (40.033995, "lbf", "9"), (6.5 * 9.80665, "kgf", "6.5"), (6.5 * 9.80665, "lbf", "14.330047"),
    ],
)  # fmt: skip
def test_a_figure_is_written_as_somebody_would_write_it(si, unit, text):
    assert short(si, UNITS[unit]) == text


units = st.sampled_from([UNITS[key] for key in ("mm", "in", "n", "lbf", "ratio")])


@given(st.floats(-1e12, 1e12).filter(lambda si: si == 0 or abs(si) > 1e-6), units)
def test_a_figure_that_is_read_again_has_the_same_eight_digits(si, unit):
    assert eight_digits(unit.to_si(float(short(si, unit)))) == eight_digits(si)


@given(st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=4))
def test_figures_that_differ_still_differ_and_keep_their_order(figures):
    figures = sorted(figures)
    back = [float(text) for text in short_row(figures)]
    assert back == sorted(back)
    assert len(set(back)) == len(set(figures))


def test_figures_too_near_each_other_are_written_in_full():
    assert short_row([10.0, 10.0000001]) == ["10.0", "10.0000001"]
