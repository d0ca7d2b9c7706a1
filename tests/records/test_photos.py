"""A photograph is a small picture file among the records; whatever else is written in its place is not opened."""

from __future__ import annotations

import base64
import io
import os

import pandas as pd
import pytest
from PIL import Image

from dashboard.answers import catalogue as catalogues
from dashboard.records import photos, read
from dashboard.records.photos import embedded, located, photographs
from dashboard.records.pictures import LARGEST
from dashboard.records.report import check
from tests.records.photographs import OWNER, photograph
from tests.records.small import tables, write_folder, write_workbook


@pytest.fixture
def records(tmp_path):
    """A folder of records with two photographs, and a picture outside it."""
    folder = write_folder(tmp_path / "records", tables())
    for path in (folder / "photos" / "S1.jpg", folder / "photos" / "S3 side.PNG", tmp_path / "outside.jpg"):
        photograph(path, (120, 90))
    return folder


@pytest.mark.parametrize(
    ("name", "file"),
    [("S1.jpg", "S1.jpg"), ("photos/S1.jpg", "S1.jpg"), ("./photos/../photos/S1.jpg", "S1.jpg"), ("S3 side.PNG", "S3 side.PNG"),
     ("S3 side.png", "S3 side.PNG"), ("S1.JPG", "S1.jpg"), ("S1.Jpg", "S1.jpg")],
)  # fmt: skip
def test_a_picture_below_the_records_is_found(records, name, file):
    assert located(str(records), name) == (records / "photos" / file).resolve()


@pytest.mark.parametrize(
    "name",
    [
        "../outside.jpg", "photos/../../outside.jpg", "../../outside.jpg", "/etc/hostname", "{outside}", "file://{outside}",
        "http://example.org/S1.jpg", "https://example.org/S1.jpg", "data:image/png;base64,AAAA", "//host/share/S1.jpg",
        "..\\outside.jpg", "C:\\S1.jpg", "samples.csv", "datapackage.json", "photos", "", ".", "gone.jpg", "S1.jpg\x00.png",
        "S1.jpg\n", "x" * 5000 + ".jpg", "<img src=x onerror=alert(1)>.jpg",
    ],
)  # fmt: skip
def test_anything_else_is_not(records, name):
    assert located(str(records), name.format(outside=records.parent / "outside.jpg")) is None


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_a_link_that_leads_out_is_not_followed(records):
    (records / "photos" / "link.jpg").symlink_to(records.parent / "outside.jpg")
    (records / "elsewhere").symlink_to(records.parent)
    assert located(str(records), "link.jpg") is None
    assert located(str(records), "elsewhere/outside.jpg") is None
    (records / "photos" / "same.jpg").symlink_to(records / "photos" / "S1.jpg")
    assert located(str(records), "same.jpg") == (records / "photos" / "S1.jpg").resolve()


@pytest.mark.skipif(os.name == "nt", reason="no file can be called so there")
def test_what_reads_like_an_address_is_none_even_where_a_file_is_called_so(records):
    for name in ("http:/S1.jpg", "C:\\S1.jpg"):
        path = records / "photos" / name
        path.parent.mkdir(exist_ok=True)
        photograph(path, (8, 6))
        assert located(str(records), name) is None


def test_beside_a_workbook_there_may_be_photographs_too(tmp_path):
    photograph(tmp_path / "photos" / "S1.jpg", (8, 6))
    book = write_workbook(tmp_path / "records.xlsx", tables())
    assert located(str(book), "S1.jpg") == (tmp_path / "photos" / "S1.jpg").resolve()


def test_records_without_a_place_have_none():
    assert located("", "S1.jpg") is None


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_a_link_to_itself_is_no_picture(records):
    for name, target in (("loop.jpg", "loop.jpg"), ("there.jpg", "back.jpg"), ("back.jpg", "there.jpg")):
        (records / "photos" / name).symlink_to(records / "photos" / target)
    (records / "photos" / "round").symlink_to(records / "photos" / "round")
    for name in ("loop.jpg", "there.jpg", "round/S1.jpg"):
        assert located(str(records), name) is None


def test_a_picture_travels_in_the_page_itself_and_tells_nothing_else(records):
    for name in ("S1.jpg", "S3 side.PNG"):
        path = located(str(records), name)
        assert path is not None
        assert OWNER.encode() in path.read_bytes()
        start, _, text = embedded(path).partition(";base64,")
        assert start == "data:image/jpeg"
        content = base64.b64decode(text)
        assert OWNER.encode() not in content
        assert dict(Image.open(io.BytesIO(content)).getexif()) == {}


def test_a_picture_is_worked_out_once_and_anew_only_when_its_file_is_another(records, monkeypatch):
    asked = []
    cleaned = photos.cleaned
    monkeypatch.setattr(photos, "cleaned", lambda path: asked.append(path) or cleaned(path))
    path = records / "photos" / "S1.jpg"
    first = embedded(path)
    assert embedded(path) is first
    assert len(asked) == 1
    photograph(path, (60, 90))
    assert embedded(path) not in ("", first)
    assert len(asked) == 2


def test_only_so_many_pictures_are_kept_in_memory():
    assert photos._embedded.cache_info().maxsize == photos.REMEMBERED <= 64


@pytest.mark.parametrize(
    "content", [b"", b"<svg onload=alert(1)>", bytes(LARGEST + 1)], ids=["empty", "text", "too large"]
)
def test_what_is_no_picture_or_too_large_is_not_carried(records, content):
    path = records / "photos" / "S1.jpg"
    path.write_bytes(content)
    assert embedded(path) == ""


def test_a_picture_that_is_gone_by_now_is_none(records):
    path = records / "photos" / "S1.jpg"
    path.unlink()
    assert embedded(path) == ""


def test_the_samples_with_a_photograph_newest_first(records):
    assert photographs(read(records).tables["samples"]).empty
    grids = tables()
    grids["samples"] = [[*row, photo] for row, photo in zip(grids["samples"], ("photo", "S1.jpg", "S2.jpg", "", "S4.jpg"), strict=True)]  # fmt: skip
    found = photographs(read(write_folder(records, grids)).tables["samples"])
    assert found["photo"].tolist() == ["S4.jpg", "S2.jpg", "S1.jpg"]
    assert found["cultivar"].tolist() == ["T 12-034", "Alvane", "Alvane"]
    carried = catalogues.load(records).records_tables["photos"]
    pd.testing.assert_frame_equal(carried, found)


def test_two_photographs_of_one_sample_are_two(records):
    photograph(records / "photos" / "S1 cut.jpg")
    found = photographs(
        read(with_photos(records, "S1.jpg; S1 cut.jpg;", "", "S3 side.png", "")).tables["samples"]
    )
    assert list(zip(found["photo"], found["cultivar"], strict=True)) == [
        ("S3 side.png", "Brintel"), ("S1.jpg", "Alvane"), ("S1 cut.jpg", "Alvane"),
    ]  # fmt: skip
    assert "\n0 errors, 0 flags;" in check(records)[0]


def with_photos(records, *cells: str):
    """The records with a cell of photographs for each of the four samples."""
    grids = tables()
    grids["samples"] = [[*row, photo] for row, photo in zip(grids["samples"], ("photo", *cells), strict=True)]
    return write_folder(records, grids)


def torn(path) -> None:
    photograph(path, quality=95)
    path.write_bytes(path.read_bytes()[:-3000])


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    ("make", "told"),
    [
        (lambda path: path.write_bytes(bytes(LARGEST + 1)), "“S2.jpg” is larger than the 20 MB a photograph may be; save it anew"),
        (lambda path: path.write_bytes(b"text"), "“S2.jpg” is no JPEG or PNG picture, or a damaged one; save it anew"),
        (torn, "“S2.jpg” is no JPEG or PNG picture, or a damaged one; save it anew"),
        (lambda path: None, "“S2.jpg” is no .jpg, .jpeg or .png file in the folder photos beside the records; put it there"),
        (lambda path: path.symlink_to(path), "“S2.jpg” is no .jpg, .jpeg or .png file in the folder photos"),
        (lambda path: path.symlink_to("../../outside.jpg"), "“S2.jpg” is no .jpg, .jpeg or .png file in the folder photos"),
        (lambda path: path.mkdir(), "“S2.jpg” is no .jpg, .jpeg or .png file in the folder photos"),
    ],
    ids=["too large", "text", "torn", "gone", "a link to itself", "a link that leads out", "a folder"],
)  # fmt: skip
def test_a_photograph_that_cannot_be_shown_is_named_by_the_check_with_its_place(records, make, told):
    make(records / "photos" / "S2.jpg")
    text, code = check(with_photos(records, "S1.jpg", "S2.jpg", "", ""))
    (line,) = text.splitlines()[1:-3]  # between what it is of, and what was read
    assert line.startswith(f"flag   2024-07-05, Alvane, high: samples.csv, row 3, photo: {told}")
    assert code == 0


def test_photographs_that_are_not_there_are_told_one_by_one_or_together_with_all_their_rows(records):
    few = check(with_photos(records, "A.jpg", "B.jpg", "", "C.jpg"))[0].splitlines()[1:-3]
    assert [line.split(": ")[1] for line in few] == [f"samples.csv, row {row}, photo" for row in (5, 3, 2)]
    (line,) = check(with_photos(records, "A.jpg", "B.jpg; B cut.jpg", "C.jpg", "D.jpg"))[0].splitlines()[1:-3]
    assert line == (
        "flag   2023-07-01, Alvane, low: samples.csv, row 2, photo: “A.jpg” is no .jpg, .jpeg or .png file in the folder photos beside the records, "
        "and neither are 4 others (rows 3, 4 and 5); put it there, or correct its name."
    )


def test_a_folder_of_photographs_that_was_left_behind_is_told_in_one_line(records):
    grids = tables()
    first = grids["samples"][1]
    grids["samples"] = [[*grids["samples"][0], "photo"]]
    for number in range(12):
        grids["samples"].append([f"S{number}", *first[1:], f"{number} a.jpg; {number} b.jpg"])
    records = read(write_folder(records, grids))
    (problem,) = [problem for problem in records.problems if problem.column == "photo"]
    assert problem.rule.endswith("and neither are 23 others (rows 2, 3, 4, 5, 6, 7 and 6 more)")


@pytest.mark.parametrize("name", ["S2.heic", "S2.HEIF", "S2.webp", "S2.tif"])
def test_a_picture_of_another_kind_is_to_be_saved_as_jpg(records, name):
    (line,) = check(with_photos(records, "S1.jpg", name, "", ""))[0].splitlines()[1:-3]
    assert line == (
        f"flag   2024-07-05, Alvane, high: samples.csv, row 3, photo: “{name}” is no .jpg, .jpeg or .png file in the folder photos beside the records; "
        "save it as .jpg, and write that name."
    )
