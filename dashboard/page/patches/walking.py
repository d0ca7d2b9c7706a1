"""Back and forward walk through the choices, pictures come back in a tab shown again, and the page is laid out once for all that
changes at once: mends in the browser, by a script that every page carries.

Seen on: panel 1.9.4, panel-material-ui 0.16.6, bokeh 3.9.2.
Mends: Panel writes the address and does not listen when the browser walks. Bokeh lays out the whole page for each part that changes, four
times for each picture as a page opens, and throws where a picture is measured, or gets its first limit lines, before it was laid out.
Upstream: docs/upstream.md, "Back and forward", "Laid out once", "Measured before it is laid out", "First annotations of a picture".
"""

from __future__ import annotations

from pathlib import Path

from dashboard.page.patches.scripted import Element


class Walking(Element):
    """Nothing to see."""

    script = Path(__file__).with_name("walking.js")
