"""Importing the package loads nothing; a question needs no screen."""

from __future__ import annotations

import subprocess
import sys

import pytest

import dashboard
from dashboard.places import PACKAGE

HEAVY = ("panel", "panel_material_ui", "holoviews", "bokeh", "param", "pandas", "numpy")


def loaded(code: str) -> set[str]:
    """Which of ``HEAVY`` a fresh process has loaded after ``code``."""
    told = f"{code}\nimport sys; print(*(name for name in {HEAVY!r} if name in sys.modules))"
    done = subprocess.run(
        [sys.executable, "-c", told], cwd=PACKAGE.parent, capture_output=True, text=True, check=True
    )
    return set(done.stdout.split())


def test_importing_the_package_loads_nothing():
    assert loaded("import dashboard; dir(dashboard)") == set()


def test_a_question_and_its_answer_load_no_screen():
    assert loaded("from dashboard import Asked, Records, Table, load") == {"pandas", "numpy"}


def test_the_face_is_all_there_and_nothing_else():
    assert set(dashboard.__all__) == set(dashboard._FACE)
    for name in dashboard.__all__:
        assert getattr(dashboard, name).__name__ == name
    assert set(dashboard.__all__) <= set(dir(dashboard))
    with pytest.raises(AttributeError, match="no attribute 'loud'"):
        dashboard.loud  # noqa: B018
