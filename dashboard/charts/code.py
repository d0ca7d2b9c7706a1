"""An address as a code that a phone's camera reads (QR code, ISO/IEC 18004), drawn as inline SVG."""

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
