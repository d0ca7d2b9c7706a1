"""The package reads from the top down; every rule is also tried on a tree in which it is broken."""

from __future__ import annotations

from pathlib import Path

import pytest

from dashboard.places import PACKAGE
from tests import layering

MOST_ROOMS = 19  # what a newcomer takes in at one look
SOUND = {
    "__init__.py": 'DATA = ("numpy", "pandas")\n'
    'ROOMS = {"units": DATA, "records": DATA, "answers": DATA, "state": ("param",), "page": ("panel",)}\n',
    "units.py": "import math\n",
    "records/__init__.py": "from dashboard.records.reading import x\n",
    "records/reading.py": "import pandas\nfrom dashboard.units import y\nx = 1\n",
    "answers/__init__.py": "",
    "answers/question.py": "from dashboard import units\n",
    "state.py": "import param\nfrom dashboard.answers.question import Question\n",
    "page/__init__.py": "",
    "page/app.py": "from dashboard.page.tabs import ranking\n",
    "page/parts/rows.py": "import panel as pn\n",
    "page/tabs/ranking.py": "from dashboard.page.parts.rows import Rows\nfrom dashboard.state import State\n",
}
# What is planted (file: text, None to take it away), and what must be said of it.
PLANTED = {
    "an unlisted module": ({"extra.py": ""}, "extra is not listed in ROOMS"),
    "an unlisted package": ({"extra/__init__.py": ""}, "extra is not listed in ROOMS"),
    "a listed module that is gone": ({"units.py": None}, "units is listed in ROOMS and is not there"),
    "an import from below": (
        {"units.py": "from dashboard.records import x\n"},
        "units.py imports records, which stands below it",
    ),
    "a module from below": (
        {"answers/question.py": "from dashboard import state\n"},
        "answers/question.py imports state, which stands below it",
    ),
    "a plain import from below": (
        {"answers/question.py": "import dashboard.page.tabs.ranking\n"},
        "answers/question.py imports page, which stands below it",
    ),
    "a relative import from below": (
        {"records/reading.py": "from ..state import State\n"},
        "records/reading.py imports state, which stands below it",
    ),
    "an import from below inside a function": (
        {"records/reading.py": "def f():\n    from dashboard.page.tabs import ranking\n"},
        "records/reading.py imports page, which stands below it",
    ),
    "a step back within the page": (
        {"page/parts/boxes.py": "from dashboard.page.tabs.ranking import x\n"},
        "page/parts/boxes.py imports page.tabs, which stands below it",
    ),
    "the whole page within a part of it": (
        {"page/tabs/season.py": "from dashboard.page import app\n"},
        "page/tabs/season.py imports page.app, which stands below it",
    ),
    "a screen above the line": (
        {"records/reading.py": "import holoviews as hv\n"},
        "records/reading.py imports holoviews, which records may not use",
    ),
    "a part of a screen above the line": (
        {"units.py": "from bokeh.models import Span\n"},
        "units.py imports bokeh, which units may not use",
    ),
    "a page below the line where none belongs": (
        {"state.py": "import panel\n"},
        "state.py imports panel, which state may not use",
    ),
    "an undeclared library in the page": (
        {"page/parts/rows.py": "import requests\n"},
        "page/parts/rows.py imports requests, which page may not use",
    ),
    "a file too long": (
        {"units.py": "x = 1\n" * 301},
        "units.py has 301 lines, at most 300",
    ),
    "a script too long": (
        {"page/parts/rows.js": "let x;\n" * 301},
        "page/parts/rows.js has 301 lines, at most 300",
    ),
    "a name that says nothing": (
        {"records/date_utils.py": ""},
        "records/date_utils.py: date_utils says nothing about what is in it",
    ),
    "a folder that says nothing": (
        {"records/common/x.py": ""},
        "records/common/x.py: common says nothing about what is in it",
    ),
    "a ring inside a room": (
        {
            "records/reading.py": "from dashboard.records.writing import z\n",
            "records/writing.py": "from dashboard.records import reading\n",
        },
        "imports run in a ring: dashboard.records.reading > dashboard.records.writing > dashboard.records.reading",
    ),
}  # fmt: skip


def planted(folder: Path, *changes: dict[str, str | None]) -> Path:
    package = folder / layering.NAME
    for files in (SOUND, *changes):
        for name, text in files.items():
            path = package / name
            path.parent.mkdir(parents=True, exist_ok=True)
            if text is None:
                path.unlink()
            else:
                path.write_text(text, encoding="utf-8")
    return package


def test_the_package_keeps_its_order():
    assert layering.faults(PACKAGE) == []


def test_the_package_shows_its_rooms_and_nothing_else_and_they_are_few():
    shown = {path.stem for path in PACKAGE.iterdir()} - {"__init__", "__main__", "__pycache__"}
    assert shown == set(layering.rooms(PACKAGE))
    assert len(shown) <= MOST_ROOMS


def test_the_upper_half_knows_no_screen_when_it_is_loaded():
    assert layering.screens_loaded(PACKAGE.parent) == []


def test_what_knows_no_screen_stands_first():
    known = layering.rooms(PACKAGE)
    screenless = [name for name, libraries in known.items() if not set(libraries) & set(layering.SCREENS)]
    assert set(list(known)[: list(known).index("visit")]) <= set(screenless)


def test_a_sound_tree_has_no_faults(tmp_path):
    assert layering.faults(planted(tmp_path)) == []


@pytest.mark.parametrize(("change", "sentence"), PLANTED.values(), ids=PLANTED)
def test_a_broken_rule_is_found(tmp_path, change, sentence):
    assert layering.faults(planted(tmp_path, change)) == [sentence]


@pytest.mark.parametrize("library", ["param", "bokeh"])
def test_a_screen_that_comes_in_through_the_back_is_found(tmp_path, library):
    """Brought in by a name in a text, so that reading the source alone would not see it."""
    hidden = f"import importlib\nimportlib.import_module({library!r})\n"
    package = planted(tmp_path, {"units.py": hidden})
    assert layering.faults(package) == []
    assert library in layering.screens_loaded(package.parent)
