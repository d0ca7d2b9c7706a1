"""Exact factors between the units people write and the ones we compute with (mm, N, degrees C, kg).

Inch, pound and pound-force are exact by definition (international yard and pound, 1959; standard
gravity 9.80665 m/s2, 3rd CGPM 1901); kilogram-force likewise. Fahrenheit is exact: C = (F - 32) / 1.8.
"""

from __future__ import annotations

from dataclasses import dataclass

MM_PER_INCH = 25.4
KG_PER_POUND = 0.45359237
N_PER_KGF = 9.80665
N_PER_LBF = KG_PER_POUND * N_PER_KGF

SYSTEMS = ("us", "si")


@dataclass(frozen=True)
class Unit:
    """A way to write a quantity: ``si = (written - offset) * factor``."""

    suffix: str  # in column names: suture_mm
    symbol: str  # on the screen: mm
    factor: float
    offset: float = 0.0

    def to_si(self, written):
        return (written - self.offset) * self.factor

    def from_si(self, si):
        return si / self.factor + self.offset


UNITS = {
    unit.suffix: unit
    for unit in (
        Unit("mm", "mm", 1.0),
        Unit("cm", "cm", 10.0),
        Unit("in", "in", MM_PER_INCH),
        Unit("n", "N", 1.0),
        Unit("kgf", "kgf", N_PER_KGF),
        Unit("lbf", "lb", N_PER_LBF),
        Unit("c", "°C", 1.0),
        Unit("f", "°F", 1 / 1.8, 32.0),
        Unit("kg", "kg", 1.0),
        Unit("lb", "lb", KG_PER_POUND),
        Unit("brix", "°Brix", 1.0),
        Unit("pct", "%", 1.0),
        Unit("rating", "of 10", 1.0),
        Unit("ratio", "", 1.0),
        Unit("winters", "winters in 10", 1.0),
    )
}

# The units that measure the same kind of thing; the first is the one we compute with.
QUANTITIES = {
    "length": ("mm", "cm", "in"),
    "force": ("n", "kgf", "lbf"),
    "temperature": ("c", "f"),
    "mass": ("kg", "lb"),
    "sugar": ("brix",),
    "share": ("pct",),
    "rating": ("rating",),
    "ratio": ("ratio",),
    "winters": ("winters",),
    "own": ("ratio",),  # worked out by a formula, in the units that it was given
}

_US = {"length": "in", "force": "lbf", "temperature": "f", "mass": "lb"}


def shown_in(quantity: str, system: str) -> Unit:
    """The unit a reader of ``system`` ("us" or "si") sees for a quantity."""
    if system not in SYSTEMS:
        raise ValueError(f"unit system {system!r}: one of {', '.join(SYSTEMS)}")
    suffix = _US.get(quantity) if system == "us" else None
    return UNITS[suffix or QUANTITIES[quantity][0]]


def figure(value: float, decimals: int, signed: bool = False) -> str:
    """A number as it is read, with so many decimals; what rounds to nothing has no sign, neither - nor +."""
    text = f"{value:z.{decimals}f}"
    return f"+{text}" if signed and float(text) > 0 else text


def rounded(values, decimals: int):
    """A figure, or a column of them, as a table writes it; a number still, and never -0.0."""
    return round(values, decimals) + 0.0
