"""Where the demo data, the pages and the market profiles lie: in a checkout, or inside the installed package."""

from __future__ import annotations

from pathlib import Path

PACKAGE = Path(__file__).resolve().parent
MARKETS = PACKAGE / "markets"


def _beside_or_inside(name: str) -> Path:
    """``name`` beside the package (a checkout) or inside it (an installed wheel)."""
    beside = PACKAGE.parent / name
    return beside if beside.is_dir() else PACKAGE / name


def demo_data() -> Path:
    return _beside_or_inside("demo_data")


def notebooks() -> Path:
    return _beside_or_inside("notebooks")
