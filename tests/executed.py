"""A notebook as a reader runs it: from top to bottom in another folder, once for all tests that look at what came out."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path

import nbclient
import nbformat


@cache
def executed(path: Path) -> nbformat.NotebookNode:
    notebook = nbformat.read(path, as_version=4)
    with tempfile.TemporaryDirectory() as elsewhere:
        nbclient.NotebookClient(
            notebook, timeout=120, kernel_name="python3", resources={"metadata": {"path": elsewhere}}
        ).execute()
    return notebook
