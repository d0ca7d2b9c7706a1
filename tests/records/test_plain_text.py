"""Text from files is text."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.records.plain_text import NAME_LENGTH, texts


def one(cell: str, note: bool = False):
    """The text, the rules of its faults, and those of its flags."""
    cells = np.array([cell, "ordinary"], dtype=object)
    values, faults, flags = texts(cells, note)
    assert values[1] == "ordinary"
    assert all(index == 0 for index, _ in [*faults, *flags])
    return values[0], [said[0] for _, said in faults], [said[0] for _, said in flags]


@pytest.mark.parametrize(
    "name", ["Alvane", "T 12-034", "N 21/4 (old)", "Été doré", "白鳳", "O'Hale", "-5 °C house", "A & B"]
)
def test_names_of_all_kinds_are_kept_as_they_are(name):
    assert one(name) == (name, [], [])


@pytest.mark.parametrize(
    ("cell", "text"),
    [("two  spaces", "two spaces"), ("two\nlines", "two lines"), ("a\u00a0b", "a b"), ("e\u0301", "é")],
)
def test_spaces_line_breaks_and_composed_letters_are_made_alike(cell, text):
    assert one(cell) == (text, [], [])


@pytest.mark.parametrize(
    "cell",
    [
        "<b>Gorvette</b>",
        "<script>alert(1)</script>",
        "a &lt; b",
        "x<!-- y",
        "<img src=x onerror=alert(1)>",
        "&#x3c;",
    ],
)
def test_markup_is_kept_and_flagged(cell):
    text, faults, flags = one(cell, note=True)
    assert (text, faults) == (cell, [])
    assert flags == ["looks like a page's markup and is kept as plain text"]


@pytest.mark.parametrize(
    "cell",
    [
        "=cmd|' /C calc'!A0",
        "=1+1",
        "@SUM(A1)",
        "+cmd|x",
        "-2+3+cmd",
        "＝1+1",
        "＠SUM(A1)",
        "＋cmd|x",
        "－cmd",
    ],
)
def test_formulas_are_kept_and_flagged(cell):
    text, faults, flags = one(cell, note=True)
    assert (text, faults) == (cell, [])
    assert flags == ["looks like a formula and is kept as plain text"]


@pytest.mark.parametrize("cell", ["-", "- soft", "+ 3 days", "-5", "+1.5", "< 5 fruit", "5 > 3", "Q&A"])
def test_ordinary_marks_are_not_suspected(cell):
    assert one(cell, note=True) == (cell, [], [])


def test_the_apostrophe_before_a_formula_is_taken_away():
    assert one("'=1+1", note=True)[0] == "=1+1"
    assert one("'＝1+1", note=True)[0] == "＝1+1"
    assert one("'tis soft", note=True)[0] == "'tis soft"


@pytest.mark.parametrize(
    "mark",
    [
        "\x00",
        "\x07",
        "\x1b",
        "\x7f",
        "\x85x\x9b",
        "\u200b",
        "\u200e",
        "\u200f",
        "\u202e",
        "\u2066",
        "\ufeff",
        "\ud800",
        "\ue000",
        "\u00ad",
    ],
)
def test_characters_that_cannot_be_seen_are_refused(mark):
    text, faults, _ = one(f"Al{mark}vane")
    assert text is None
    assert faults == ["holds characters that cannot be seen"]


def test_a_long_name_is_flagged_and_a_long_note_is_not():
    assert one("x" * NAME_LENGTH) == ("x" * NAME_LENGTH, [], [])
    long = "x" * (NAME_LENGTH + 1)
    assert one(long) == (long, [], ["has 81 characters, more than 80"])
    assert one(long, note=True) == (long, [], [])


@given(st.text(max_size=40))
def test_text_that_was_taken_once_is_taken_again_unchanged(cell):
    text, _, _ = one(cell.strip())
    if text and text[0] not in "=+-@":
        assert one(text)[0] == text


def test_text_longer_than_a_spreadsheet_s_cell_is_refused():
    assert one("x" * 32_767, note=True)[1] == []
    assert one("x" * 32_768, note=True)[:2] == (None, ["has 32,768 characters, more than 32,767"])
