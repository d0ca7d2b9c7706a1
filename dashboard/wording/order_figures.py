"""Dollars, pounds and shares as an order tells them."""

from __future__ import annotations

import math

from dashboard.terms.units import KG_PER_POUND


def dollars(amount: float) -> str:
    return f"${amount:,.0f}"


def pounds(kg: float) -> str:
    return f"{kg / KG_PER_POUND:,.0f} lb"


def share(part: float) -> str:
    """In per cent, and never 100 unless it is all."""
    return "100 %" if part >= 1 else f"{math.floor(100 * part + 1e-9):.0f} %"


def percent_up(part: float) -> str:
    """A gap, rounded up to a tenth: it is never told smaller than proven."""
    return f"{math.ceil(1000 * part - 1e-6) / 10:.1f} %"
