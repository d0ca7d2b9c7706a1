"""A drawn fruit is to scale, says in words what it shows, and lets no name from the records into the page as markup."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from dashboard.answers.side_by_side import Fruit
from dashboard.charts import fruit as drawn
from dashboard.charts import style
from dashboard.terms.traits import CLASSES, UNKNOWN
from tests.browser.sets import HOSTILE_NAMES

USUAL = Fruit("Briskwell", "yellow", "free", "round", 66.0, 62.0, 70.0, 64.68, 67.32, 0.6)
UNMEASURED = Fruit("Unpicked", "yellow", "free", "round")


def parts(fruit: Fruit, units: str = "us", side: float = 101.6) -> list[ElementTree.Element]:
    """The paths of a drawing, in the order in which they are drawn."""
    return list(ElementTree.fromstring(str(drawn.drawing(fruit, units, side))).iter("path"))


def half_axes(path: ElementTree.Element) -> tuple[float, float]:
    """Across and down, of a way that is one ellipse."""
    found = re.match(r"^M([\d.]+) 0A([\d.]+) ([\d.]+) ", path.attrib["d"])
    assert found
    return float(found[2]), float(found[3])


def filled(paths: list[ElementTree.Element], colour: str) -> list[ElementTree.Element]:
    return [path for path in paths if path.attrib["fill"] == colour]


def test_the_outline_has_the_measured_diameters_the_suture_upright():
    (flesh,) = filled(parts(USUAL), style.fill("yellow"))
    across, down = half_axes(flesh)
    assert (2 * across, 2 * down) == pytest.approx((67.32, 64.68), abs=0.02)


def test_the_dashed_circle_is_two_and_a_half_inches_in_either_unit():
    """63.5 mm: exact, 2.5 times 25.4."""
    for units in ("us", "si"):
        for fruit in (USUAL, UNMEASURED):
            (circle,) = [p for p in parts(fruit, units) if p.attrib.get("stroke-dasharray") == "3 3"]
            assert half_axes(circle) == (31.75, 31.75)


@pytest.mark.parametrize(("units", "step"), [("us", 25.4), ("si", 10.0)])
def test_the_grid_has_squares_of_an_inch_or_ten_millimetres_in_a_whole_number(units, step):
    side = drawn.span([USUAL], units)
    assert side / step == pytest.approx(round(side / step))
    lines = [float(x) for x in re.findall(r"M(-?[\d.]+) -[\d.]+V", parts(USUAL, units, side)[0].attrib["d"])]
    assert lines[0] == pytest.approx(-side / 2, abs=0.01)
    assert [b - a for a, b in pairwise(lines)] == pytest.approx([step] * (len(lines) - 1), abs=0.02)
    picture = ElementTree.fromstring(str(drawn.drawing(USUAL, units, side)))
    assert [float(n) for n in picture.attrib["viewBox"].split()] == pytest.approx(
        [-side / 2, -side / 2, side, side], abs=0.01
    )


def test_every_drawing_of_a_row_has_room_for_the_largest_with_its_doubt():
    huge = replace(USUAL, size=90.0, low=80.0, high=100.0, suture=90.0, cross=90.0)
    side = drawn.span([USUAL, huge, UNMEASURED], "si")
    assert 100.0 < side <= 120.0
    assert drawn.span([UNMEASURED], "si") == 70.0  # the circle of 63.5 and a little room
    assert drawn.span([replace(USUAL, low=float("nan"), high=float("nan"))], "us") == pytest.approx(76.2)


def test_the_pale_ring_runs_from_the_low_to_the_high_end_of_the_size():
    edges = [path for path in parts(USUAL) if path.attrib.get("stroke-dasharray") == "0.1 1.5"]
    diameters = [sum(half_axes(path)) for path in edges]  # the mean of both diameters
    assert diameters == pytest.approx([62.0, 70.0], abs=0.05)
    unsure = replace(USUAL, low=float("nan"), high=float("nan"))
    assert not [path for path in parts(unsure) if path.attrib.get("stroke-dasharray") == "0.1 1.5"]


@pytest.mark.parametrize("red", [0.0, 0.1, 0.6, 1.0])
def test_as_much_of_the_ring_is_red_as_of_the_skin(red):
    ring = [path for path in parts(replace(USUAL, red=red)) if path.attrib["stroke"] == style.RED_SKIN]
    assert len(ring) == (1 if red else 0)
    for path in ring:
        assert path.attrib["pathLength"] == "100"
        nothing, before, share, after = map(float, path.attrib["stroke-dasharray"].split())
        assert (nothing, share, after) == (0, pytest.approx(100 * red), 100)
        assert before + share / 2 == pytest.approx(50)  # about the middle of the way


def test_a_skin_that_was_not_rated_has_no_red_and_says_so():
    unrated = replace(USUAL, red=float("nan"))
    assert not [path for path in parts(unrated) if path.attrib["stroke"] == style.RED_SKIN]
    assert "red skin not rated" in drawn.words(unrated)


def test_the_gap_round_the_stone_tells_how_it_holds():
    drawings = {
        stone: str(drawn.drawing(replace(USUAL, stone=stone), "us", 101.6))
        for stone in (*CLASSES["stone"][1], UNKNOWN)
    }
    assert len(set(drawings.values())) == len(drawings)
    gaps = {stone: len(filled(parts(replace(USUAL, stone=stone)), style.PAPER)) for stone in drawings}
    assert gaps == {"free": 1, "semi-free": 1, "cling": 0, UNKNOWN: 0}
    free, half = (
        filled(parts(replace(USUAL, stone=stone)), style.PAPER)[0].attrib["d"]
        for stone in ("free", "semi-free")
    )
    assert free.count("A") == 2  # all the way round
    assert half.count("A") == 1
    assert "?" in drawings[UNKNOWN]


def test_no_two_flesh_colours_differ_in_colour_alone():
    """Without its colours each drawing is still another one, or its fill is of another lightness; words say it anyway."""
    bare = {}
    for flesh in (*CLASSES["flesh_colour"][1], UNKNOWN):
        markup = str(drawn.drawing(replace(USUAL, flesh_colour=flesh), "us", 101.6))
        bare[flesh] = re.sub(r"#[0-9a-f]{6}|aria-label=\"[^\"]*\"", "", markup)
    assert len({bare["red"], bare[UNKNOWN], bare["yellow"]}) == 3
    assert style.fill("white") == style.PAPER  # against yellow: the lightest there is


def test_a_flat_fruit_bears_a_sign_and_the_word():
    flat = replace(USUAL, shape_type="flat")
    assert len(parts(flat)) == len(parts(USUAL)) + 1
    assert drawn.words(flat)[-1] == "flat"
    outlines = [half_axes(filled(parts(one), style.fill("yellow"))[0]) for one in (flat, USUAL)]
    assert outlines[0] == outlines[1]  # cut across; no height is made up


def test_the_words_say_what_the_drawing_shows():
    assert drawn.words(USUAL) == ["yellow flesh", "freestone", "about 60\u00a0% red"]
    assert drawn.diameters_told(USUAL, "us") == "2.55 by 2.65 in"
    assert drawn.diameters_told(USUAL, "si") == "64.7 by 67.3 mm"
    said = drawn.sentence(USUAL, "us")
    assert "likely range of its average size (90 %): 2.44 to 2.76 in" in said
    assert "larger than the circle" in said
    assert "smaller than the circle" in drawn.sentence(replace(USUAL, size=60.0), "us")
    assert drawn.sentence(UNMEASURED, "us").startswith("size not measured; yellow flesh")


@pytest.mark.parametrize("name", HOSTILE_NAMES)
@pytest.mark.parametrize("units", ["us", "si"])
def test_a_name_stays_text(name, units):
    for fruit in (replace(USUAL, name=name), replace(UNMEASURED, name=name, flesh_colour=name, stone=name)):
        markup = str(drawn.drawing(fruit, units, 101.6))
        picture = ElementTree.fromstring(markup)  # one element, nothing opened by a name
        assert {part.tag for part in picture.iter()} <= {"svg", "path", "text"}
        assert all(set(part.attrib) <= KNOWN for part in picture.iter())
        assert picture.attrib["role"] == "img"
        assert picture.attrib["aria-label"].startswith(name)


KNOWN = {
    "class", "role", "aria-label", "aria-hidden", "viewBox", "d", "fill", "stroke", "stroke-width", "stroke-dasharray",
    "stroke-dashoffset", "stroke-linecap", "fill-rule", "pathLength", "transform", "x", "y", "text-anchor", "font-size",
}  # fmt: skip


def test_the_circle_alone_is_labelled():
    for units, words in (("us", "2½ in"), ("si", "63.5 mm")):
        picture = ElementTree.fromstring(str(drawn.reference(units, 101.6)))
        assert words in "".join(picture.itertext())
        assert words in picture.attrib["aria-label"]
