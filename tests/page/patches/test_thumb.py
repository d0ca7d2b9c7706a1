"""The names inside Bokeh that the script holds are still there; what it does is seen in tests/browser/test_touch.py."""

from __future__ import annotations

from pathlib import Path

import bokeh
import pytest

from dashboard.page.patches.thumb import Thumb

LIBRARY = Path(bokeh.__file__).with_name("server") / "static" / "js" / "bokeh.js"


@pytest.mark.parametrize("name", ["_update_touch_action", "ui_event_bus", "on_pan_start", "on_pan", "on_pan_end", "touch_action", "events_el", "active_drag"])  # fmt: skip
def test_what_it_holds_is_still_there(name):
    assert name in Thumb.script.read_text("utf-8")
    assert name in LIBRARY.read_text("utf-8")
