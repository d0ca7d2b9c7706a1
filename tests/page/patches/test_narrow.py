"""A row is as wide as its parts together, and with the hold before it as narrow as it has to be."""

from __future__ import annotations

import panel as pn
import pytest
from bokeh.document import Document

from dashboard.page.patches.narrow import Narrow


class Free(Narrow, pn.Row):
    """A row that goes on in a new line."""


@pytest.mark.parametrize(("kind", "least"), [(pn.Row, 600), (Free, 0)])
def test_the_hold_is_needed_and_holds(kind, least):
    parts = [pn.pane.HTML("told", min_width=300, sizing_mode="stretch_width") for _ in range(2)]
    width = kind(*parts, sizing_mode="stretch_width").get_root(Document()).min_width
    assert (width or 0) >= least
    assert (width or 0) == 0 or least
