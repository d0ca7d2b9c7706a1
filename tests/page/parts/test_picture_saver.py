"""The button that saves pictures: what it offers, what it sends for one, and that it sends nothing unasked."""

from __future__ import annotations

import pytest
from markupsafe import Markup

from dashboard.page.parts.picture_saver import Picture, PictureSaver
from tests.pressing import press

SHOWN = Picture("season", "The season", ("season",), reads=("Dark: qualifies.",))
DRAWN = Picture("slate", "My slate", drawn=lambda: (Markup("<svg/>"), 960, 120), marks=((Markup("<path/>"), "a mark"),))  # fmt: skip


class Asked:
    def __init__(self, monkeypatch):
        self.pictures, self.sent = [SHOWN, DRAWN], []
        self.element = PictureSaver(
            lambda: self.pictures,
            lambda picture, kind: {"file": f"{picture.key}.{kind}", "over": ["over"], "under": ["under"]},
        )
        monkeypatch.setattr(self.element, "_send_msg", self.sent.append)


@pytest.fixture
def asked(monkeypatch) -> Asked:
    return Asked(monkeypatch)


def test_its_menu_lists_what_there_is(asked):
    press(asked.element, {"open": True})
    assert asked.sent == [{"offered": [["season", "The season", ["season"]], ["slate", "My slate", []]]}]


def test_a_picture_of_the_page_is_sent_as_its_name_and_the_words_round_it(asked):
    press(asked.element, {"save": "season", "kind": "svg"})
    assert asked.sent == [
        {
            "kind": "svg", "file": "season.svg", "title": "The season", "figures": ["season"], "drawn": None,
            "over": ["over"], "reads": ["Dark: qualifies."], "marks": [], "under": ["under"],
        }
    ]  # fmt: skip


def test_one_that_the_server_draws_comes_with_its_size(asked):
    press(asked.element, {"save": "slate", "kind": "png"})
    (sent,) = asked.sent
    assert (sent["drawn"], sent["marks"]) == (["<svg/>", 960, 120], [["<path/>", "a mark"]])


@pytest.mark.parametrize(
    "message",
    [
        {"save": "cover", "kind": "svg"},
        {"save": "season", "kind": "exe"},
        {"save": ["season"]},
        {"kind": "svg"},
        {},
    ],
)
def test_what_is_not_offered_is_refused(asked, message):
    press(asked.element, message)
    assert asked.sent == [{"refused": "That picture is no longer on the page."}]
