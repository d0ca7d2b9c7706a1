"""The library's own parts ask for stylesheets; with the hold before them they ask for none, then and later."""

from __future__ import annotations

import panel as pn
import pytest
from bokeh.document import Document
from bokeh.models import ImportedStyleSheet

from dashboard.page.patches.bare import Bare


class Plain(Bare, pn.Column):
    """A column without the library's dress."""


def fetched(root) -> list:
    return [sheet for sheet in root.stylesheets if isinstance(sheet, ImportedStyleSheet)]


@pytest.mark.parametrize(("kind", "asks"), [(pn.Column, True), (Plain, False)])
def test_the_hold_is_needed_and_holds(kind, asks):
    assert bool(fetched(kind().get_root(Document()))) == asks


def test_a_change_of_its_looks_fetches_nothing_either():
    part, document = Plain(), Document()
    root = part.get_root(document)
    document.add_root(root)
    part.param.update(stylesheets=["p { color: red; }"], margin=3)
    assert (root.stylesheets[-1], root.margin) == ("p { color: red; }", 3)
    assert fetched(root) == []
