"""TOML from a stranger: read in a time that grows with its size alone, or one sentence's worth of why not."""

from __future__ import annotations

import tomllib
from typing import Any

LARGEST = 120_000  # bytes; what the page sends in one piece, and a hundred times what a market needs
# A key costs the parser the square of its parts, and a key ends with its line; what sets this off takes it half a second.
MOST_DOTTED = 10_000_000  # the squares of every line's full stops, together


class TomlError(ValueError):
    """Why a file is not read: what is said of it, and what to do."""

    def __init__(self, rule: str, suggestion: str) -> None:
        self.rule, self.suggestion = rule, suggestion
        super().__init__(f"{rule}; {suggestion}")


def toml_table(content: bytes) -> dict[str, Any]:
    """What at most LARGEST bytes of a TOML file say; TomlError for what is none, or would take long to read."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise TomlError("is not text in UTF-8", "save it as UTF-8") from None
    dots = [line.count(".") for line in text.split("\n")]
    if sum(count * count for count in dots) > MOST_DOTTED:
        most = max(dots)
        raise TomlError(f"line {dots.index(most) + 1} has {most:,} full stops", "break it into shorter lines")
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as fault:
        said = " ".join(str(fault).split())[:200]
        raise TomlError(f"is not TOML ({said})", "compare with one that the page saved") from None
