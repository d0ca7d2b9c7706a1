"""Photographs beside each other: cleaned, the newest that can be shown, and a word where there is none."""

from __future__ import annotations

import base64
import io
import re

import pytest
from PIL import Image

from dashboard.answers import catalogue as catalogues
from dashboard.page.tabs import photographs as shelf
from dashboard.page.tabs.side_by_side import beside
from dashboard.visit.state import State
from tests.page.conftest import Watched, said
from tests.records.photographs import OWNER, photograph
from tests.records.small import tables, write_folder

IMAGE = re.compile(r'<img class="photo" src="data:image/jpeg;base64,([^"]*)" alt="([^"]*)">')


@pytest.fixture
def page(tmp_path):
    """Makes the words of the page on records with a cell of photographs for each of the four samples; then what is in the folder."""

    def made(*cells: str, there: dict = {}) -> str:  # noqa: B006
        grids = tables()
        grids["samples"] = [
            [*row, cell] for row, cell in zip(grids["samples"], ("photo", *cells), strict=True)
        ]
        folder = write_folder(tmp_path / "records", grids)
        for name, make in there.items():
            (folder / "photos").mkdir(exist_ok=True)
            make(folder / "photos" / name)
        state = State(catalogues.load(folder), "?v=1&tab=beside&beside=Alvane,Brintel")
        return said(Watched(beside(state)).layout)

    return made


def loop(path) -> None:
    path.symlink_to(path)


def test_the_photograph_stands_below_the_drawing_small_upright_and_without_owner_and_place(page):
    words = page("", "S2.JPG", "x.jpg", "", there={"S2.JPG": lambda path: photograph(path, (1600, 1200), 6)})
    ((content, label),) = IMAGE.findall(words)
    assert label == "Photograph of Alvane, High field, Jul 5, 2024"
    file = base64.b64decode(content)
    image = Image.open(io.BytesIO(file))
    assert image.size == (600, 800)
    assert dict(image.getexif()) == {}
    assert OWNER.encode() not in file
    assert words.count("the photo on record cannot be shown") == 1  # of the other one


@pytest.mark.alike(4)
@pytest.mark.parametrize(
    "spoil",
    [lambda path: path.write_bytes(b"no picture"), lambda path: path.write_bytes(bytes(20_000_001)), loop, lambda path: None],
    ids=["no picture", "too large", "a link to itself", "gone"],
)  # fmt: skip
def test_an_older_good_one_is_not_hidden_by_a_newer_one_that_cannot_be_shown(page, spoil):
    words = page("S1.jpg", "S2.jpg", "", "", there={"S1.jpg": photograph, "S2.jpg": spoil})
    ((_, label),) = IMAGE.findall(words)
    assert label == "Photograph of Alvane, Low field, Jul 1, 2023"
    assert words.count("no photo on record") == 1


def test_two_photographs_of_one_sample_stand_below_each_other_and_not_a_third(page):
    names = ("S2.jpg", "S2 cut.jpg", "S2 tree.jpg")
    words = page("S1.jpg", "; ".join(names), "", "", there=dict.fromkeys((*names, "S1.jpg"), photograph))
    assert [label for _, label in IMAGE.findall(words)] == [
        "Photograph of Alvane, High field, Jul 5, 2024"
    ] * shelf.MOST


def test_that_nobody_has_a_photograph_is_said_once(page):
    words = page("", "", "", "S4.jpg", there={"S4.jpg": photograph})  # of one that does not stand there
    assert words.count("No photo of them is on record.") == 1
    assert "no photo on record" not in words
    assert not IMAGE.findall(words)
