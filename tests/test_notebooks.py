"""What is written in the notebooks: no outputs, plain Python, prose. They are run in ``tests/browser/test_notebooks.py``."""

from __future__ import annotations

import re

import nbformat
import pytest

from dashboard import places
from dashboard.ripening.model import METHOD as RIPENING_METHOD

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
