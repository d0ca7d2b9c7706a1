"""Photographs as cameras and phones write them, made for a test."""

from __future__ import annotations

from pathlib import Path

from PIL import Image

OWNER, PLACE = "Jane Orchardist", (44.0, 33.0, 12.5)  # whose it is, and degrees, minutes, seconds north
_ORIENTATION, _ARTIST, _GPS, _COMMENT = 0x0112, 0x013B, 0x8825, 0x9286  # Exif 2.32, from memory


def photograph(path: Path, size: tuple[int, int] = (1600, 1200), turned: int = 1, **more) -> Path:
    """A picture whose upper left quarter is red and whose rest is green, with owner and position; the camera was held as ``turned``
    says (Exif's Orientation)."""
    path.parent.mkdir(parents=True, exist_ok=True)
    image = Image.new("RGB", size, (0, 160, 0))
    image.paste((200, 0, 0), (0, 0, size[0] // 2, size[1] // 2))
    exif = Image.Exif()
    exif[_ORIENTATION], exif[_ARTIST] = turned, OWNER
    exif.get_ifd(_GPS).update({1: "N", 2: PLACE, 3: "W", 4: PLACE})
    kind = "PNG" if path.suffix.lower() == ".png" else "JPEG"
    image.save(path, kind, exif=exif, **({"comment": OWNER.encode()} if kind == "JPEG" else {}), **more)
    return path
