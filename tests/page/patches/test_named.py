"""A layout's role and name are the element's own in the browser."""

from __future__ import annotations

import panel as pn
from bokeh.document import Document

from dashboard.page.patches.named import Named


class Part(Named, pn.Column):
    """A column with a name."""


def test_role_and_name_reach_the_browser():
    part = Part("words", role="tabpanel", told="By class", margin=4)
    root = part.get_root(Document())
    assert root.html_attributes == {"role": "tabpanel", "aria-label": "By class"}
    assert (part.told, root.margin, len(root.children)) == ("By class", 4, 1)
