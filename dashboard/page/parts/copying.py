"""A button that copies the page's address. It is no line of script sent to the browser: the page's policy runs none."""

from __future__ import annotations

from pathlib import Path

from panel.custom import JSComponent

from dashboard.charts import style
from dashboard.page.parts.boxes import Bare


class Copying(Bare, JSComponent):
    """All in the browser; the server hears nothing of it."""

    _bundle = _esm = Path(__file__).with_name("copying.js")
    _stylesheets = [style.BUTTON_CSS]  # noqa: RUF012
