"""A photograph leaves the machine upright, small and without what the camera wrote about it; what cannot be shown says why."""

from __future__ import annotations

import io
import struct
import tracemalloc
import zlib

import pytest
from PIL import Image, ImageCms

from dashboard.records.pictures import LARGEST, MOST_PIXELS, MOST_SCANS, SIDE, PictureError, cleaned, look_at
from tests.records.photographs import OWNER, photograph

RED, GREEN = (200, 0, 0), (0, 160, 0)


def shown(path) -> Image.Image:
    return Image.open(io.BytesIO(cleaned(path)))


def near(image: Image.Image, at: tuple[float, float], colour: tuple[int, int, int]) -> bool:
    found = image.convert("RGB").getpixel((int(at[0] * image.width), int(at[1] * image.height)))
    return all(abs(a - b) < 12 for a, b in zip(found, colour, strict=True))


@pytest.mark.parametrize("name", ["S1.jpg", "S1.png"])
def test_nothing_but_pixels_leaves_the_machine(tmp_path, name):
    path = photograph(tmp_path / name, dpi=(300, 300))
    assert OWNER.encode() in path.read_bytes()
    assert Image.open(path).getexif().get_ifd(0x8825)[2] == (
        44.0,
        33.0,
        12.5,
    )  # the file itself does say where
    content = cleaned(path)
    image = Image.open(io.BytesIO(content))
    assert dict(image.getexif()) == {}
    assert set(image.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    for told in (OWNER.encode(), b"Exif", b"GPS", b"ICC_PROFILE", b"http"):
        assert told not in content


@pytest.mark.parametrize(
    ("turned", "red"),
    [(1, (0.25, 0.25)), (3, (0.75, 0.75)), (6, (0.75, 0.25)), (8, (0.25, 0.75))],
)  # fmt: skip
def test_it_stands_upright_however_the_camera_was_held(tmp_path, turned, red):
    """By Exif 6 means: the camera's first row is the picture's right side; 8 the left one, 3 the bottom."""
    image = shown(photograph(tmp_path / "S1.jpg", (1200, 900), turned))
    assert (image.width > image.height) == (turned in (1, 3))
    assert near(image, red, RED)
    assert near(image, (1 - red[0], 1 - red[1]), GREEN)


@pytest.mark.parametrize(
    ("size", "becomes"), [((1600, 1200), (800, 600)), ((900, 3000), (240, 800)), ((300, 200), (300, 200))]
)  # fmt: skip
def test_it_is_no_larger_than_a_screen_shows_and_never_blown_up(tmp_path, size, becomes):
    image = shown(photograph(tmp_path / "S1.jpg", size))
    assert image.size == becomes
    assert image.format == "JPEG"
    assert max(becomes) <= SIDE


def test_what_is_clear_in_a_png_is_white(tmp_path):
    path = tmp_path / "S1.png"
    Image.new("RGBA", (100, 100), (200, 0, 0, 0)).save(path)
    assert near(shown(path), (0.5, 0.5), (255, 255, 255))


@pytest.mark.parametrize("mode", ["L", "LA", "P", "1", "I;16", "CMYK"])
def test_every_kind_of_pixel_becomes_plain_colour(tmp_path, mode):
    path = tmp_path / ("S1.jpg" if mode == "CMYK" else "S1.png")
    Image.new(mode, (60, 40)).save(path)
    assert shown(path).mode == "RGB"


def test_colours_written_for_another_screen_are_turned_into_those_of_every_screen(tmp_path):
    """The profile says that the first of the three figures is green, and the second red."""
    path = tmp_path / "S1.jpg"
    usual = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    other = usual.replace(b"rXYZ", b"swap", 1).replace(b"gXYZ", b"rXYZ", 1).replace(b"swap", b"gXYZ", 1)
    Image.new("RGB", (50, 50), (200, 0, 0)).save(path, icc_profile=usual)
    assert near(shown(path), (0.5, 0.5), (200, 0, 0))
    Image.new("RGB", (50, 50), (200, 0, 0)).save(path, icc_profile=other)
    assert near(shown(path), (0.5, 0.5), (0, 200, 0))


def test_a_profile_of_no_such_picture_is_passed_over(tmp_path):
    path = tmp_path / "S1.jpg"
    for profile in (ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes(), b"no profile"):
        Image.new("RGB", (50, 50), (200, 100, 50)).save(path, icc_profile=profile)
        assert near(shown(path), (0.5, 0.5), (200, 100, 50))


def broken(path, kind: str) -> None:
    """A file that is no picture that can be shown."""
    if kind == "text":
        path.write_bytes(b"<svg onload=alert(1)>")
    elif kind == "nothing":
        path.write_bytes(b"")
    elif kind == "another format":
        Image.new("RGB", (20, 20)).save(path, "GIF")
    elif kind == "only a beginning":
        path.write_bytes(b"\xff\xd8\xff\xe0picture")


@pytest.mark.parametrize("kind", ["text", "nothing", "another format", "only a beginning"])
@pytest.mark.parametrize("look", [look_at, cleaned])
def test_what_is_no_picture_says_so(tmp_path, kind, look):
    broken(tmp_path / "S1.jpg", kind)
    with pytest.raises(PictureError, match="no JPEG or PNG picture, or a damaged one; save it anew"):
        look(tmp_path / "S1.jpg")


def test_a_picture_torn_in_its_middle_is_found_by_who_looks_at_its_pixels(tmp_path):
    path = photograph(tmp_path / "S1.jpg", quality=95)
    path.write_bytes(path.read_bytes()[:-3000])
    look_at(path)
    with pytest.raises(PictureError, match="damaged"):
        cleaned(path)


@pytest.mark.filterwarnings("ignore:Corrupt EXIF")
def test_a_note_of_the_camera_that_cannot_be_read_spoils_no_picture(tmp_path):
    path = tmp_path / "S1.jpg"
    Image.new("RGB", (50, 40), GREEN).save(path, exif=b"Exif\x00\x00II*\x00\xff\xff\xff\xff")
    assert near(shown(path), (0.5, 0.5), GREEN)


@pytest.mark.parametrize("look", [look_at, cleaned])
def test_a_file_over_the_limit_is_refused_before_it_is_opened(tmp_path, look):
    path = photograph(tmp_path / "S1.jpg")
    with path.open("ab") as file:
        file.truncate(LARGEST + 1)
    with pytest.raises(PictureError, match="is larger than the 20 MB a photograph may be"):
        look(path)


def png(width: int, height: int) -> bytes:
    """A picture of so many black pixels in a few kilobytes: PNG (ISO/IEC 15948)."""

    def chunk(name: bytes, content: bytes) -> bytes:
        return (
            struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))
        )

    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize(
    ("width", "height"), [(60_000, 60_000), (MOST_PIXELS + 1, 1), (2**31 - 1, 2**31 - 1)]
)
@pytest.mark.parametrize("look", [look_at, cleaned])
def test_a_small_file_that_would_unfold_into_a_huge_picture_is_not_unfolded(tmp_path, width, height, look):
    path = tmp_path / "S1.png"
    path.write_bytes(png(width, height))
    tracemalloc.start()
    with pytest.raises(PictureError, match=r"more than 50 million|no JPEG or PNG picture"):
        look(path)
    assert tracemalloc.get_traced_memory()[1] < 5_000_000
    tracemalloc.stop()


def test_a_picture_drawn_in_thousands_of_steps_is_not_drawn(tmp_path):
    """Each step of a progressive JPEG goes over the whole picture, and takes but a few bytes of the file."""
    path = photograph(tmp_path / "S1.jpg", progressive=True)
    content = path.read_bytes()
    at = content.rindex(b"\xff\xda")
    path.write_bytes(content[:at] + content[at:-2] * (MOST_SCANS + 1) + content[-2:])
    with pytest.raises(PictureError, match="more than 100 steps"):
        cleaned(path)


@pytest.mark.parametrize("look", [look_at, cleaned])
def test_what_cannot_be_opened_says_so(tmp_path, look):
    with pytest.raises(PictureError, match=r"cannot be read \(.*\); let this program read it"):
        look(tmp_path)  # a folder
    with pytest.raises(PictureError, match="cannot be read"):
        look(tmp_path / "gone.jpg")
