"""The pages are notebooks, and whoever only serves them needs nothing of what opens notebooks by hand."""

from __future__ import annotations

import asyncio
import os
import subprocess
import sys

import pytest

from tests.records.small import tables, write_folder
from tests.serving import Served
from tests.serving.asking import asked
from tests.visitor import visit

NOT_NEEDED = ("IPython", "ipykernel", "jedi", "prompt_toolkit", "notebook", "jupyterlab")


@pytest.fixture
def without(tmp_path, monkeypatch):
    """Every process started from here on is told that these libraries are not installed."""
    absent = tmp_path / "absent"
    absent.mkdir()
    for name in NOT_NEEDED:
        (absent / f"{name}.py").write_text(
            f"raise ModuleNotFoundError('No module named {name}', name='{name}')\n"
        )
    further = os.environ.get("PYTHONPATH", "")
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join([str(absent), further] if further else [str(absent)]))
    for name in NOT_NEEDED:
        tried = subprocess.run([sys.executable, "-c", f"import {name}"], capture_output=True, text=True)
        assert "ModuleNotFoundError" in tried.stderr


@pytest.mark.slow
def test_both_pages_are_served_and_answer_a_choice(without, tmp_path):
    with Served(write_folder(tmp_path / "records", tables())) as server:
        (answer,) = asyncio.run(visit(server.url, ("flesh_colour", ["white"])))
        assert "events" in answer
        assert asked(server.port, "/nursery").status == 200
        assert "Traceback" not in server.said()
