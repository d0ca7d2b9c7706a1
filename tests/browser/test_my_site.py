"""My site in the browser: a station, a file of one's own in pieces, and a file that is none."""

from __future__ import annotations

from importlib.metadata import version

import pytest
from playwright.sync_api import expect

from dashboard.places import warm_weather
from tests.browser import pages


def test_a_file_of_weather_takes_the_place_of_the_station_and_goes_again(demo_site, visit, tmp_path):
    page = visit(demo_site, "?v=1&tab=site")
    expect(page.get_by_role("heading", name="Maravel Station")).to_be_visible()
    mine = tmp_path / "mine.csv"
    mine.write_bytes(warm_weather().read_bytes())
    label = page.get_by_label("Open a file of your own weather")
    label.set_input_files(mine)
    expect(page.get_by_role("heading", name="mine.csv")).to_be_visible()
    expect(page.get_by_role("group", name="Chill of 25 winters")).to_be_visible()
    assert "mine" not in page.url

    hostile = tmp_path / "<img src=x onerror=window.hurt=1>.csv"
    hostile.write_text("date,tmin_c\n<img src=x onerror=window.hurt=1>,2\n", encoding="utf-8")
    label.set_input_files(hostile)
    expect(page.get_by_role("alert").filter(has_text="is not a date").first).to_be_visible()
    assert pages.hurt(page) is None

    page.get_by_role("button", name="Take my weather off").click()
    expect(page.get_by_role("heading", name="Maravel Station")).to_be_visible()

    group = page.locator("g.need").last  # who is behind a label is told where it is pressed
    group.focus()
    expect(group.locator(".who")).to_be_visible()

    there = page.get_by_role("tabpanel", name="My site")  # the filter's own boxes and field, here too
    number = there.get_by_label("Or type: Winter chill needed at most")
    number.fill("about 600")
    number.press("Enter")
    expect(there.get_by_text("Write a whole number")).to_be_visible()
    number.fill("650")
    number.press("Enter")
    expect(there.get_by_role("checkbox", name="650 hours")).to_be_checked()
    expect(there.get_by_text("cultivars pass with winter chill needed at most 650 hours")).to_be_visible()
    expect(number).to_be_focused()
    assert "chill=650h" in page.url
    number.fill("")
    number.press("Enter")
    expect(there.get_by_role("checkbox", name="650 hours")).not_to_be_checked()


@pytest.mark.slow
def test_a_change_of_site_is_one_message_up_and_all_that_follows_comes_down(demo_site, desk):
    page = desk.new_page()
    with pages.messages(page) as heard:
        page.goto(demo_site.url + "?v=1&tab=site")
        pages.awaited(page)
        expect(page.get_by_role("heading", name="Maravel Station")).to_be_visible()
        page.wait_for_timeout(500)  # nothing of the opening comes any more
        heard.clear()
        page.get_by_role("tabpanel", name="My site").get_by_role("radio", name="Tessock Bottom block").check()
        expect(page.get_by_role("heading", name="Tessock Bottom block")).to_be_visible()
        page.wait_for_timeout(500)  # nothing more comes
    page.close()
    ours = [text for way, text in heard if way == "up" and '"tick"' in text]
    assert len(ours) == 1
    changes = [text for way, text in heard if way == "down" and "PATCH-DOC" in text]
    assert 1 <= len(changes) <= (20 if version("panel").startswith("1.10") else 1)  # as a slider's
