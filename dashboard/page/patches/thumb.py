"""A thumb that begins on a picture scrolls the page, and a mouse draws boxes round marks, whatever the device calls itself.

Seen on: panel 1.9.4, bokeh 3.9.2.
Mends: Bokeh takes every drag on a picture, of a thumb too, while a tool for drags is active; which one it is cannot be told by the kind of
pointer.
Upstream: docs/upstream.md, "Drags of a thumb".
"""

from __future__ import annotations

from pathlib import Path

from dashboard.page.patches.scripted import Element


class Thumb(Element):
    """Nothing to see."""

    script = Path(__file__).with_name("thumb.js")

    def __init__(self, **params):
        super().__init__(**{"margin": 0, **params})
