"""A picture that a cell of a notebook ends with, shown by Bokeh alone: all that it needs is in the output.

HoloViews would show it within a layout of another library, which looks for its stylesheets on the internet, six a picture; without them
a picture has neither its size nor its words. What moves (a map of pictures, one with streams) is still shown by HoloViews.
"""

from __future__ import annotations

from typing import Any

import holoviews as hv
from bokeh.embed.notebook import notebook_content
from holoviews.core.dimension import LabelledData

MOVES = (hv.HoloMap, hv.DynamicMap)
STILL = (hv.Element, hv.Overlay, hv.NdOverlay, hv.Layout, hv.NdLayout)
Shown = tuple[dict[str, Any], dict[str, Any]]


def shown_by_bokeh() -> None:
    """From now on, in this process. Loading HoloViews' extension anew takes it back, so it is asked for before each picture."""
    hv.Store.set_display_hook("html+js", LabelledData, shown)


def shown(picture: Any) -> Shown | None:
    """What a cell puts out for a picture; None for what is none."""
    if not isinstance(picture, STILL) or picture.traverse(
        lambda part: part, [lambda part: isinstance(part, MOVES)]
    ):
        return _as_usual(picture)
    if isinstance(picture, hv.Element) and type(picture) not in hv.Store.registry["bokeh"]:
        return None
    drawn = hv.renderer("bokeh").get_plot(picture).state
    script, place, _ = notebook_content(drawn)
    return {"text/html": f"{place}\n<script type='text/javascript'>\n{script}\n</script>"}, {}


def _as_usual(picture: Any) -> Shown | None:
    from holoviews.ipython.display_hooks import pprint_display  # with IPython, in a notebook alone

    return pprint_display(picture)
