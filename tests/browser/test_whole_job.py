"""The whole job in one path, as a grower does it: market, filter, box, slate, link, file."""

from __future__ import annotations

import re

import pandas as pd
from playwright.sync_api import expect

from dashboard.answers.question import Question
from dashboard.handout import tables
from dashboard.wording.figures import qualify_told
from tests.browser import pages
from tests.browser.pages import DESK

MARKET = "regional_wholesale"


def test_from_the_first_question_to_the_file_at_home(demo_site, demo, visit, chromium, tmp_path):
    page = visit(demo_site)
    page.get_by_label("Pictures", exact=True).check()
    page.wait_for_url("**/*shown=pictures*")
    assert pages.left(page) == int(Question(demo).passes.sum())

    # Who do you sell to?
    pages.market(page, demo.markets[MARKET].name).check()
    expect(pages.headline(page)).to_contain_text(qualify_told(Question(demo, market=MARKET)))

    # White flesh only.
    pages.tick(page, "white").check()
    asked = Question(demo, market=MARKET, flesh_colour=("white",))
    expect(pages.headline(page)).to_have_text(re.compile(rf"^{int(asked.passes.sum())} of "))
    expect(pages.rows(page).first).to_have_attribute("data-id", asked.ranking.index[0])

    # A box in the first picture chooses in all three, in the words and in the table.
    pages.draw_box(page)
    expect(page.get_by_text(re.compile(r"\d+ cultivars? chosen:"))).to_be_visible()
    picked = pages.chosen(page)
    assert len(picked) == 3
    assert picked[0]
    assert picked[1] == picked[2] == picked[0]
    assert picked[0] == inside_box(asked.ranking, pages.frame_of(page, (0.35, 0.35), (0.65, 0.65)))
    expect(page.get_by_text(re.compile(rf"^{len(picked[0])} cultivars? chosen:"))).to_be_visible()
    listed = picked[0] & pages.names(page)
    expect(page.locator("tbody tr.chosen")).to_have_count(len(listed))
    assert pages.names(page, "tbody tr.chosen") == listed

    # They go on my slate.
    page.get_by_role("button", name="Put the chosen on my slate").click()
    expect(pages.heading(page)).to_have_text(f"{len(picked[0])} on my slate")
    page.wait_for_url(re.compile("shortlist="))

    # Reload: everything is still there.
    told = pages.headline(page).inner_text()
    page.reload()
    pages.awaited(page)
    same_view(page, told, demo, picked[0])

    # A second visitor opens the address and sees the same.
    other = chromium.new_context(viewport=DESK)
    second = visit(demo_site, page.url.removeprefix(demo_site.url), other)
    same_view(second, told, demo, picked[0])
    other.close()

    # It goes home, as a comma file and as a workbook.
    pages.open_tab(page, "My slate")
    expect(pages.rows(page)).to_have_count(len(picked[0]))
    assert pages.names(page) == picked[0]
    pages.open_sheet(page, "Share")
    pages.until(page, "window.Bokeh.documents[0].is_idle")  # the list is drawn and the sheet is whole
    for label, ending in (("List as .csv", "csv"), ("List as .xlsx", "xlsx")):
        with page.expect_download() as coming:
            pages.press_download(page, label)
        file = tmp_path / coming.value.suggested_filename
        coming.value.save_as(file)
        assert file.suffix == f".{ending}"
        back = (
            pd.read_csv(file, encoding="utf-8-sig")
            if ending == "csv"
            else pd.read_excel(file, engine="calamine")
        )
        answer = tables.table(Question(demo, market=MARKET, shortlist=tuple(back["Cultivar"])), "shortlist")
        assert set(back["Cultivar"]) == picked[0]
        assert list(back.columns) == list(answer.columns)
        pd.testing.assert_series_equal(back["Size (in)"], answer["Size (in)"], check_dtype=False)
        assert back["Why"].tolist() == answer["Why"].tolist()


def inside_box(ranking, corners: tuple[float, float, float, float]) -> set[str]:
    """The passing cultivars whose size and sugar lie between the corners of the box, in the picture's own units."""
    left, right, low, high = corners
    size, sugar = ranking["size"] / 25.4, ranking["sugar"]
    return set(ranking.index[size.between(left, right) & sugar.between(low, high)])


def same_view(page, told, demo, picked) -> None:
    expect(pages.headline(page)).to_have_text(told)
    expect(pages.market(page, demo.markets[MARKET].name)).to_be_checked()
    expect(pages.tick(page, "white")).to_be_checked()
    pages.until(page, f"{pages.POINTS}.every(p => p.chosen.length === {len(picked)})")
    assert pages.chosen(page) == [picked, picked, picked]
