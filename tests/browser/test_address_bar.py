"""The address is the question: bad links are told and run nothing; back and forward walk through the choices."""

from __future__ import annotations

import re
from urllib.parse import quote

import pytest
from playwright.sync_api import expect

from dashboard.answers.question import Question
from tests.browser import pages

EVIL = "<img src=x onerror=window.hurt=1>"


def test_a_bad_link_is_told_on_the_screen_and_nothing_in_it_is_run(demo_site, demo, visit):
    query = (
        f"?v=1&flesh_colour=white,{quote(EVIL)}&market={quote(EVIL)}&{quote(EVIL)}=1&seasons=99&tab=nowhere"
    )
    page = visit(demo_site, query)
    notices = page.locator("p.notice")
    expect(notices).to_have_count(5)
    assert notices.first.get_attribute("role") == "alert"
    assert EVIL in notices.first.inner_text()
    assert pages.left(page) == int(Question(demo, flesh_colour=("white",)).passes.sum())
    expect(pages.tick(page, "white")).to_be_checked()
    assert page.locator("p.notice img").count() == 0
    assert pages.hurt(page) is None


@pytest.mark.slow
def test_a_link_of_a_newer_version_is_told_and_followed_as_far_as_it_can_be(demo_site, visit):
    page = visit(demo_site, "?v=9&flesh_colour=white")
    expect(page.locator("p.notice")).to_have_text(re.compile("another version"))
    expect(pages.tick(page, "white")).to_be_checked()


@pytest.mark.slow
def test_a_link_opens_the_tab_it_names(demo_site, demo, visit):
    name = demo.cultivars.index[5]
    page = visit(demo_site, f"?v=1&cultivar={quote(name)}&tab=cultivar")
    expect(page.get_by_role("tab", name="One cultivar")).to_have_attribute("aria-selected", "true")
    expect(page.get_by_role("heading", name=name, exact=True)).to_be_visible()


def test_back_walks_one_choice_back_and_forward_makes_it_again(demo_site, demo, visit):
    page = visit(demo_site)
    everything = pages.headline(page).inner_text()
    pages.tick(page, "white").check()
    page.wait_for_url(re.compile("flesh_colour=white"))
    expect(pages.headline(page)).not_to_have_text(everything)  # it may come a moment after the address
    white = pages.headline(page).inner_text()
    pages.tick(page, "nectarine").check()
    page.wait_for_url(re.compile("fruit_type=nectarine"))
    expect(pages.headline(page)).not_to_have_text(white)
    both = pages.headline(page).inner_text()
    assert len({everything, white, both}) == 3

    page.go_back()
    expect(pages.headline(page)).to_have_text(white)
    expect(pages.tick(page, "nectarine")).not_to_be_checked()
    expect(pages.tick(page, "white")).to_be_checked()
    page.go_back()
    expect(pages.headline(page)).to_have_text(everything)
    page.go_forward()
    expect(pages.headline(page)).to_have_text(white)
    page.go_forward()
    expect(pages.headline(page)).to_have_text(both)
    assert "fruit_type=nectarine" in page.url


@pytest.mark.slow
def test_back_from_a_tab_goes_to_the_tab_before(demo_site, visit):
    page = visit(demo_site)
    pages.open_tab(page, "Season")
    page.wait_for_url(re.compile("tab=season"))
    page.go_back()
    expect(page.get_by_role("tab", name="Candidates")).to_have_attribute("aria-selected", "true")
