"""How many trees in the browser: typed, planned beside the server, taken home, and opened again by its link."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser import pages
from tests.browser.test_touch import swiped

ASKED = "?v=1&tab=order&market=roadside_stand&shortlist=Rusvet,Mulvet,Quaskel&opens=06-20&closes=07-10"


def test_an_order_is_typed_planned_and_opens_again_by_its_link(demo_site, visit, phone):
    page = visit(demo_site, ASKED, phone)
    plan = page.get_by_role("button", name="Plan it")
    plan.tap()
    expect(page.get_by_text("Type the pounds you want each week")).to_be_visible()
    pounds = page.get_by_label("Pounds wanted each week")
    pounds.fill("<b>much</b>")
    pounds.press("Enter")
    expect(page.get_by_role("alert").filter(has_text="is no amount of fruit")).to_be_visible()
    pounds.fill("20 bushels")
    plan.tap()  # the field is left by it, and nothing moves away under the finger
    order = page.get_by_role("heading", name="Order ")
    expect(order).to_be_visible(timeout=150_000)
    expect(page.get_by_role("img", name="Fruit by week")).to_be_visible()
    sheet = page.get_by_role("button", name="Order sheet as .xlsx")
    expect(sheet).to_be_visible(timeout=150_000)
    with page.expect_download() as taken:
        sheet.tap()
    assert taken.value.suggested_filename == "tree-order.xlsx"
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")

    said = order.inner_text()
    assert "weekly=960" in page.url
    page.reload()
    pages.awaited(page)
    expect(order).to_have_text(said, timeout=150_000)


def top_of(page, place: int) -> tuple[float, float]:
    """Where on the screen the top of a week's bar is."""
    box = page.locator(".drawn .bar .top").nth(place).bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_weeks_are_drawn_by_mouse_and_undone(demo_site, visit):
    page = visit(demo_site, f"{ASKED}&weekly=500")
    page.get_by_text("Another amount in some weeks").click()
    week = page.get_by_label("Jun 27", exact=True)
    expect(week).to_have_value("500")
    page.locator(".drawn").scroll_into_view_if_needed()
    x, y = top_of(page, 1)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y - 30, steps=4)
    drawn = int(
        week.input_value()
    )  # it follows the pointer: a quarter of the height, 1,000 lb, in steps of 20
    assert drawn in (740, 760)
    page.mouse.up()
    pages.until(page, f"location.search.includes('weeks=06-27+{drawn}')")
    bar = page.locator(".drawn .bar").nth(2).bounding_box()
    page.mouse.click(bar["x"] + bar["width"] / 2, bar["y"] + bar["height"] * 0.9)
    expect(page.get_by_label("Jul 4", exact=True)).not_to_have_value("500")
    for _ in range(2):
        page.get_by_role("button", name="Undo").click()
    expect(week).to_have_value("500")
    expect(page.get_by_label("Jul 4", exact=True)).to_have_value("500")
    week.fill("900")
    week.press("Enter")
    expect(week).to_have_value("900")


@pytest.mark.slow
def test_the_top_of_a_bar_follows_a_thumb_and_the_rest_of_the_picture_moves_the_page(demo_site, visit, phone):
    page = visit(demo_site, f"{ASKED}&weekly=390", phone)
    page.get_by_text("Another amount in some weeks").tap()
    week, other = (page.get_by_label(day, exact=True) for day in ("Jun 27", "Jun 20"))
    page.locator(".drawn").evaluate("at => at.scrollIntoView({ block: 'center' })")
    before = pages.scrolled(page)
    pages.drag_thumb(page, *top_of(page, 1), 30)
    pages.until(page, "location.search.includes('weeks=06-27')")
    assert int(week.input_value()) in range(250, 281, 10)  # a quarter of 500 lb less
    assert pages.scrolled(page) == before
    assert swiped(page, page.locator(".drawn .bar").first)
    expect(other).to_have_value("390")
