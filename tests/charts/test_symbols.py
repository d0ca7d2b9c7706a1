"""The marks of a legend are those of the pictures."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from dashboard.charts import style
from dashboard.charts.symbols import swatch, symbol
from dashboard.wording.legend import MARKS


@pytest.mark.parametrize("look", [look for look, _ in MARKS])
def test_each_has_a_drawing_of_its_own(look):
    drawn = [str(symbol(other)) for other, _ in MARKS]
    assert drawn.count(str(symbol(look))) == 1
    assert list(ElementTree.fromstring(f"<svg>{symbol(look)}</svg>"))


@pytest.mark.parametrize("flesh", ["yellow", "white", "red", "unknown"])
def test_flesh_is_told_by_its_fill_and_by_what_is_in_the_mark(flesh):
    outline, *within = ElementTree.fromstring(f"<svg>{symbol(f'mark {flesh} round')}</svg>")
    assert outline.attrib["fill"] == style.fill(flesh)
    assert outline.tag == "circle"
    assert bool(within) == (flesh != "yellow")


def test_a_swatch_is_its_colour():
    assert ElementTree.fromstring(str(swatch("#123456"))).attrib["fill"] == "#123456"
