"""A small drawing is a span whose figures are parts of its axis: cut at its ends, nothing where nothing is known, text as text."""

from __future__ import annotations

import math
import re

import pytest

from dashboard.charts import small

NAN = math.nan


def figures(drawn: str) -> dict[str, float]:
    return {name: float(part) for name, part in re.findall(r"--(\w):([\d.]+)", str(drawn))}


def look(drawn: str) -> str:
    return re.search(r'class="([^"]*)"', str(drawn))[1]


@pytest.mark.parametrize(
    ("value", "low", "high", "expected"),
    [(5, 0, 10, 0.5), (-1, 0, 10, 0), (11, 0, 10, 1), (30, 20, 40, 0.5), (-5, -10, 0, 0.5)],
)
def test_a_part_of_an_axis(value, low, high, expected):
    assert small.part(value, low, high) == expected


@pytest.mark.parametrize(
    "of", [(NAN, 0, 1), (1, NAN, 1), (1, 0, NAN), (1, 1, 1), (1, 2, 1), (1, -math.inf, 1), (1, 0, math.inf)]
)
def test_no_part_of_what_is_not_known_or_of_no_axis(of):
    assert math.isnan(small.part(*of))


def test_a_dot_with_its_interval_and_limits():
    drawn = small.dot(0.43, 0.3, 0.6, least=0.25, most=0.9)
    assert look(drawn) == "drawn dot"
    assert figures(drawn) == {"a": 0.43, "l": 0.3, "h": 0.6, "m": 0.25, "n": 0.9}


def test_what_lies_outside_its_axis_is_cut():
    assert figures(small.dot(1.2, -0.5, 1.9)) == {"a": 1, "l": 0, "h": 1}
    assert figures(small.score_bar(0.9, 0.8, 1.1)) == {"a": 0.9, "l": 0.8, "h": 1}
    assert figures(small.picking_bar(-0.2, 0.1)) == {"l": 0, "h": 0.1}


@pytest.mark.parametrize("ends", [(NAN, NAN), (0.2, NAN), (NAN, 0.4)])
def test_without_both_ends_there_is_no_interval(ends):
    assert figures(small.dot(0.4, *ends)) == {"a": 0.4}
    assert figures(small.score_bar(0.4, *ends)) == {"a": 0.4}


@pytest.mark.parametrize(
    "drawn",
    [
        small.dot(NAN, 0.1, 0.2),
        small.score_bar(NAN, 0.1, 0.2),
        small.picking_bar(NAN, 0.4),
        small.picking_bar(0.4, NAN),
    ],
)
def test_what_is_not_known_is_not_drawn_and_says_so(drawn):
    assert "drawn " not in drawn
    assert "aria-hidden" not in drawn
    assert small.NOT_KNOWN in drawn


def test_what_is_picked_outside_the_selling_days_is_told_by_an_arrow():
    assert look(small.picking_bar(-0.3, -0.1)) == "drawn picking before"
    assert look(small.picking_bar(1.05, 1.2)) == "drawn picking after"
    assert look(small.picking_bar(-0.3, 0.1)) == look(small.picking_bar(0.9, 1.2)) == "drawn picking"


def test_seasons_are_cut_at_the_dots_there_are():
    assert figures(small.drawing("seasons", (0.6,))) == {"a": 0.6}
    assert figures(small.drawing("seasons", (2.0,))) == {"a": 1}


def test_a_reader_of_the_screen_is_given_the_figures_in_words_and_no_drawing():
    told = str(small.beside("2.79", small.dot(0.43, 0.3, 0.6), "2.79 (2.6–2.9) <b>"))
    seen, unseen = re.fullmatch(
        r'<span class="pair" aria-hidden="true">(.*)</span><span class="unseen">(.*)</span>', told
    ).groups()
    assert "drawn dot" in seen
    assert "2.79" in seen
    assert unseen == "2.79 (2.6–2.9) &lt;b&gt;"


def test_gaps_are_one_picture_behind_all():
    """Of 10 days the first two and the sixth: a stretch ends with its last day, not before it."""
    gaps = small.gaps([(5, 5), (0, 1)], 10)
    stops = re.findall(r"(transparent|#\w+) ([\d.]+)%(?: ([\d.]+)%)?", gaps)
    pale = [(float(start), float(end)) for color, start, end in stops if color == small.style.GAP]
    assert pale == [(0, 20), (50, 60)]
    assert small.gaps([], 10) == "none"


def test_gaps_outside_the_axis_are_not_drawn():
    assert small.gaps([(12, 15), (-4, -2)], 10) == "none"
    assert "90% 100%" in small.gaps([(9, 30)], 10)


def test_the_sheet_draws_every_look():
    for drawn in (small.dot(0.1, 0, 0.2), small.score_bar(0.1, 0, 0.2), small.picking_bar(0.1, 0.2), small.picking_bar(-2, -1),
                  small.picking_bar(2, 3), small.drawing("seasons", (0.4,))):  # fmt: skip
        for word in look(drawn).split():
            assert f".{word}" in small.DRAWN_CSS
