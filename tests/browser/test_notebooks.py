"""A notebook as a reader runs it: from top to bottom in another folder. It then draws its pictures in a room without internet, since everything
it needs is in its outputs, and makes a site of papers; served, it is the page. In one file, so that each is run once."""

from __future__ import annotations

import importlib.util
import io
import json
import re
import tempfile
from functools import cache

import nbclient
import nbformat
import pytest
from nbconvert import HTMLExporter
from PIL import Image
from playwright.sync_api import Browser, expect

from dashboard import places
from tests.browser.pages import DESK, PATIENCE
from tests.serving import Served

# By notebook: how many pictures it draws; of the page the list stands first.
PICTURES = {"orchard_slate": 0, "nursery": 1, "tour": 4, "mixed_model": 3, "own_page": 0}
# The page's own is for each day.
NAMES = [pytest.param(name, marks=() if name == "orchard_slate" else pytest.mark.slow) for name in PICTURES]
_FIGURES = """() => (window.Bokeh?.documents ?? []).flatMap(one => [...one._all_models.values()])
  .filter(model => model.type === "Figure").length"""
_CANVASES = """() => {
  const within = root => [...root.querySelectorAll("*")].flatMap(
    at => [...(at.tagName === "CANVAS" && at.width > 0 ? [at] : []), ...(at.shadowRoot ? within(at.shadowRoot) : [])]);
  return within(document).length;
}"""


@cache
def executed(name: str) -> nbformat.NotebookNode:
    notebook = nbformat.read(places.notebooks() / f"{name}.ipynb", as_version=4)
    with tempfile.TemporaryDirectory() as elsewhere:
        nbclient.NotebookClient(
            notebook, timeout=120, kernel_name="python3", resources={"metadata": {"path": elsewhere}}
        ).execute()
    return notebook


def test_every_notebook_is_looked_at():
    assert {path.stem for path in places.notebooks().glob("*.ipynb")} == set(PICTURES)


@pytest.mark.parametrize("name", NAMES)
def test_it_runs_from_top_to_bottom_in_another_folder(name):
    last = [cell for cell in executed(name).cells if cell.cell_type == "code"][-1]
    shown = json.dumps(last.outputs)
    assert "error" not in {output["output_type"] for output in last.outputs}
    assert "Orchard Slate" in shown or "text/html" in shown or "vnd.holoviews" in shown


@pytest.mark.parametrize("name", NAMES)
def test_it_draws_without_asking_anybody(name, chromium: Browser, tmp_path):
    # The exporter's own two libraries, for formulas and old widgets, come from the internet; Jupyter brings its own.
    exporter = HTMLExporter(require_js_url="", mathjax_url="")
    place = tmp_path / f"{name}.html"
    place.write_text(exporter.from_notebook_node(executed(name))[0], encoding="utf-8")

    context = chromium.new_context(viewport=DESK)
    outside: list[str] = []
    context.route(re.compile("^https?:"), lambda route: route.abort())
    page = context.new_page()
    page.on(
        "request", lambda request: outside.append(request.url) if request.url.startswith("http") else None
    )
    page.goto(place.as_uri())
    if name in ("orchard_slate", "own_page"):
        expect(page.locator("table.listed tbody tr").first).to_be_visible()
    page.wait_for_function(
        f"({_FIGURES})() >= {PICTURES[name]} && ({_CANVASES})() >= {PICTURES[name]}", timeout=PATIENCE
    )
    page.wait_for_timeout(1000)  # what is drawn may still want a style sheet
    photograph = Image.open(io.BytesIO(page.screenshot(full_page=True)))
    assert photograph.height > DESK["height"]
    assert (
        len(photograph.convert("RGB").getcolors(photograph.width * photograph.height)) > 200
    )  # text and pictures, not an empty page
    context.close()
    assert outside == []


@pytest.mark.slow
def test_the_documents_make_a_site_with_every_link_whole_that_asks_nobody(tmp_path):
    """Strictly: a link that leads nowhere ends the run. Papers are the notebooks that ran above."""
    site = importlib.util.spec_from_file_location(
        "site_made", places.PACKAGE.parent / "docs" / "web" / "make.py"
    )
    make = importlib.util.module_from_spec(site)
    site.loader.exec_module(make)
    assert set(make.PAPERS) == set(PICTURES) - {
        "orchard_slate",
        "nursery",
    }  # those are the page
    assert (
        make.make(tmp_path / "site", lambda: {name: make.paper(executed(name)) for name in make.PAPERS}) == 0
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


@pytest.mark.slow
def test_the_page_is_at_the_root(demo_site: Served):
    with demo_site.opened("/") as answer:
        text = answer.read().decode()
        assert answer.status == 200
    assert "<title>Orchard Slate</title>" in text
    assert re.search(r'name="viewport"', text)


@pytest.mark.slow
def test_the_page_answers_for_a_link_with_choices(demo_site: Served):
    with demo_site.opened("/?v=1&flesh_colour=white&tab=season") as answer:
        assert answer.status == 200
