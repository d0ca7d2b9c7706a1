"""The slate as a picture: a bar where its days are, a cell a day, gaps underlined, and no markup from names."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from dashboard.charts import slate_strip, style
from tests.browser.sets import HOSTILE_NAMES

DAYS = 10
ROW = {"buyer": "", "cells": "0012233333", "told": "8 of 10 days, 8 years in 10", "gaps": [[0, 1, "Jun 1–Jun 2 · 2 days"]]}  # fmt: skip


def bar(name: str = "Alpha", first: float = 2, last: float = 5, look: str = "full", flesh: str = "yellow"):
    return {"name": name, "flesh": flesh, "first": first, "last": last, "look": look, "tip": ""}


def drawn(*bars, rows=(ROW,)) -> ElementTree.Element:
    told = {"heading": f"{len(bars)} on my slate", "days": DAYS, "marks": [[0, "Jun"]], "rows": list(rows), "bars": list(bars)}  # fmt: skip
    markup, width, height = slate_strip.drawing(told)
    root = ElementTree.fromstring(str(markup))
    assert (root.attrib["width"], root.attrib["height"]) == (str(width), str(height))
    return root


def rects(root: ElementTree.Element, **wanted: str) -> list[ElementTree.Element]:
    found = [one for part in root if part.tag != "pattern" for one in part.iter("rect")]
    return [one for one in found if all(one.attrib.get(key) == value for key, value in wanted.items())]


def across(one: ElementTree.Element) -> tuple[float, float]:
    """From which day to before which."""
    day = (slate_strip.WIDTH - slate_strip.NAMES) / DAYS
    left = float(one.attrib["x"]) - slate_strip.NAMES
    return left / day, (left + float(one.attrib["width"])) / day


def test_a_bar_runs_over_its_days_and_stops_at_the_ends_of_the_season():
    root = drawn(bar(first=2, last=5), bar(first=-4, last=1), bar(first=20, last=22))
    shown = [across(one) for one in rects(root, rx="6")]
    assert shown == [pytest.approx((2, 6), abs=0.01), pytest.approx((0, 2), abs=0.01)]
    names = [text.text for text in root.iter("text")]
    assert names.count("Alpha") == 3  # also who is picked outside it


def test_how_it_stands_with_the_buyer_is_told_by_fill_and_line():
    full, hatched, hollow = rects(drawn(bar(look="full"), bar(look="hatched"), bar(look="hollow")), rx="6")
    assert full.attrib["fill"] == style.fill("yellow")
    assert hatched.attrib["fill"] == "url(#may-yellow)"
    assert hollow.attrib["fill"] == style.PAPER
    assert hollow.attrib["stroke-dasharray"] != "none"


def test_each_day_has_its_cell_and_a_gap_its_line():
    root = drawn(bar())
    cells = rects(root, height=str(slate_strip.CELLS))
    looks = {"0": style.BARE, "1": "url(#may)", "2": style.COVERED, "3": style.LEAF}
    assert [one.attrib["fill"] for one in cells] == [looks[day] for day in ROW["cells"]]
    (gap,) = rects(root, fill=style.BARE_EDGE)
    assert across(gap) == pytest.approx((0, 2), abs=0.01)


def test_two_buyers_have_a_row_each_with_its_name():
    root = drawn(bar(), rows=({**ROW, "buyer": "Stand"}, {**ROW, "buyer": "Packer"}))
    tops = [one.attrib["y"] for one in rects(root, height=str(slate_strip.CELLS))]
    assert len(set(tops)) == 2
    assert {"Stand", "Packer"} <= {text.text for text in root.iter("text")}


@pytest.mark.parametrize("name", HOSTILE_NAMES)
def test_a_hostile_name_stays_text(name):
    root = drawn(bar(name=name, flesh=name), rows=({**ROW, "buyer": name, "told": name},))
    assert {part.tag for part in root.iter()} == {"svg", "pattern", "rect", "text"}
    assert any((text.text or "").rstrip("…") == name[: slate_strip.LONGEST - 1] or text.text == name for text in root.iter("text"))  # fmt: skip
