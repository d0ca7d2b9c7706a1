"""The package reads from the top down; every rule is also tried on a tree in which it is broken."""

from __future__ import annotations

from pathlib import Path

import pytest

from dashboard.places import PACKAGE
from tests import layering

SOUND = {
    "__init__.py": 'LAYERS = ("units", "records", "comparison", "state", "views")\n'
    'SCREENLESS = ("units", "records", "comparison")\n',
    "units.py": "import math\n",
    "records/__init__.py": "from dashboard.records.reading import x\n",
    "records/reading.py": "import pandas\nfrom dashboard.units import y\nx = 1\n",
    "comparison.py": "from dashboard import units\n",
    "state.py": "import param\nfrom dashboard.comparison import Comparison\n",
    "views/__init__.py": "",
    "views/ranking.py": "import panel as pn\nfrom dashboard.state import State\n",
}
# What is planted (file: text, None to take it away), and what must be said of it.
PLANTED = {
    "an unlisted module": ({"extra.py": ""}, "extra is not listed in LAYERS"),
    "an unlisted package": ({"extra/__init__.py": ""}, "extra is not listed in LAYERS"),
    "a listed module that is gone": ({"units.py": None}, "units is listed in LAYERS and is not there"),
    "a layer listed twice": (
        {"__init__.py": SOUND["__init__.py"].replace('"views")', '"views", "views")')},
        "views is listed twice in LAYERS",
    ),
    "a line drawn elsewhere": (
        {"__init__.py": SOUND["__init__.py"].replace('"records", "comparison")\n', '"comparison")\n')},
        "SCREENLESS is not the upper part of LAYERS",
    ),
    "an import from below": (
        {"units.py": "from dashboard.records import x\n"},
        "units.py imports records, which stands below it",
    ),
    "a module from below": (
        {"comparison.py": "from dashboard import state\n"},
        "comparison.py imports state, which stands below it",
    ),
    "a plain import from below": (
        {"comparison.py": "import dashboard.views.ranking\n"},
        "comparison.py imports views, which stands below it",
    ),
    "a relative import from below": (
        {"records/reading.py": "from ..state import State\n"},
        "records/reading.py imports state, which stands below it",
    ),
    "an import from below inside a function": (
        {"records/reading.py": "def f():\n    from dashboard.views import ranking\n"},
        "records/reading.py imports views, which stands below it",
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
    "an undeclared library in a view": (
        {"views/ranking.py": "import requests\n"},
        "views/ranking.py imports requests, which views may not use",
    ),
    "a file too long": (
        {"units.py": "x = 1\n" * 301},
        "units.py has 301 lines, at most 300",
    ),
    "a script too long": (
        {"views/rows.js": "let x;\n" * 301},
        "views/rows.js has 301 lines, at most 300",
    ),
    "a name that says nothing": (
        {"records/date_utils.py": ""},
        "records/date_utils.py: date_utils says nothing about what is in it",
    ),
    "a folder that says nothing": (
        {"views/common/x.py": ""},
        "views/common/x.py: common says nothing about what is in it",
    ),
    "a ring inside a layer": (
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


def test_the_upper_half_knows_no_screen_when_it_is_loaded():
    assert layering.screens_loaded(PACKAGE.parent) == []


def test_every_layer_below_the_line_says_what_it_may_use():
    known = layering.order(PACKAGE)
    assert set(layering.BELOW) == set(known["LAYERS"]) - set(known["SCREENLESS"])


def test_a_sound_tree_has_no_faults(tmp_path):
    assert layering.faults(planted(tmp_path)) == []


@pytest.mark.parametrize(("change", "sentence"), PLANTED.values(), ids=PLANTED)
def test_a_broken_rule_is_found(tmp_path, change, sentence):
    assert layering.faults(planted(tmp_path, change)) == [sentence]


@pytest.mark.parametrize("library", ["param", "bokeh"])
def test_a_screen_that_comes_in_through_the_back_is_found(tmp_path, library):
    """Brought in by a name in a text, so that reading the source alone would not see it."""
    hidden = f"import importlib\nimportlib.import_module({library!r})\n"
    package = planted(tmp_path, {"comparison.py": "from dashboard import units\n", "units.py": hidden})
    assert layering.faults(package) == []
    assert library in layering.screens_loaded(package.parent)
