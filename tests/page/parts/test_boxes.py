"""The page's boxes and words fetch no stylesheets, and of what changes no more is sent than that."""

from __future__ import annotations

import pytest
from bokeh.document import Document
from bokeh.models import ImportedStyleSheet
from markupsafe import Markup

from dashboard.charts import style
from dashboard.page.app import page
from dashboard.page.parts.boxes import Column, Row, Wrapped
from dashboard.page.parts.elements import Prose, RowTable
from tests.page.conftest import Watched

SAID = Markup("<p>told</p>")


def test_of_the_whole_page_only_the_shell_fetches_stylesheets():
    root = page().get_root()
    fetched = {
        type(model).__name__
        for model in root.references()
        for sheet in getattr(model, "stylesheets", ())
        if isinstance(sheet, ImportedStyleSheet)
    }
    assert fetched <= {"ReactComponent", "Page1"}


@pytest.mark.parametrize("box", [Column, Row, Wrapped])
def test_the_looks_given_to_a_part_come_along(box):
    mine = ":host { color: red; }"
    root = box(Prose(SAID), stylesheets=[mine]).get_root(Document())
    assert mine in root.stylesheets
    assert style.PROSE_CSS in root.children[0].stylesheets
    assert not any(isinstance(sheet, ImportedStyleSheet) for sheet in root.stylesheets)


def test_parts_that_go_on_in_a_new_line_do_not_widen_the_page():
    parts = [Prose(SAID, min_width=300) for _ in range(3)]
    assert Row(*parts).get_root(Document()).min_width >= 900
    assert Wrapped(*parts).get_root(Document()).min_width == 0


def test_new_words_are_sent_alone_and_as_they_were_at_first():
    prose, other = Prose(SAID), Prose(Markup("<b>&amp; more</b>"))
    watched = Watched(Column(prose, other))
    first = watched.document.roots[0].children[1].text
    assert watched.kinds(lambda: prose.say(Markup("<b>&amp; more</b>"))) == {"words"}
    assert watched.document.roots[0].children[0].text == first


def test_a_table_told_anew_sends_nothing_of_its_looks():
    table = RowTable(lambda *_: None)
    watched = Watched(Column(table))
    assert watched.kinds(lambda: table.tell({"columns": [], "rows": [], "empty": "None."})) == {"table"}
