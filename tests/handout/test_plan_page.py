"""The plan on paper: the strip's own words and days, each of the slate in order of picking, and the same days as a sheet."""

from __future__ import annotations

import io
from dataclasses import replace

import pandas as pd
import pypdf
import pytest

from dashboard import cli
from dashboard.answers.planning import easings, plan
from dashboard.answers.question import Question
from dashboard.handout import booklet, plan_command, workbook
from dashboard.handout import strip as drawing
from dashboard.handout.asking import asking
from dashboard.handout.layout import sheets
from dashboard.handout.paper import PAPERS
from dashboard.handout.plan import question
from dashboard.handout.plan_page import day_rows
from dashboard.handout.plan_page import plan as plan_on_paper
from dashboard.ripening import day_label
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.gaps import days_told
from dashboard.wording.my_site import slate_told
from dashboard.wording.planning import easing_told
from dashboard.wording.strip import drawn
from tests.handout.reading import pages, shown
from tests.handout.test_plan import ASK, options

SEASON = {"opens": "06-10", "closes": "08-31"}
NAMES = ("K16-296", "Trenirrin", "Voskitull", "K19-293", "Oskondo", "K14-047", "K12-123")


@pytest.fixture(scope="module", params=["", "regional_wholesale"], ids=lambda one: one or "one buyer")
def asked(request, demo) -> Question:
    return Question(demo, market="roadside_stand", second=request.param, shortlist=NAMES, **SEASON)


@pytest.fixture(scope="module")
def page(asked) -> str:
    return pages(booklet.pdf(asked))[0]


def test_it_says_how_many_days_have_fruit_often_enough_and_every_gap(asked, page):
    for row in asked.strip.rows:
        assert (
            shown(f"{int(row.covered.sum())} of 83 days have fruit in at least 8 ordinary years in 10")
            in page
        )
        for gap in row.gaps:
            assert shown(days_told(gap.first, gap.last, False)) in page
    assert shown("7 on my slate") in page
    assert (
        shown("Selling Jun 10 to Aug 31; a covered day has fruit in at least 8 ordinary years in 10.") in page
    )


def test_each_stands_in_order_of_picking_with_the_verdict_of_each_buyer(asked, page):
    table = page[page.index(shown("In order of picking")) :]
    at = 0
    for bar in asked.strip.bars:
        found = shown(bar.name, days_told(bar.first, bar.last, False))
        at = table.index(found, at)
        assert shown(*bar.verdicts) in table[at : at + 160]
        bare = [row.cover.left_bare(bar.name) for row in asked.strip.rows]
        told = table[at : table.find("\n", at)]
        if any(bare):
            assert shown(days_told(*next(filter(None, bare))[0], False)) in told


def test_it_says_what_covers_nothing_and_the_cautions(asked, page):
    said = drawn(asked, asked.strip)["said"]
    assert said
    for line in (*said, *CAUTIONS):
        assert shown(line) in page


def test_a_day_is_drawn_as_the_strip_looks_on_it(asked):
    """The cells as they are drawn: their ground, hatched or not, and where each begins and ends."""
    pen, told = Pen(), drawn(asked, asked.strip)
    span = (asked.strip.span[0] - 0.5, asked.strip.span[1] + 0.5)
    drawing._rows(told["rows"], span, False, asked.strip.span[0], pen, 0.0, 0.0, 500.0)
    wide = (500.0 - drawing.NAMES - drawing.DATES) / 83
    cells = [box for box in pen.boxes if box[3] == drawing.CELL]
    looks = "".join(row["cells"] for row in told["rows"])
    assert len(cells) == len(looks)
    for number, (cell, look) in enumerate(zip(cells, looks, strict=True)):
        assert cell[0] == pytest.approx(drawing.NAMES + number % 83 * wide)
        assert cell[4] == {"0": drawing.style.PAPER, "1": drawing.style.PAPER, "3": drawing.DARK}.get(
            look, drawing.PALE
        )
    assert set(looks) >= {"0", "2"}
    for row in told["rows"]:
        for first, last, _ in row["gaps"]:
            ends = (drawing.NAMES + first * wide, drawing.NAMES + (last + 1) * wide)
            assert any(
                line[0] == pytest.approx(ends[0]) and line[2] == pytest.approx(ends[1]) for line in pen.lines
            )


class Pen:
    """Keeps what it is told to draw."""

    def __init__(self) -> None:
        self.boxes: list[tuple] = []
        self.lines: list[tuple] = []

    def box(self, *told) -> None:
        self.boxes.append(told)

    def line(self, *told) -> None:
        self.lines.append(told)

    def write(self, *told, **how) -> None:
        pass


def test_a_name_leads_to_its_page(asked):
    read = pypdf.PdfReader(io.BytesIO(booklet.pdf(asked)))
    leads = [note.get_object()["/Dest"][0].get_object() for note in read.pages[0]["/Annots"]]
    titles = {read.get_destination_page_number(entry): entry["/Title"] for entry in read.outline}
    texts = [titles[read.get_page_number(one)] for one in leads]
    order = [bar.name for bar in asked.strip.bars]
    assert texts == [*order, *order]


@pytest.mark.slow
def test_the_first_of_a_ranking_are_no_plan(demo):
    made = booklet.sections(asking(demo, "roadside_stand"))
    assert [section.key for section in made[:2]] == ["summary", "season"]
    assert booklet.sections(asking(demo, "roadside_stand", "Aldrum"))[0].key == "plan"


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
def test_a_slate_of_twenty_stays_on_one_sheet_and_of_a_hundred_loses_nobody(demo, paper):
    ranking = tuple(str(name) for name in Question(demo, market="roadside_stand").ranking.index)
    for count, most in ((20, 1), (100, 5)):
        asked = Question(demo, market="roadside_stand", shortlist=ranking[:count], **SEASON)
        laid = [
            sheet for sheet in sheets(booklet.sections(asked), PAPERS[paper]) if sheet.section.key == "plan"
        ]
        assert len(laid) <= most
        rows = [row[0] for sheet in laid for block, _ in sheet.placed for row in getattr(block, "rows", ())]
        assert sorted(rows) == sorted(asked.shortlist)


def test_a_sheet_holds_a_day_a_row(asked):
    read = pd.read_excel(
        io.BytesIO(workbook.xlsx(asked)), engine="calamine", sheet_name="selling days", dtype=str
    )
    assert read["Date"].tolist() == [day_label(day, False) for day in asked.strip.rows[0].cover.days]
    assert len(read.columns) == 1 + 2 * len(asked.strip.rows)
    for row in asked.strip.rows:
        covered = [told.split(",")[0] for told in read[f"Covered, {row.buyer}"]]
        assert covered == ["yes" if one else "no" for one in row.covered]
        assert [int(float(one)) for one in read[f"Years of 100 with fruit, {row.buyer}"]] == [
            int(100 * one) for one in row.cover.chance
        ]


def test_fruit_that_may_qualify_is_told_apart(demo):
    asked = Question(demo, market="roadside_stand", shortlist=("Voskitull", "K19-293", "Heskolam"), **SEASON)
    strip = asked.strip
    told = day_rows(asked, strip)["Covered, Roadside stand"].tolist()
    (row,) = strip.rows
    assert "yes, with fruit that may qualify" in told
    assert [one.startswith("yes") for one in told] == row.covered.tolist()
    assert [one == "yes" for one in told] == row.surely.tolist()


@pytest.mark.slow
def test_a_proposal_is_written_for_paper(demo, tmp_path, capsys):
    place = tmp_path / "plan.pdf"
    more = ["--market2", "Regional wholesale", "--most", "8", "--certainty", "7"]
    assert cli.main([*ASK, *more, "--out", str(place)]) == 0
    found = plan(plan_command.wanted(demo, options(*more)))
    assert capsys.readouterr().out.startswith(f"{place} written. 8 cultivars. ")
    asked = question(found)
    assert asked.shortlist == found.names
    assert [[(gap.first, gap.last) for gap in row.gaps] for row in asked.strip.rows] == [
        list(one) for one in found.bare
    ]
    first = pages(place.read_bytes())[0]
    assert shown("My slate for Roadside stand and Regional wholesale") in first
    assert shown("Answer: 8 cultivars. ") in first
    assert shown(f"Would help: {easing_told(easings(found.asked)[0])}"[:60]) in first


def test_hostile_names_stay_text(hostile):
    names = tuple(str(name) for name in hostile.cultivars.index)
    asked = Question(hostile, market=next(iter(hostile.markets)), shortlist=names)
    first = "".join(pages(booklet.pdf(asked))[:2])
    for name in names:
        assert shown(name)[:12] in first


def test_a_place_that_was_chosen_says_who_goes_short_together(well_recorded):
    asked = Question(well_recorded, market="packer", shortlist=("Candover", "Farrowby"))
    chosen = replace(asked, station="River")
    told = {
        one: repr(plan_on_paper(one, one.strip, dict.fromkeys(one.shortlist, "1")).blocks)
        for one in (asked, chosen)
    }
    for line in slate_told(chosen):
        assert line in told[chosen]
        assert line not in told[asked]
    assert slate_told(chosen)
