"""A notebook that was run draws its pictures in a room without internet: everything it needs is in its outputs."""

from __future__ import annotations

import io
import re

import pytest
from nbconvert import HTMLExporter
from PIL import Image
from playwright.sync_api import Browser, expect

from dashboard import places
from tests.browser.pages import DESK, PATIENCE
from tests.executed import executed

# By notebook: how many pictures it draws; of the page the list stands first.
PICTURES = {"orchard_slate": 0, "nursery": 1, "tour": 4, "mixed_model": 3, "own_page": 0}
_FIGURES = """() => (window.Bokeh?.documents ?? []).flatMap(one => [...one._all_models.values()])
  .filter(model => model.type === "Figure").length"""
_CANVASES = """() => {
  const within = root => [...root.querySelectorAll("*")].flatMap(
    at => [...(at.tagName === "CANVAS" && at.width > 0 ? [at] : []), ...(at.shadowRoot ? within(at.shadowRoot) : [])]);
  return within(document).length;
}"""


def test_every_notebook_is_looked_at():
    assert {path.stem for path in places.notebooks().glob("*.ipynb")} == set(PICTURES)


@pytest.mark.parametrize("name", PICTURES)
def test_it_draws_without_asking_anybody(name, chromium: Browser, tmp_path):
    # The exporter's own two libraries, for formulas and old widgets, come from the internet; Jupyter brings its own.
    exporter = HTMLExporter(require_js_url="", mathjax_url="")
    place = tmp_path / f"{name}.html"
    place.write_text(
        exporter.from_notebook_node(executed(places.notebooks() / f"{name}.ipynb"))[0], encoding="utf-8"
    )

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
