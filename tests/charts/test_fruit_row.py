"""Drawn fruit in a row: one scale, a name and words under each, the circle to compare with at the end."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from dashboard.answers.side_by_side import Fruit
from dashboard.charts import fruit_row
from tests.browser.sets import HOSTILE_NAMES


def fruit(name: str, size: float) -> Fruit:
    return Fruit(name, "yellow", "free", "round", size=size, low=size - 3, high=size + 3, suture=size, cross=size, red=0.5)  # fmt: skip


def test_all_are_to_one_scale_and_stand_apart():
    markup, width, height = fruit_row.drawing((fruit("Small", 50), fruit("Large", 80)), "si")
    root = ElementTree.fromstring(str(markup))
    held = [part for part in root if part.tag == "svg"]
    lefts = [int(part.attrib.get("x", 0)) for part in held]
    assert lefts == [place * (fruit_row.SIDE + fruit_row.GAP) for place in range(3)]
    assert len({part[0].attrib["viewBox"] for part in held}) == 1
    assert width == lefts[-1] + fruit_row.SIDE
    assert max(float(text.attrib["y"]) for text in root.findall("text")) < height
    assert [text.text for text in root.findall("text")][:2] == ["Small", "50.0 by 50.0 mm"]


@pytest.mark.parametrize("name", HOSTILE_NAMES)
def test_a_hostile_name_stays_text(name):
    root = ElementTree.fromstring(str(fruit_row.drawing((fruit(name, 60),), "us")[0]))
    assert {part.tag for part in root.iter()} <= {"svg", "path", "text", "circle"}
    assert root.findall("text")[0].text.rstrip("…") == name[: fruit_row.LONGEST - (len(name) > fruit_row.LONGEST)].rstrip("…")  # fmt: skip
