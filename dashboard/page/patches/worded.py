"""Of a pane of words, only its words are sent when they change.

Seen on: panel 1.9.4.
Mends: Panel dresses the whole pane anew for each change of its text: a quarter of a filter's time here.
Upstream: docs/upstream.md, "A pane's text".
"""

from __future__ import annotations

from typing import Any

import panel as pn

from dashboard.page.patches.bare import Bare


class Words(Bare, pn.pane.HTML):
    """Words on the page; nothing else of it changes once it stands."""

    def _update(self, _ref: str, model: Any) -> None:
        model.update(**self._process_param_change({"object": self.object}))
