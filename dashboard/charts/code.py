"""A text as a code that a phone's camera reads (QR code, ISO/IEC 18004): an address drawn as inline SVG, a sample's name as dark and light."""

from __future__ import annotations

import segno
from markupsafe import Markup

QUIET_ZONE = 4  # modules of white round it, as the standard asks


def code(address: str) -> Markup | None:
    """None where the address is too long for any code."""
    try:
        made = segno.make_qr(address, error="l", boost_error=True)
    except segno.DataOverflowError:
        return None
    drawn = made.svg_inline(border=QUIET_ZONE, omitsize=True, dark="#000", light="#fff", svgclass="code", lineclass=None, title="Code for this view's address")  # fmt: skip
    return Markup(drawn)  # made of numbers alone


def modules(text: str) -> tuple[tuple[bool, ...], ...] | None:
    """True where it is dark, a row a line, without the quiet zone; None where the text is too long for any code.

    At level M a seventh of it may be dirty. What is not plain English is written as UTF-8.
    """
    try:
        made = segno.make_qr(text, error="m", boost_error=True, encoding=None if text.isascii() else "utf-8")
    except segno.DataOverflowError:
        return None
    return tuple(tuple(bool(cell) for cell in row) for row in made.matrix)
