"""The connection lost: told at once, and every choice comes back, whether the network or the server went away."""

from __future__ import annotations

import contextlib
import socket
import threading
import time
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser import pages, sets
from tests.browser.pages import DESK
from tests.serving import Served, free_port


class Wire:
    """A stretch of network between browser and server that can be cut."""

    def __init__(self) -> None:
        self.port = free_port()
        self.to: int | None = None  # the server's port; None while cut
        self._open: list[socket.socket] = []
        self._ear = socket.create_server(("localhost", self.port))
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        while True:
            try:
                here, _ = self._ear.accept()
            except OSError:
                return
            if self.to is None:
                here.close()
                continue
            there = socket.create_connection(("localhost", self.to))
            self._open += [here, there]
            for pair in ((here, there), (there, here)):
                threading.Thread(target=self._carry, args=pair, daemon=True).start()

    @staticmethod
    def _carry(one: socket.socket, other: socket.socket) -> None:
        try:
            while part := one.recv(65536):
                other.sendall(part)
        except OSError:
            pass
        for end in (one, other):
            end.close()

    def cut(self) -> None:
        self.to = None
        for end in self._open:
            with contextlib.suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)
        self._open.clear()

    def end(self) -> None:
        self.cut()
        self._ear.close()


@pytest.fixture
def wire() -> Iterator[Wire]:
    made = Wire()
    yield made
    made.end()


def opened(chromium: Browser, wire: Wire) -> Page:
    page = chromium.new_context(viewport=DESK).new_page()
    page.goto(f"http://localhost:{wire.port}/")
    pages.awaited(page)
    pages.tick(page, "white").check()
    page.wait_for_url("**/*flesh_colour=white*")
    return page


def came_back(page: Page) -> None:
    expect(page.locator("#connection-lost")).to_have_count(0)
    pages.awaited(page)
    expect(pages.tick(page, "white")).to_be_checked()
    pages.tick(page, "yellow").check()  # and it answers
    page.wait_for_url("**/*flesh_colour=*yellow*")


def test_choices_come_back_when_the_network_does_and_when_the_server_was_started_anew(
    chromium, wire, tmp_path
):
    records = sets.hostile(tmp_path / "records")
    origin = ("--origin", f"localhost:{wire.port}")
    with Served(records, *origin) as server:
        wire.to = server.port
        page = opened(chromium, wire)

        wire.cut()
        lost = page.locator("#connection-lost")
        expect(lost).to_contain_text("Your choices are kept")
        assert lost.get_attribute("role") == "alert"
        page.wait_for_timeout(5000)  # it goes on asking
        expect(lost).to_be_visible()
        wire.to = server.port
        came_back(page)
        wire.cut()
        expect(lost).to_be_visible()
    with Served(records, *origin) as another:  # who knows nothing of the visitor
        wire.to = another.port
        came_back(page)
    page.context.close()


@pytest.mark.slow
def test_in_the_hall_what_needs_no_server_goes_on_and_the_loss_is_told(wire, through):
    page, port = through
    page.set_viewport_size({"width": 911, "height": 512})
    pages.into_hall(page)
    hall = page.get_by_role("dialog", name="Hall view")
    expect(hall).to_be_visible()
    page.wait_for_url("**/*look=hall*")
    page.keyboard.press("c")
    expect(hall.locator(".code")).to_be_visible()

    wire.cut()
    lost = page.locator("#connection-lost")
    expect(lost).to_contain_text("The connection to the server is lost")
    assert lost.evaluate("""at => {
      const { left, top, width, height } = at.getBoundingClientRect();
      const seen = at.getRootNode().elementFromPoint(left + width / 2, top + height / 2);
      return at.getAttribute("role") === "alert" && Boolean(at.closest("dialog")) && at.contains(seen);
    }""")
    page.keyboard.press("c")
    expect(hall.locator(".code")).to_be_hidden()
    for key in ("f", "s", "ArrowRight"):  # what nobody answers is not offered
        page.keyboard.press(key)
    expect(hall.locator(".finding")).to_be_hidden()
    expect(hall.get_by_role("button", name="next (→)")).to_be_hidden()
    page.keyboard.press("?")
    expect(hall.get_by_role("heading", name="Keys")).to_be_visible()
    page.keyboard.press("ArrowDown")
    expect(hall.get_by_text("leave the hall view; Esc does it too")).to_be_in_viewport()
    page.keyboard.press("Escape")
    expect(hall.get_by_role("heading", name="Keys")).to_be_hidden()
    page.keyboard.press("h")
    expect(hall).to_be_hidden()
    assert "look=hall" not in page.url
    expect(lost).to_be_visible()
    expect(lost).to_contain_text("as it was before the hall view")
    page.set_viewport_size(DESK)  # where the choices lie beside the page
    wire.to = port
    came_back(page)
    expect(page.get_by_role("dialog")).to_have_count(0)


@pytest.mark.slow
def test_the_hall_comes_back_with_the_server(wire, through):
    page, port = through
    pages.into_hall(page)
    page.wait_for_url("**/*look=hall*")
    expect(page.get_by_role("dialog", name="Hall view")).to_be_visible()
    page.keyboard.press("ArrowRight")
    page.wait_for_url("**/*cultivar=*")
    named = page.locator("dialog h2.name").inner_text()
    wire.cut()
    expect(page.locator("dialog #connection-lost")).to_be_visible()
    wire.to = port
    expect(page.locator("#connection-lost")).to_have_count(0)
    expect(page.locator("dialog[open] h2.name")).to_have_text(named)


@pytest.fixture
def through(chromium, wire, tmp_path) -> Iterator[tuple[Page, int]]:
    """A page that was opened through the wire, and its server's port."""
    with Served(sets.hostile(tmp_path / "records"), "--origin", f"localhost:{wire.port}") as server:
        wire.to = server.port
        page = opened(chromium, wire)
        yield page, server.port
        page.context.close()


@pytest.mark.slow
def test_choices_come_back_after_a_minute_without_network(wire, through):
    page, port = through
    wire.cut()
    page.wait_for_timeout(60_000)  # the minute itself
    expect(page.locator("#connection-lost")).to_be_visible()
    wire.to = port
    came_back(page)


@pytest.mark.slow
def test_choices_come_back_when_a_phone_was_locked_for_four_minutes(wire, through):
    """A locked phone stops the page's clock and lets its connection go; the server ends the visit meanwhile."""
    page, port = through
    phone = page.context.new_cdp_session(page)
    phone.send("Page.setWebLifecycleState", {"state": "frozen"})
    wire.cut()
    time.sleep(240)  # the four minutes themselves
    wire.to = port
    phone.send("Page.setWebLifecycleState", {"state": "active"})
    came_back(page)
