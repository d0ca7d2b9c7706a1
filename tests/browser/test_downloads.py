"""Files to take home in the browser: a word while one is made, one file a press, by mouse and by key."""

from __future__ import annotations

import pytest
from playwright.sync_api import Download, expect

from tests.browser import pages
from tests.handout.reading import pages as sheets

SLOW = 60_000  # ms: the process beside the server is started for the first file, and reads the records


@pytest.mark.slow
def test_a_word_is_said_while_a_handout_is_made_and_each_press_gives_one_file(demo_site, visit, chromium):
    listed = "?v=1&tab=shortlist&market=roadside_stand&shortlist=Albavik,Aldrum"
    page = visit(demo_site, listed, chromium.new_context(accept_downloads=True))
    sheet = pages.open_sheet(page, "Share")
    came: list[Download] = []
    page.on("download", lambda one: came.append(one))
    press = sheet.get_by_role("button", name="Handout as .pdf")
    word = sheet.locator(".files + p").first
    with page.expect_download(timeout=SLOW) as first:
        press.click()
        expect(word).to_have_text("Handout as .pdf is being made …")
        expect(press).to_have_attribute("aria-disabled", "true")
    assert first.value.suggested_filename == "orchard-slate-handout.pdf"
    assert len(sheets(first.value.path().read_bytes())) == 6  # the plan comes first
    expect(word).to_have_text("")
    with page.expect_download(timeout=SLOW):  # the same once more
        press.focus()
        page.keyboard.press("Enter")
    expect(press).to_have_attribute("aria-disabled", "false")
    with page.expect_download(timeout=SLOW) as table:
        sheet.get_by_role("button", name="All that pass, as .csv").click()
    assert table.value.path().read_bytes().startswith(b"\xef\xbb\xbfCultivar")
    assert len(came) == 3
    pages.awaited(page)
    page.context.close()
