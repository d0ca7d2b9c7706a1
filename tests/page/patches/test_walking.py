"""The script that mends the page in the browser: what it holds is still there. What it does is seen in tests/browser (address bar, painting, tabs)."""

from __future__ import annotations

from pathlib import Path

import bokeh
import pytest

from dashboard.page.patches.walking import Walking

BOKEH = Path(bokeh.__file__).parent / "server" / "static" / "js" / "bokeh.js"


@pytest.mark.parametrize(
    "name",
    [
        "_measure_layout",
        "_after_layout",
        "_update_layout",
        "_after_resize",
        "all_models",
        "compute_layout",
        "has_finished",
    ],
)
def test_the_library_still_has_what_is_held(name):
    """Red where a name has moved: the script would do nothing, and nobody would know."""
    assert name in Walking.script.read_text(encoding="utf-8")
    assert f"{name}(" in BOKEH.read_text(encoding="utf-8")
