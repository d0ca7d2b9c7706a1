"""The code is drawn module for module as the standard's encoder says, with its white margin; what does not fit has none."""

from __future__ import annotations

import pytest
import segno

from dashboard.charts.code import QUIET_ZONE, code
from tests.charts.modules import modules

ADDRESS = "http://192.168.1.20:5006/?v=1&flesh_colour=yellow,white&market=roadside_stand"


@pytest.mark.parametrize("address", [ADDRESS, ADDRESS + "&shortlist=" + "Candover," * 60])
def test_it_is_drawn_module_for_module(address):
    expected = [[bool(one) for one in row] for row in segno.make_qr(address, error="l").matrix]
    drawn = modules(str(code(address)))
    size = len(expected) + 2 * QUIET_ZONE
    assert len(drawn) == len(drawn[0]) == size
    inside = [row[QUIET_ZONE:-QUIET_ZONE] for row in drawn[QUIET_ZONE:-QUIET_ZONE]]
    assert inside == expected
    assert not any(any(row) for row in (*drawn[:QUIET_ZONE], *drawn[-QUIET_ZONE:]))


def test_another_address_has_another_code():
    assert modules(str(code(ADDRESS))) != modules(str(code(ADDRESS + "x")))


def test_an_address_that_fits_no_code_has_none():
    assert code("http://192.168.1.20/?v=1&own=" + "x" * 3000) is None


def test_nothing_of_the_address_stands_in_the_drawing():
    assert "<b>" not in str(code("http://x/?<b>"))
