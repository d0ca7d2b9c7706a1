"""The package uses the public names of its libraries; what holds on to their inner parts stands in one room and says why."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from dashboard.places import PACKAGE
from tests import inner_names

ROOT = PACKAGE.parent
ROOM = PACKAGE / inner_names.ROOM
HOLDS = sorted((*ROOM.glob("[!_]*.py"),))
SAID = re.compile(r"\nSeen on: (.+)\.\nMends: .+?\nUpstream: docs/upstream\.md, (.+?)\.\n", re.DOTALL)
# A line somebody may write, and what must be said of it.
PLANTED = {
    "an inner part is read": ("import panel as pn\nx = pn.state._views\n", "_views is an inner part"),
    "an inner part is asked for by a text": ("x = getattr(object(), '_callbacks', None)\n", "_callbacks is an inner part"),
    "an inner part is written past it": ("vars(object)['_models'] = {}\n", "_models is an inner part"),
    "a method of a library's class is replaced": (
        "from tornado.web import StaticFileHandler as Files\nFiles.get_content = None\n",
        "Files.get_content is replaced",
    ),
    "a part of a library's module is replaced": (
        "import bokeh.server.server\nbokeh.server.server.Server = None\n",
        "bokeh.server.server.Server is replaced",
    ),
    "a library's list is filled anew": (
        "from bokeh.server.urls import toplevel_patterns\ntoplevel_patterns[:] = []\n",
        "toplevel_patterns[:] is replaced",
    ),
    "an inner method is taken over": (
        "import panel as pn\nclass Own(pn.Column):\n    def _get_properties(self, doc):\n        return {}\n",
        "Own takes the place of Reactive._get_properties",
    ),
    "an inner attribute is taken over": (
        "from panel.custom import JSComponent\nclass Own(JSComponent):\n    _esm = ''\n",
        "Own takes the place of ReactiveESM._esm",
    ),
}  # fmt: skip
FREE = """
import os
from typing import NamedTuple
import panel as pn
pn.config.exception_handler = print
class Own(NamedTuple):
    at: int = 0
class Part(pn.Column):
    def __init__(self):
        super().__init__()
        self._own = Own()._replace(at=1)._fields
print(Part()._own, f"{1}_low")
"""


def planted(folder: Path, monkeypatch, text: str, name: str) -> list[str]:
    package = folder / name
    package.mkdir()
    for file, words in (("__init__.py", ""), ("part.py", text)):
        (package / file).write_text(words, encoding="utf-8")
    monkeypatch.syspath_prepend(folder)
    return inner_names.faults(package)


def test_inner_parts_are_held_in_one_room_alone():
    assert inner_names.faults(PACKAGE) == []


@pytest.mark.parametrize("what", PLANTED)
def test_a_hold_elsewhere_is_found(tmp_path, monkeypatch, what):
    text, sentence = PLANTED[what]
    name = "planted_" + "_".join(re.findall("[a-z]+", what))
    assert planted(tmp_path, monkeypatch, text, name) == [f"part.py: {sentence}"]


def test_a_script_that_reaches_into_a_picture_is_found(tmp_path):
    (tmp_path / "part.js").write_text(
        "plot._after_layout();\nPlot.prototype.paint = null;\n", encoding="utf-8"
    )
    assert inner_names.faults(tmp_path) == [
        "part.js: ._after_layout is an inner part",
        "part.js: .prototype is an inner part",
    ]


def test_what_is_public_or_one_s_own_is_free(tmp_path, monkeypatch):
    assert planted(tmp_path, monkeypatch, FREE, "planted_free") == []


@pytest.mark.parametrize("hold", HOLDS, ids=lambda hold: hold.stem)
def test_each_hold_says_where_it_was_seen_what_it_mends_and_what_upstream_is_told(hold):
    said = SAID.search(hold.read_text(encoding="utf-8"))
    assert said, f"{hold.name}: its first words do not say so"
    assert re.search(r"\d+\.\d+", said[1])
    headings = re.findall(
        r"^## (.+)$", (ROOT / "docs" / "upstream.md").read_text(encoding="utf-8"), re.MULTILINE
    )
    named = re.findall(r'"([^"]+)"', said[2].replace("\n", " "))
    assert named
    assert set(named) <= set(headings)


@pytest.mark.parametrize("hold", HOLDS, ids=lambda hold: hold.stem)
def test_each_hold_has_its_test(hold):
    assert (ROOT / "tests" / "page" / "patches" / f"test_{hold.stem}.py").is_file()
