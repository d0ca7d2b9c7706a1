"""The codes that stand in a photograph, read by a library that may not be there; and the kinds of picture that can be opened."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from dashboard.records.pictures import KINDS, brightness

SIDES = (
    1600,
    8000,
)  # pixels: a label held before the fruit is read at the first, a small one only as it was taken
NOT_READ = 'Codes are not read: pip install "orchard-slate[photos]" first; photographs are told by their names alone.'
HEIC = (".heic", ".heif")


@cache
def reader() -> Any | None:
    """The library that reads codes; None where it is not installed."""
    try:
        import zxingcpp
    except ImportError:
        return None
    return zxingcpp


@cache
def kinds() -> tuple[str, ...]:
    """Kinds of picture that can be opened here, as Pillow names them; a phone's HEIC where its extra is installed."""
    try:
        from pillow_heif import register_heif_opener
    except ImportError:
        return KINDS
    register_heif_opener()
    return (*KINDS, "HEIF")


def codes(path: Path) -> tuple[str, ...]:
    """What the codes in a picture say, each once; none where they are not read. PictureError where it is no picture."""
    found: dict[str, None] = {}
    library = reader()
    if library is None:
        return ()
    for side in SIDES:
        shown = brightness(path, side, kinds())
        as_it_is = library.TextMode.Plain  # a letter that cannot be seen is not written as its name
        read = library.read_barcodes(shown, formats=library.BarcodeFormat.QRCode, text_mode=as_it_is)
        found |= {one.text: None for one in read if one.text}
        if found or max(shown.size) < side:
            break
    return tuple(found)
