"""A button that copies the page's address, or that of another view. It is no line of script sent to the browser: the page's policy runs none."""

from __future__ import annotations

from pathlib import Path

import param

from dashboard.charts import style
from dashboard.page.patches.scripted import Element


class Copying(Element):
    """All in the browser; the server hears nothing of it."""

    label = param.String(default="")
    query = param.String(default="", doc="of the address that is copied; as it stands while empty")

    script = Path(__file__).with_name("copying.js")
    dress = (style.BUTTON_CSS,)
