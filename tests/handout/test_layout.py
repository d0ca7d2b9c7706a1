"""Blocks on sheets: what does not fit goes on, nothing is lost, nothing stands outside the margins."""

from __future__ import annotations

import io

import pypdf
import pytest

from dashboard.handout.blocks import Beside, Picture, Words
from dashboard.handout.columns import Column, Page, Rows
from dashboard.handout.layout import Section, printed, sheets
from dashboard.handout.paper import FOOT, MARGIN, PAPERS, Pen, long, printable
from tests.handout.reading import pages, shown

A4 = PAPERS["a4"]
HEADS = (Column("Cultivar", 2), Column("Figure", 1, right=True), Column("Page", 1, right=True))


def made(*sections: Section, footer=("whose", "when", "caution")) -> bytes:
    return printed(sections, A4, "Title", "Subject", footer)


def test_a_long_text_goes_on_on_the_next_sheet_and_no_word_is_lost():
    words = [f"w{number}" for number in range(4000)]
    read = pages(made(Section("a", "A", (Words(" ".join(words)), Words("The end.")))))
    assert len(read) >= 3
    whole = "".join(page.split("whose")[0] for page in read)
    assert whole == shown("".join(words), "The end.")


def test_a_long_table_goes_on_under_the_same_heads():
    rows = tuple((f"Name {number:03d}", f"{number}", Page("b")) for number in range(200))
    read = pages(made(Section("a", "A", (Rows("A table", HEADS, rows),)), Section("b", "B", (Words("B"),))))
    assert len(read) >= 4
    for page in read[:-1]:
        assert page.startswith(shown("A table", "CultivarFigurePage"))
    whole = "".join(read)
    for number in range(200):
        assert shown(f"Name {number:03d}", number, len(read)) in whole


def test_a_heading_is_not_left_alone_at_the_foot():
    tall = A4.room[1]
    section = Section("a", "A", (Picture(tall - 30, lambda *_: None), Words("Heading", heading=True), Words("Text")))  # fmt: skip
    first, second = sheets([section], A4)
    assert len(first.placed) == 1
    assert [block.text for block, _ in second.placed] == ["Heading", "Text"]


def test_what_is_taller_than_a_sheet_ends_there_and_the_rest_follows():
    section = Section("a", "A", (Words("before"), Picture(5000, lambda *_: None), Words("after")))
    assert [len(sheet.placed) for sheet in sheets([section], A4)] == [1, 1, 1]


def test_a_section_that_goes_on_says_so():
    read = pages(made(Section("a", "Alpha", (Words("word " * 3000),))))
    assert "(continued)" not in read[0]
    assert all(shown("Alpha (continued)") in page for page in read[1:])


@pytest.mark.parametrize(
    ("over", "count", "scale"), [(0.9, 1, 1.0), (1.03, 1, 0.96), (1.15, 1, 0.84), (1.5, 2, 1.0)]
)
def test_a_section_that_is_to_stay_whole_is_drawn_smaller_but_never_too_small(over, count, scale):
    """By hand: pictures of 0.9 to 1.5 times the room of a sheet; nothing is drawn at less than 0.84."""
    half = Picture(A4.room[1] * over / 2, lambda *_: None)
    laid = sheets([Section("a", "A", (half, half), whole=True)], A4)
    assert len(laid) == count
    assert laid[0].scale == scale
    assert len(sheets([Section("a", "A", (half, half))], A4)) == (1 if over < 1 else 2)


def test_what_is_drawn_smaller_keeps_its_upper_corner_and_its_words():
    text = Words("word " * 1500)
    tall = text.height(A4.room[0])
    rest = Picture(A4.room[1] * 1.05 - tall, lambda *_: None)
    made_small = made(Section("a", "A", (text, rest), whole=True))
    (page,) = pypdf.PdfReader(io.BytesIO(made_small)).pages
    assert pages(made_small)[0].count("word") == 1500
    assert sheets([Section("a", "A", (text, rest), whole=True)], A4)[0].scale < 1
    starts = []
    page.extract_text(
        visitor_text=lambda words, cm, tm, *_: (
            starts.append((tm[4] * cm[0] + cm[4], tm[5] * cm[3] + cm[5])) if "word" in words else None
        )
    )
    assert min(x for x, _ in starts) == pytest.approx(MARGIN, abs=0.1)
    assert max(y for _, y in starts) == pytest.approx(A4.height - MARGIN - 8, abs=1)


def test_an_empty_table_says_so():
    read = pages(made(Section("a", "A", (Rows("A table", HEADS, (), empty="Nothing there."),))))
    assert shown("A table", "Nothing there.") in read[0]


@pytest.mark.parametrize("text", ["W" * 400, "long name " * 60, "桃" * 90, "<b>" * 90])
def test_nothing_is_written_outside_the_margins_or_over_its_neighbour(monkeypatch, text):
    seen = []
    write = Pen.write

    def noted(self, x, y, words, size=8.0, bold=False, align="left", room=None, colour="#000000"):
        end = long(printable(words), size, bold) if room is None else min(room, long(printable(words), size, bold))  # fmt: skip
        start = x - {"left": 0.0, "right": 1.0, "middle": 0.5}[align] * end
        seen.append((start, start + end, y, y - size))
        write(self, x, y, words, size, bold, align, room, colour)

    monkeypatch.setattr(Pen, "write", noted)
    blocks = (
        Words(text, lead=text, most=3),
        Words(text, size=15, bold=True, most=5),
        Rows(text, HEADS, ((text, text, Page("a")), (text, "1", Page("a"))), leads=("a", "a")),
        Beside((Words(text, lead=text),), (Words(text),)),
    )
    made(Section("a", text, blocks), footer=(text, text, text))
    assert len(seen) > 20
    for start, end, foot, top in seen:
        assert start >= MARGIN - 0.01
        assert end <= A4.width - MARGIN + 0.01
        assert top >= MARGIN - 2
        assert foot <= A4.height - 20  # printers leave the edge white
    body = [one for one in seen if one[2] < A4.height - FOOT + 10]
    for one in body:
        for other in body:
            if other is not one and abs(one[2] - other[2]) < 1:
                assert one[1] <= other[0] + 0.02 or other[1] <= one[0] + 0.02
