"""The handout for paper holds the page's own figures, page by page."""

from __future__ import annotations

import datetime as dt
import io
import re
from dataclasses import replace

import pypdf
import pytest

from dashboard.answers import catalogue as catalogues
from dashboard.answers.question import Question
from dashboard.charts import listing
from dashboard.handout import booklet
from dashboard.handout.asking import FIRST
from dashboard.handout.layout import sheets
from dashboard.handout.paper import PAPERS
from dashboard.page.tabs.account import account_told, costs_view
from dashboard.page.tabs.closers import closers_view, gaps_told
from dashboard.page.tabs.evidence import chances_view, values_view
from dashboard.ripening import date_label
from dashboard.terms.glossary import TERMS
from dashboard.terms.traits import HEADLINE
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.columns import chosen
from dashboard.wording.facts import facts
from dashboard.wording.figures import qualify_told
from tests.handout.conftest import NAMES
from tests.handout.reading import page_of, pages, plain, shown


@pytest.fixture(scope="module")
def made(asked) -> bytes:
    return booklet.pdf(asked)


@pytest.mark.alike(3)
def test_it_is_a_plan_a_summary_a_season_a_page_a_cultivar_and_the_meanings(made, asked):
    assert len(pages(made)) == 3 + len(NAMES) + 1
    order = asked.shortlisted.sort_values("rank").index
    assert pages(made)[2].startswith("Season")
    for page, name in zip(pages(made)[3:], order, strict=False):
        assert page.startswith(shown(name))
    assert pages(made)[-1].startswith("Meanings")


@pytest.mark.alike(3)
def test_every_trait_is_written_as_on_the_page(made, asked):
    for name in NAMES:
        one = replace(asked, cultivar=name)
        page = page_of(made, name)
        for line in values_view(one)["rows"]:
            assert shown(*line["cells"]) in page


def test_the_facts_are_those_of_the_page(made, asked):
    for name in NAMES:
        page, one = page_of(made, name), replace(asked, cultivar=name)
        for label, told in facts(asked.catalogue, one.dossier, asked.units):
            assert shown(label, ":", told) in page


def test_the_market_s_account_is_that_of_the_page(made, asked):
    for name in NAMES:
        page, one = page_of(made, name), replace(asked, cultivar=name)
        if not asked.profile:
            assert "score" not in page.lower()
            continue
        assert shown(asked.profile.name, ":", asked.reason(name)) in page
        for line in plain(account_told(one)):
            assert shown(line) in page
        costs, limits = costs_view(one)["rows"], chances_view(one)["rows"]
        assert costs
        assert limits
        for cells in [line["cells"] for line in costs] + [line["cells"][:-1] for line in limits]:
            assert shown(*cells) in page


def test_the_summary_ranks_as_the_page_does(made, asked):
    """Each line from its place to the number of its page, in the order of the ranking."""
    summary, at = pages(made)[1], 0
    table = asked.shortlisted.sort_values("rank")
    told_of = listing.table(asked, table, listed=True)
    keys, listed = [column["key"] for column in told_of["columns"]], told_of["rows"]
    for place, (name, values, line) in enumerate(
        zip(table.index, table.to_dict("records"), listed, strict=True), start=1
    ):
        cells = dict(zip(keys, line["cells"], strict=True))
        counts = [values[one] for one in ("seasons", "sites", "samples")]
        if asked.profile:  # the score, in or out, the chance, the usual window
            chance = cells["stands"][0].rpartition(", ")[2]
            told = [cells["score"][0], values["verdict"], chance, cells["first"][0], *counts]
        else:  # size, firmness and sugar with their intervals, the usual window
            told = [*(cells[trait][0] for trait in HEADLINE), cells["first"][0], counts[0], counts[2]]
        at = summary.index(shown(place, name, cells["name"][3], *told, place + 3), at)


@pytest.mark.alike(3)
def test_the_summary_tells_the_columns_that_were_chosen(asked):
    """Each line from its name to the last of them, in the order of the ranking."""
    told = replace(asked, columns=("winter_chill", "price", "nursery"))
    summary, columns = pages(booklet.pdf(told))[1], chosen(told)
    assert shown(*(column.heading(told) for column in columns)) in summary
    for row in listing.each(told.shortlisted):
        for column in columns:
            assert shown(column.told(told, row)) in summary
    assert shown("The columns you chose") not in pages(booklet.pdf(asked))[1]


def test_the_summary_says_what_was_asked(made, asked):
    summary = pages(made)[1]
    catalogue = asked.catalogue
    for words in (
        catalogue.records_title, "Invented example", catalogue.version, date_label(dt.date.today()),
        f"{int(asked.passes.sum())} of 355 sampled cultivars pass the filters", "Filters: none", "a slate of 4", *CAUTIONS,
    ):  # fmt: skip
        assert shown(words) in summary
    if asked.profile:
        assert shown(qualify_told(asked)) in summary
    if asked.site:
        assert shown("Ondry Ridge block") in summary


def test_the_season_and_its_gaps_are_those_of_the_page(made, asked):
    season = pages(made)[2]
    stated, by_day, *more = plain(gaps_told(asked))
    for line in (stated, by_day.replace("red", "hatched"), *more):
        assert shown(line) in season
    rows = closers_view(asked)["rows"]
    assert rows
    for line in rows:
        if line["cells"][0]:
            assert shown("Gap", line["cells"][0], ".") in season
        if line["name"]:
            assert shown(f"{line['name']} (closes {line['cells'][4]} day") in season
        else:
            assert shown("None that passes the filters and qualifies, or may, would close it.") in season


@pytest.mark.slow
def test_a_season_without_a_gap_says_so(demo):
    asked = booklet.with_shortlist(Question(demo, market="roadside_stand", ripening=("08b",)))
    assert not asked.cover.gaps
    season = page_of(booklet.pdf(asked), "Season")
    assert shown("Each of the 16 days has fruit in at least 8 ordinary years in 10.") in season
    assert "Gap" not in season


def test_a_season_with_gaps_does_not_say_that_there_is_none(made):
    assert "Nogap" not in pages(made)[2]


def test_every_page_says_whose_when_which_market_and_that_it_holds_there_only(made, asked):
    count = len(pages(made))
    market = asked.profile.name if asked.profile else "none"
    for number, page in enumerate(pages(made), start=1):
        for words in (
            "Invented example: Larrow Valley peach and nectarine trials",
            f"Made {date_label(dt.date.today())}; data version {asked.catalogue.version}; market: {market}",
            "Trial results hold for the sites and seasons they come from.", f"page {number} of {count}",
        ):  # fmt: skip
            assert shown(words) in page


def test_the_meanings_are_those_of_the_list(made):
    for term in TERMS:
        assert shown(term.name, term.meaning) in pages(made)[-1]


def test_the_file_has_a_title_a_language_and_a_list_of_pages(made, asked):
    read = pypdf.PdfReader(io.BytesIO(made))
    assert asked.catalogue.records_title in read.metadata.title
    assert asked.catalogue.version in read.metadata.subject
    assert read.trailer["/Root"]["/Lang"] == "en"
    titles = [entry["/Title"] for entry in read.outline]
    assert titles == ["Plan", "Summary", "Season", *asked.shortlisted.sort_values("rank").index, "Meanings"]


def test_a_name_in_the_summary_leads_to_its_page(made, asked):
    read = pypdf.PdfReader(io.BytesIO(made))
    leads = [note.get_object()["/Dest"][0] for note in read.pages[1]["/Annots"]]
    assert [read.get_page_number(page.get_object()) for page in leads] == [3, 4, 5, 6]


@pytest.mark.parametrize(
    ("units", "paper", "size"),
    [("us", "", PAPERS["letter"]), ("si", "", PAPERS["a4"]), ("us", "a4", PAPERS["a4"]), ("si", "letter", PAPERS["letter"])],
)  # fmt: skip
def test_the_paper_goes_with_the_units_unless_it_is_chosen(catalogue, units, paper, size):
    made = booklet.pdf(Question(catalogue, shortlist=("Aldermere",), units=units), paper)
    box = pypdf.PdfReader(io.BytesIO(made)).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((size.width, size.height), abs=0.01)


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
def test_thirty_cultivars_take_a_page_each(demo, paper):
    asked = Question(demo, market="long_distance_shipper")
    laid = sheets(booklet.sections(asked), PAPERS[paper])
    assert len(laid) == FIRST + 3
    assert all(sheet.first for sheet in laid)


def test_each_page_is_told_as_it_is_made(catalogue):
    told = []
    made = booklet.pdf(Question(catalogue, shortlist=("Aldermere", "Candover")), progress=lambda *at: told.append(at))  # fmt: skip
    assert told == [(number, 6) for number in range(1, 7)]
    assert len(pages(made)) == 6


def test_what_was_never_picked_or_read_says_so(catalogue):
    made = booklet.pdf(Question(catalogue, market="packer", shortlist=("Unpicked", "T 15-118")))
    unpicked, unread = page_of(made, "Unpicked"), page_of(made, "T 15-118")
    assert shown("No pick of it is on record.") in unpicked
    assert shown("Size (in)", "not recorded") in unpicked
    assert shown("Sugar (°Brix)", "not recorded") in unread
    whole = "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(made)).pages)
    assert not re.search(r"\b(nan|None|NaT)\b", whole)


def test_where_nothing_passes_the_paper_says_so(catalogue):
    made = booklet.pdf(Question(catalogue, flesh_colour=("red",), fruit_type=("nectarine",)))
    assert len(pages(made)) == 2
    assert shown("No cultivar passes the filters.") in pages(made)[0]


def test_records_without_a_model_say_what_they_cannot_tell(catalogue, summaries, fruit):
    """One cultivar of one season: no ripening model, no cover, no chances, and still a handout."""
    few = (summaries["cultivar"] == "Harrowmead") & (summaries["season"] == 2021)
    cultivars = catalogue.cultivars.loc[["Harrowmead"]].reset_index()
    own = fruit[fruit["sample"].isin(summaries.loc[few, "sample"])]
    known = catalogues.catalogue(
        cultivars, summaries[few].reset_index(drop=True), own.reset_index(drop=True), sites=catalogue.sites,
        markets=catalogue.markets, version="few",
    )  # fmt: skip
    assert known.ripening.refused
    made = booklet.pdf(Question(known, market="packer", shortlist=("Harrowmead",)))
    assert shown(known.ripening.refused) in pages(made)[1]
    assert shown("How sure that is cannot be told.") in pages(made)[1]
    assert "90%certainty" not in pages(made)[1]
    asked = Question(known, market="packer")
    assert asked.refused
    assert (
        shown("Chances cannot be given for this market, so its averages decide: ", asked.refused)
        in pages(made)[0]
    )
    assert shown("usually") in page_of(made, "Harrowmead")


@pytest.mark.slow
def test_what_was_borrowed_for_a_chance_is_told_in_full(catalogue, summaries, fruit):
    """Every cultivar in one season only: the page says from where the ratio comes, and so does the paper."""
    own = summaries[summaries["season"] == 2021].reset_index(drop=True)
    known = catalogues.catalogue(
        catalogue.cultivars.reset_index(), own, fruit[fruit["sample"].isin(own["sample"])].reset_index(drop=True),
        sites=catalogue.sites, markets=catalogue.markets, version="one season",
    )  # fmt: skip
    asked = Question(known, market="packer", shortlist=("Aldermere",), cultivar="Aldermere")
    limits = chances_view(asked)["rows"]
    assert all(line["cells"][-1] for line in limits)
    page = page_of(booklet.pdf(asked), "Aldermere")
    for line in limits:
        assert shown(*line["cells"][:-1]) in page
        assert shown(line["cells"][-1]) in page
