"""Sheets brought in with a browser, as technicians do it: dropped, asked about, kept; a day sent from the bench page once there is network."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from dashboard.records import read
from dashboard.serving.bringing.room import Room
from tests.browser import axe
from tests.browser.pages import DESK
from tests.records.small import tables, write_folder
from tests.records.trays.test_trays import ROWS, WEEK
from tests.serving.bringing.test_bringing import HOW
from tests.serving.bringing.visitor import SECRET, opened, quick_hash, small_room

DROPPED = """([name, text]) => {
  const held = new DataTransfer();
  held.items.add(new File([text], name));
  document.getElementById("drop").dispatchEvent(new DragEvent("drop", {dataTransfer: held, bubbles: true, cancelable: true}));
}"""


@pytest.fixture
def room(tmp_path, monkeypatch) -> Room:
    quick_hash(monkeypatch)
    return small_room(write_folder(tmp_path / "trial", tables()), sites=lambda: [("low", "Low field")])


@pytest.fixture
def inside(room, chromium: Browser) -> Iterator[Page]:
    """The first page, logged in by keyboard alone."""
    context = chromium.new_context(viewport=DESK)
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    with opened(room) as port:
        page.goto(f"http://localhost:{port}/records")
        page.get_by_label("Your name").focus()
        page.keyboard.type("Ann")
        page.keyboard.press("Tab")
        page.keyboard.type(SECRET)
        page.keyboard.press("Enter")
        expect(page.get_by_role("heading", name="Bring records in")).to_be_visible()
        yield page
        context.close()
    assert faults == []


def test_a_sheet_is_dropped_answered_kept_and_seen(inside, room):
    assert axe.found(inside) == []
    inside.evaluate(DROPPED, ["week 27.csv", WEEK + ROWS])
    expect(inside.get_by_role("heading", name="What your sheets do not say")).to_be_visible()
    assert axe.found(inside) == []
    inside.get_by_label("day/month", exact=True).check()
    inside.reload()  # the form half filled is there again
    expect(inside.get_by_label("day/month", exact=True)).to_be_checked()
    inside.get_by_role("button", name="Go on").click()
    for _ in range(6):
        expect(inside.locator("h1")).to_have_text(re.compile("do not say|would come in"))
        if "would" in inside.locator("h1").inner_text():
            break
        for asked in inside.locator("fieldset").all():
            legend = asked.locator("legend").inner_text()
            for line in asked.locator("tr:visible").all():  # columns: a choice a line
                name = line.locator("b").inner_text()
                if said := next((text for part, text in HOW.items() if part in f"{name}, column"), ""):
                    line.locator("select").select_option(said)
            said = next((text for part, text in HOW.items() if part in legend), "")
            if said and asked.locator(".choices select").count():
                asked.locator(".choices select").select_option(said)
            elif said:
                asked.locator(f".choices input[value='{said}']").check()
        turn = inside.locator("input[name=turn]").get_attribute("value")
        inside.get_by_role("button", name="Go on").click()
        expect(inside.locator(f"input[name=turn][value='{turn}']")).to_have_count(0)
    expect(inside.locator(".sum")).to_contain_text("21read")
    assert axe.found(inside) == []
    inside.get_by_role("button", name="Keep it").click()
    expect(inside.get_by_text("Kept, as import 1.")).to_be_visible()
    assert len(read(room.desk.place).tables["fruit"]) == 14


def measure_alvane(inside):
    inside.goto(f"{inside.url}/bench?site=low&date=2024-07-15")
    inside.locator("#find").fill("Alvane")
    inside.keyboard.press("Enter")
    expect(inside.get_by_role("heading", name="Alvane")).to_be_visible()


def test_a_day_is_typed_without_network_and_sent_with_it(inside, room):
    measure_alvane(inside)
    inside.context.set_offline(True)
    inside.keyboard.type("294288271266")
    inside.get_by_role("button", name="Send Jul 15").click()
    state = inside.locator("#state")
    expect(state).to_contain_text(
        "1 sample not sent yet. Kept in this browser. Not sent. The server cannot be reached."
    )
    inside.context.set_offline(False)
    inside.get_by_role("button", name="Send Jul 15").click()
    expect(state).to_contain_text("Kept: 1 new sample, 2 new fruit.")
    expect(state).to_contain_text("Nothing waits to be sent.")
    assert read(room.desk.place).tables["fruit"]["suture_mm"].iloc[-2:].round(1).tolist() == [74.7, 68.8]


@pytest.mark.slow
def test_a_value_that_was_corrected_after_it_was_sent_is_asked_about(inside, room):
    measure_alvane(inside)
    inside.keyboard.type("294288")
    inside.locator("#send").click()
    expect(inside.locator("footer")).to_contain_text("Kept: 1 new sample, 1 new fruit.")
    inside.locator("button.cell").first.click()
    inside.keyboard.type("284")
    inside.locator("#send").click()
    asked = inside.locator("#differs")
    expect(asked).to_contain_text("Jul 15: 1 value differs from what was sent: replace it?")
    assert axe.found(inside) == []
    assert read(room.desk.place).tables["fruit"]["suture_mm"].iloc[-1] == pytest.approx(2.94 * 25.4)
    asked.get_by_role("button", name="Replace it").click()
    expect(inside.locator("footer")).to_contain_text("1 value replaced.")
    expect(asked).to_be_hidden()
    assert read(room.desk.place).tables["fruit"]["suture_mm"].iloc[-1] == pytest.approx(2.84 * 25.4)
