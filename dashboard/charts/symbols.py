"""The marks of a legend as small drawings, for a picture that leaves the page: there no stylesheet goes with it."""

from __future__ import annotations

from markupsafe import Markup

from dashboard.charts import style

SIDE = 14  # pixels, of each drawing
_INK = Markup('fill="none" stroke="{}" stroke-width="1.2"').format(style.INK)
_WITHIN = {
    "white": Markup('<circle cx="7" cy="7" r="1.4" fill="{}"/>').format(style.INK),
    "red": Markup('<path d="M7 2V12M2 7H12" {}/>').format(_INK),
    "unknown": Markup('<path d="M3.5 3.5L10.5 10.5M10.5 3.5L3.5 10.5" {}/>').format(_INK),
}
_RING = Markup('<circle cx="7" cy="7" r="5.5" fill="none" stroke="{}" stroke-width="2.4"/>').format(
    style.LEAF
)
_BAR = Markup('<path d="M7 0V14" stroke="{}" stroke-width="2" stroke-dasharray="4 3"/>').format(style.LIMIT)
_THIN = Markup('<path d="M0 7H14" stroke="{}"/>').format(style.QUIET)
_LINES = {"ring": _RING, "bar": _BAR, "thin": _THIN}


def symbol(look: str) -> Markup:
    """Of a look as ``wording.legend`` names it: ``"mark yellow flat"``, ``"ring"``, ``"bar"``, ``"thin"``."""
    if look in _LINES:
        return _LINES[look]
    _, flesh, shape = look.split()
    outline = '<path d="M7 1L13 7L7 13L1 7Z" {}/>' if shape == "flat" else '<circle cx="7" cy="7" r="5" {}/>'
    drawn = Markup('fill="{}" stroke="{}" stroke-width="1.2"').format(style.fill(flesh), style.INK)
    return Markup(outline).format(drawn) + _WITHIN.get(flesh, Markup(""))


def swatch(colour: str) -> Markup:
    """A square of one colour."""
    return Markup('<rect width="{0}" height="{0}" fill="{1}"/>').format(SIDE, colour)
