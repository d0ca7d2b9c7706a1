"""A picture that a cell ends with asks nobody for anything; HoloViews' own way of showing it does."""

from __future__ import annotations

import re

import holoviews as hv
import pytest

from dashboard.charts import drawing
from dashboard.charts.in_a_cell import shown, shown_by_bokeh

ASKED = re.compile(r"https?://[^\"'\\ ]+\.(?:css|js)")


@pytest.fixture(autouse=True)
def ready():
    drawing.ready()


def asked_for(answer) -> list[str]:
    return ASKED.findall(answer[0]["text/html"])


@pytest.mark.parametrize(
    "made",
    [lambda one: one, lambda one: one * hv.HLine(2), lambda one: one + one],
    ids=["alone", "over", "beside"],
)
def test_it_brings_all_along(made):
    picture = made(hv.Curve([1, 2, 3]))
    assert any(
        "stylesheet" in one or ".css" in one for one in asked_for(hv.renderer("bokeh").components(picture))
    )  # why it is needed
    shown_by_bokeh()
    told = hv.Store.render(picture)
    assert asked_for(told) == []
    assert "Figure" in told[0]["text/html"]


def test_what_is_no_picture_is_none():
    shown_by_bokeh()
    assert shown(hv.Dataset([(1, 2)], "x", "y")) is None  # rows, not drawn
