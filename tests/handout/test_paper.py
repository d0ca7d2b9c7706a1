"""Letters and lines: nothing is left out, nothing is wider than its place, nothing is read as markup."""

from __future__ import annotations

import io

import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfgen.canvas import Canvas

from dashboard.charts import style
from dashboard.handout.paper import (
    GREY,
    PALE,
    PAPERS,
    RULE,
    Pen,
    lacking,
    long,
    printable,
    shortened,
    wrapped,
)

TEXTS = st.text(max_size=80) | st.text("ab <>&/\u202e桃🍑\n\t", max_size=300)


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("Aldermere", "Aldermere"), ("<b>Bold</b> & 'x'", "<b>Bold</b> & 'x'"), ("62 (48–74) °Brix ≥ é", "62 (48–74) °Brix ≥ é"),
        ("桃", "[U+6843]"), ("🍑", "[U+1F351]"), ("\u202eback", "[U+202E]back"), ("a\u200db", "a[U+200D]b"), ("a\n\tb", "a  b"),
        ("a\x00b", "a[U+0000]b"), ("e\u0301", "é"), ("ő", "[U+0151]"), ("\u2028", " "),
    ],
)  # fmt: skip
def test_a_letter_without_a_shape_stands_as_its_number(text, printed):
    assert printable(text) == printed
    assert lacking(text) == ("[U+" in printed)


@given(TEXTS)
def test_what_is_printed_has_a_shape_for_every_letter(text):
    assert not lacking(printable(text))
    assert "\n" not in printable(text)


@given(TEXTS, st.floats(4, 20), st.floats(30, 500), st.booleans())
def test_no_line_is_wider_than_its_place_and_no_letter_is_lost(text, size, width, bold):
    lines = wrapped(text, size, width, bold)
    widest = max(long(letter, size, bold) for letter in printable(text)) if text else 0
    assert all(long(line, size, bold) <= max(width, widest) + 1e-6 for line in lines)
    assert "".join(lines).replace(" ", "") == printable(text).replace(" ", "")


@given(TEXTS, st.integers(1, 4))
def test_lines_over_the_most_end_in_dots(text, most):
    whole, cut = wrapped(text, 8, 90), wrapped(text, 8, 90, most=most)
    assert len(cut) <= most
    assert all(long(line, 8) <= 90.001 for line in cut)
    assert cut == whole if len(whole) <= most else cut[-1].endswith("…") or whole[most:] == [""]


def test_a_first_line_leaves_room_for_what_stands_before_it():
    lines = wrapped("one two three four five six seven eight", 8, 100, lead=60)
    assert long(lines[0], 8) <= 40
    assert max(long(line, 8) for line in lines[1:]) > 40


@given(TEXTS, st.floats(20, 200))
def test_a_shortened_text_fits(text, room):
    shown = shortened(printable(text), 8, room)
    assert long(shown, 8) <= room + 1e-6
    assert shown == printable(text) or shown.endswith("…")


def drawn(*texts: str) -> str:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(600, 800))
    pen = Pen(canvas, PAPERS["a4"])
    for number, text in enumerate(texts):
        pen.write(40, 60 + 20 * number, text)
    canvas.save()
    return pypdf.PdfReader(io.BytesIO(out.getvalue())).pages[0].extract_text().strip()


@pytest.mark.parametrize(
    "text", ["<b>Bold</b> <font size=99>&amp;</font>", "(paren) \\ back\\) Tj ET Q", "%s {0} $x", "–“”…½°"]
)
def test_text_is_drawn_as_it_is(text):
    assert drawn(text, "after") == f"{text}\nafter"


def luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize(("ink", "ground"), [(GREY, style.PAPER), (style.INK, style.PAPER), (style.INK, PALE), (GREY, PALE)])  # fmt: skip
def test_words_and_bars_are_told_apart_without_colour(ink, ground):
    """Contrast of at least 4.5 to 1 for what is read, as the web's guidelines ask (WCAG 2, success criterion 1.4.3)."""
    dark, light = sorted((luminance(ink), luminance(ground)))
    assert (light + 0.05) / (dark + 0.05) >= 4.5


def test_a_rule_between_rows_is_lighter_than_words():
    assert luminance(GREY) < luminance(RULE) < luminance(style.PAPER)
