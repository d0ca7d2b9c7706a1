"""Records that try to be markup, code or too long: a handout says what they say, runs nothing and keeps its margins."""

from __future__ import annotations

import io
from dataclasses import replace

import pypdf
import pytest

from dashboard.answers.question import Question
from dashboard.handout import booklet
from dashboard.handout.paper import MARGIN, PAPERS, Pen, long, printable
from tests.handout.reading import flat, pages, shown

HOSTILE = {
    "Aldermere": "<b>Bold</b> & <font size=99>\"quoted\" 'x'</font>",
    "Briskwell": "Peach 🍑 \u200d tree",
    "Candover": "桃太郎" * 67,
    "Dunmarrow": "=HYPERLINK(\"http://x\",\"y\")",
    "Elmsworth": "W" * 200,
    "Farrowby": "(paren) \\ back\\) Tj ET Q",
    "Glenhollow": "long name " * 20,
    "Harrowmead": "\u202eright to left",
    "T 14-203": "x\ny\tz\x00\x07",
}  # fmt: skip


@pytest.fixture(scope="module")
def made(hostile) -> bytes:
    return booklet.pdf(Question(hostile, market="packer"))


def test_every_name_stands_on_its_page_as_it_is(made):
    text = "".join(pages(made))
    for name in HOSTILE.values():
        whole = shown(name)
        assert whole in text or whole[:250] in text  # a name of 200 letters without shapes is cut, with dots
    assert "[U+6843]" in text
    assert "[U+202E]" in text
    assert "\u202e" not in text


def test_the_paper_says_why_there_are_numbers_in_names(made):
    told = flat("A letter that this print has no shape for stands as its number")
    assert told in pages(made)[0]
    assert told in pages(made)[-1]


def test_nothing_in_it_runs_or_leads_out(made):
    read = pypdf.PdfReader(io.BytesIO(made))
    root = read.trailer["/Root"]
    assert not {"/OpenAction", "/AA", "/AcroForm", "/Names"} & set(root)
    for page in read.pages:
        for note in page.get("/Annots", []):
            assert set(note.get_object()) <= {
                "/Type",
                "/Subtype",
                "/Rect",
                "/Border",
                "/Contents",
                "/Dest",
                "/F",
            }
    for mark in (b"/JavaScript", b"/JS", b"/Launch", b"/URI", b"/EmbeddedFile"):
        assert mark not in made


def test_nothing_is_written_outside_the_margins(hostile, monkeypatch):
    seen = []
    write = Pen.write

    def noted(self, x, y, words, size=8.0, bold=False, align="left", room=None, colour="#000000"):
        wide = long(printable(words), size, bold)
        end = wide if room is None else min(room, wide)
        start = x - {"left": 0.0, "right": 1.0, "middle": 0.5}[align] * end
        left, up = self.canvas.absolutePosition(start, self.paper.height - y)
        seen.append((left, self.canvas.absolutePosition(start + end, 0)[0], self.paper.height - up))
        write(self, x, y, words, size, bold, align, room, colour)

    monkeypatch.setattr(Pen, "write", noted)
    booklet.pdf(Question(hostile, market="packer"), "letter")
    paper = PAPERS["letter"]
    assert len(seen) > 1000
    outside = [one for one in seen if one[0] < MARGIN - 0.01 or one[1] > paper.width - MARGIN + 0.01]
    assert outside == []
    assert all(MARGIN <= y <= paper.height - 20 for _, _, y in seen)


def test_a_market_of_endless_words_is_cut_with_dots_on_every_page(hostile):
    name = "<i>Endless</i> " * 400
    market = replace(hostile.markets["packer"], name=name, summary="and so on " * 4000)
    asked = Question(replace(hostile, markets={"packer": market}), market="packer", shortlist=("T 16-007",))
    read = pages(booklet.pdf(asked))
    assert len(read) == 5
    assert all("…" in page for page in read)
    assert all(shown(f"page {number} of 5") in page for number, page in enumerate(read, start=1))


def test_a_long_note_is_cut_with_dots_and_the_page_stays_one(made):
    noted = [page for page in pages(made) if shown("Note: <img src=x>") in page]
    assert len(noted) == 11
    assert all("…" in page for page in noted)
    assert len(pages(made)) == 2 + 11 + 1


def test_that_the_records_are_invented_is_said_before_a_long_title(made):
    for page in pages(made):
        assert shown("Invented example: <h1>Title</h1>") in page
