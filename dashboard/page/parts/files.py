"""How files come from the visitor's disk and go there, once for all scripts of the page."""

from __future__ import annotations

from pathlib import Path

from dashboard.page.patches.scripted import Element


class Files(Element):
    """Nothing to see; without it on the page no file is opened or saved."""

    script = Path(__file__).with_name("files.js")
