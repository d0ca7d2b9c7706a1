"""The notebook is the page: it runs from top to bottom, stores no outputs, and is what a visitor gets at /."""

from __future__ import annotations

import importlib.util
import json
import re

import nbformat
import pytest

from dashboard import places
from dashboard.ripening.model import METHOD as RIPENING_METHOD
from tests.executed import executed
from tests.serving import Served, orchard_slate

NOTEBOOKS = sorted(places.notebooks().glob("*.ipynb"))


@pytest.fixture(params=NOTEBOOKS, ids=lambda path: path.name)
def notebook(request) -> nbformat.NotebookNode:
    return nbformat.read(request.param, as_version=4)


def test_there_is_the_page_s_notebook():
    assert places.notebooks() / "orchard_slate.ipynb" in NOTEBOOKS


def test_a_notebook_stores_no_outputs_and_no_counts(notebook):
    nbformat.validate(notebook)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            assert cell.outputs == []
            assert cell.execution_count is None


def test_a_notebook_defines_nothing_and_knows_no_magic(notebook, request):
    """What is not plain Python cannot be served; what is defined in a notebook cannot be tested. The one to start from shows how a tab
    of one's own is defined."""
    starting = request.node.callspec.params["notebook"].name == places.STARTING
    defined = "class" if starting else "def|class"
    for cell in notebook.cells:
        if cell.cell_type == "code":
            assert not re.search(rf"^\s*({defined}|async|await|%|!)", cell.source, re.MULTILINE)
            assert "await " not in cell.source
            compile(cell.source, "cell", "exec")


def test_a_notebook_explains_itself(notebook):
    prose = "".join(cell.source for cell in notebook.cells if cell.cell_type == "markdown")
    assert len(prose.split()) > 60


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.name)
def test_a_notebook_runs_from_top_to_bottom_in_another_folder(path):
    last = [cell for cell in executed(path).cells if cell.cell_type == "code"][-1]
    shown = json.dumps(last.outputs)
    assert "error" not in {output["output_type"] for output in last.outputs}
    assert "Orchard Slate" in shown or "text/html" in shown or "vnd.holoviews" in shown


def test_the_model_s_notebook_says_how_picking_times_and_shares_of_fruit_are_told(demo):
    """The demo's dates come from the model of dates and its shares from fruit to come: the prose must not say otherwise."""
    assert set(demo.windows["method"]) == {RIPENING_METHOD}
    notebook = nbformat.read(places.notebooks() / "mixed_model.ipynb", as_version=4)
    prose = "".join(cell.source for cell in notebook.cells if cell.cell_type == "markdown")
    (line,) = (line for line in prose.splitlines() if "icking times" in line)
    assert RIPENING_METHOD in line
    assert "still raw averages" not in line
    assert "fruit to come" in line
    assert "counted on measured fruit" not in line


def test_the_documents_make_a_site_with_every_link_whole_that_asks_nobody(tmp_path):
    """Strictly: a link that leads nowhere ends the run. Papers are the notebooks that ran above."""
    site = importlib.util.spec_from_file_location(
        "site_made", places.PACKAGE.parent / "docs" / "web" / "make.py"
    )
    make = importlib.util.module_from_spec(site)
    site.loader.exec_module(make)
    assert set(make.PAPERS) == {path.stem for path in NOTEBOOKS} - {
        "orchard_slate",
        "nursery",
    }  # those are the page
    paths = {path.stem: path for path in NOTEBOOKS}
    assert (
        make.make(
            tmp_path / "site", lambda: {name: make.paper(executed(paths[name])) for name in make.PAPERS}
        )
        == 0
    )
    made = {
        str(path.relative_to(tmp_path / "site")): path.read_text("utf-8")
        for path in (tmp_path / "site").rglob("*.html")
    }
    assert {"index.html", "docs/python.html", "docs/glossary.html", "papers/tour.html"} <= set(made)
    assert made["index.html"].count("papers/") == len(make.PAPERS)
    assert "records.with_table" in made["docs/python.html"]
    asked = re.compile(r"<(?:script|link|img|iframe)\b[^>]*?(?:src|href)=[\"'](?:https?:)?//[^\"']+")
    assert {name: found for name, text in made.items() if (found := asked.findall(text))} == {}
    assert not any(
        "http" in rule
        for path in (tmp_path / "site").rglob("*.css")
        for rule in re.findall(r"url\([^)]*\)", path.read_text("utf-8"))
    )


def test_the_page_is_at_the_root(demo_server: Served):
    with demo_server.opened("/") as answer:
        text = answer.read().decode()
        assert answer.status == 200
    assert "<title>Orchard Slate</title>" in text
    assert re.search(r'name="viewport"', text)


def test_the_page_answers_for_a_link_with_choices(demo_server: Served):
    with demo_server.opened("/?v=1&flesh_colour=white&tab=season") as answer:
        assert answer.status == 200


@pytest.fixture(scope="module")
def demo_server():
    with orchard_slate(places.demo_data()) as server:
        yield server
