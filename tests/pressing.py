"""A press, a tick, a key: what a script in the browser sends to its element, and what it is told, without a browser."""

from __future__ import annotations

import json
from typing import Any

from dashboard.page.patches.scripted import Element


def press(element: Element, message: dict[str, Any] | None = None) -> None:
    """``element`` hears ``message`` as it comes over the wire; a plain button hears nothing in particular."""
    element.heard(json.loads(json.dumps(message or {})))


def told(element: Element) -> Any:
    """What the element was given to show."""
    return json.loads(element.told)  # type: ignore[attr-defined]
