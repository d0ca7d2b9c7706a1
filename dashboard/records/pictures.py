"""A photograph as it may leave this machine: its pixels upright and no larger than a screen shows, and nothing else of its file.

Where it was taken, when, by whom and with what stands in a camera's file beside the pixels; none of that is carried on.
"""

from __future__ import annotations

import io
import threading
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from PIL import Image, ImageCms, ImageOps

LARGEST = 20_000_000  # bytes: what a phone writes, several times over
MOST_PIXELS = (
    50_000_000  # 50 megapixels, the most a usual phone takes; a picture is held whole while it is scaled
)
MOST_SCANS = 100  # of a JPEG that is drawn in steps; each step goes over the whole picture
SIDE = 800  # pixels of the longer side: twice what the page shows it at, for fine screens
QUALITY = 80  # of 100: no fault to be seen at that size
KINDS = ("JPEG", "PNG")
_SCAN = b"\xff\xda"  # begins a scan (ISO/IEC 10918-1, from memory)
_AGAIN = "save it anew as a .jpg, smaller if need be"
T = TypeVar("T")
_ONE = threading.Lock()  # one picture is held in memory at a time


class PictureError(Exception):
    """Why a photograph cannot be shown: what is said of it, and what to do."""

    def __init__(self, rule: str, suggestion: str) -> None:
        self.rule, self.suggestion = rule, suggestion
        super().__init__(f"{rule}; {suggestion}")


def look_at(path: Path) -> None:
    """PictureError where the file is too large or does not begin as a picture; its pixels are not looked at."""
    with _begun(path):
        pass


def cleaned(path: Path, side: int = SIDE, kinds: tuple[str, ...] = KINDS) -> bytes:
    """The picture as a JPEG of at most ``side`` by ``side`` pixels, upright, in sRGB, without metadata; PictureError where there is none."""
    return _made(path, kinds, lambda image: _drawn(image, side))


def brightness(path: Path, side: int, kinds: tuple[str, ...] = KINDS) -> Image.Image:
    """How bright each pixel is, at most ``side`` by ``side`` of them, as the camera was held; PictureError where there is no picture."""

    def gray(image: Image.Image) -> Image.Image:
        image.draft("L", (side, side))
        image.thumbnail((side, side), reducing_gap=2.0)
        if "A" in image.getbands():  # what is clear is white
            image = Image.alpha_composite(Image.new("RGBA", image.size, "white"), image.convert("RGBA"))
        return image.convert("L")

    return _made(path, kinds, gray)


def _made(path: Path, kinds: tuple[str, ...], make: Callable[[Image.Image], T]) -> T:
    with _ONE, _begun(path, kinds) as image:
        try:
            if image.format == "JPEG" and path.read_bytes().count(_SCAN) > MOST_SCANS:
                raise PictureError(f"is drawn in more than {MOST_SCANS} steps", _AGAIN)
            return make(image)
        except PictureError:
            raise
        except Exception as fault:  # whatever a damaged file makes the decoder say
            raise _unreadable() from fault


def _begun(path: Path, kinds: tuple[str, ...] = KINDS) -> Image.Image:
    """The picture of a file with its size known and its pixels not read."""
    try:
        if path.stat().st_size > LARGEST:
            raise PictureError(f"is larger than the {LARGEST // 1_000_000} MB a photograph may be", _AGAIN)
        with path.open("rb"):
            pass
    except OSError as fault:
        raise PictureError(
            f"cannot be read ({fault.strerror})", "let this program read it, or take its name out"
        ) from None
    try:
        image = Image.open(path, formats=kinds)
    except Image.DecompressionBombError:
        raise PictureError(f"has far more than {MOST_PIXELS // 1_000_000} million pixels", _AGAIN) from None
    except Exception as fault:  # as above, for its first bytes
        raise _unreadable() from fault
    if image.width * image.height > MOST_PIXELS:
        image.close()
        raise PictureError(
            f"has {image.width:,} by {image.height:,} pixels, more than {MOST_PIXELS // 1_000_000} million",
            _AGAIN,
        )
    return image


def _unreadable() -> PictureError:
    return PictureError("is no JPEG or PNG picture, or a damaged one", _AGAIN)


def _drawn(image: Image.Image, side: int) -> bytes:
    profile = image.info.get("icc_profile")
    image.draft("RGB", (side, side))  # a JPEG is decoded at about the size that is wanted
    image.thumbnail((side, side), reducing_gap=2.0)
    image = _upright(image)
    plain = Image.new("RGB", image.size, "white")  # no metadata comes along, and what is clear is white
    plain.paste(_in_srgb(image, profile), mask=image.getchannel("A") if "A" in image.getbands() else None)
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue()


def _upright(image: Image.Image) -> Image.Image:
    try:
        return ImageOps.exif_transpose(image)
    except Exception:  # a note of the camera that cannot be read turns nothing
        return image


def _in_srgb(image: Image.Image, profile: bytes | None) -> Image.Image:
    """In the colours every screen knows: the note that says otherwise stays behind."""
    plain = image.convert("RGB")
    if not profile:
        return plain
    try:
        there = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        return ImageCms.profileToProfile(plain, there, ImageCms.createProfile("sRGB")) or plain
    except Exception:  # a profile of other colours, or a damaged one: the figures stand as they are
        return plain
