"""How many trees in the browser: typed, planned beside the server, taken home, and opened again by its link."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser import pages

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
