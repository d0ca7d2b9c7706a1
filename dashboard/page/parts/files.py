"""How files come from the visitor's disk and go there, once for all scripts of the page."""

from __future__ import annotations

import base64
from pathlib import Path

from dashboard.page.patches.scripted import Element


class Files(Element):
    """Nothing to see; without it on the page no file is opened or saved."""

    script = Path(__file__).with_name("files.js")


def content_of(sent: object) -> bytes:
    """What a file holds, as ``window.files.brought`` sends it. ValueError where it did not arrive whole."""
    return base64.b64decode(str(sent), validate=True)
