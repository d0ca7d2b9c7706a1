"""The histograms of one among all: columns as high as their counts, the dot where its value lies, and one picture of it all."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from dashboard.answers.among import among
from dashboard.charts.among import TALL, columns, drawing, spread


def test_a_column_is_as_high_as_its_count():
    assert columns([2, 0, 4]) == f"M0 {TALL}v-9h.9V{TALL}zM2 {TALL}v-18h.9V{TALL}z"
    assert columns([0, 0]) == ""


def test_the_dot_lies_on_the_axis_of_the_histogram(demo):
    for one in among(demo.values, "Sibbrel"):
        low, high = one.span
        (at,) = re.findall(r"--a:([\d.]+)", str(spread(one)))
        assert abs(float(at) - (one.value - low) / (high - low)) < 0.001


def test_the_picture_has_a_line_for_each_trait_and_is_well_formed(demo):
    rows = among(demo.values, "Sibbrel")
    markup, width, height = drawing(rows, "us")
    whole = ElementTree.fromstring(str(markup))
    assert (whole.get("width"), whole.get("height")) == (str(width), str(height))
    assert len(whole.findall("circle")) == len(rows) > 5
    words = {text.text for text in whole.iter("text")}
    assert "larger than 86 %" in words
