"""A page as one file that asks nobody for anything: its scripts as one, and what it knows as JSON beside them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from markupsafe import Markup

# Nothing is fetched from anywhere, and nothing sent.
POLICY = Markup(
    "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data: blob:; base-uri 'none'; form-action 'none'"
)


@cache
def as_one(scripts: tuple[Path, ...]) -> Markup:
    """Scripts as one, each after those it imports from; of an element of the live page what stands before it: a file that is mailed has
    nothing beside it to import from."""
    whole = [place.read_text(encoding="utf-8").partition("export function render(")[0] for place in scripts]
    return Markup(
        "\n".join(line for text in whole for line in text.splitlines() if not line.startswith("import "))
    )


def inside_a_script(known: Mapping) -> Markup:
    """As JSON that no name can break out of."""
    text = json.dumps(known, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return Markup(text)
