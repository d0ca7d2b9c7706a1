"""A photograph is a small picture file among the records; whatever else is written in its place is not opened."""

from __future__ import annotations

import base64
import os

import pandas as pd
import pytest

from dashboard import catalogue as catalogues
from dashboard.records import read
from dashboard.records.photos import LARGEST, embedded, located, photographs
from tests.records.small import tables, write_folder, write_workbook

# The smallest beginnings of such files; what follows does not matter here.
JPEG, PNG = b"\xff\xd8\xff\xe0picture", b"\x89PNG\r\n\x1a\npicture"


@pytest.fixture
def records(tmp_path):
    """A folder of records with two photographs, and a picture outside it."""
    folder = write_folder(tmp_path / "records", tables())
    (folder / "photos").mkdir()
    (folder / "photos" / "S1.jpg").write_bytes(JPEG)
    (folder / "photos" / "S3 side.PNG").write_bytes(PNG)
    (tmp_path / "outside.jpg").write_bytes(JPEG)
    return folder


@pytest.mark.parametrize(
    ("name", "file"),
    [("S1.jpg", "S1.jpg"), ("photos/S1.jpg", "S1.jpg"), ("./photos/../photos/S1.jpg", "S1.jpg"), ("S3 side.PNG", "S3 side.PNG")],
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
        path.write_bytes(JPEG)
        assert located(str(records), name) is None


def test_beside_a_workbook_there_may_be_photographs_too(tmp_path):
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "S1.jpg").write_bytes(JPEG)
    book = write_workbook(tmp_path / "records.xlsx", tables())
    assert located(str(book), "S1.jpg") == (tmp_path / "photos" / "S1.jpg").resolve()


def test_records_without_a_place_have_none():
    assert located("", "S1.jpg") is None


def test_a_picture_travels_in_the_page_itself(records):
    for name, kind, content in (("S1.jpg", "image/jpeg", JPEG), ("S3 side.PNG", "image/png", PNG)):
        path = located(str(records), name)
        assert path is not None
        start, _, text = embedded(path).partition(";base64,")
        assert start == f"data:{kind}"
        assert base64.b64decode(text) == content


@pytest.mark.parametrize(
    "content", [b"", b"<svg onload=alert(1)>", PNG, JPEG + bytes(LARGEST)], ids=["empty", "text", "another kind", "too large"]
)  # fmt: skip
def test_what_is_no_such_picture_or_too_large_is_not_carried(records, content):
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
