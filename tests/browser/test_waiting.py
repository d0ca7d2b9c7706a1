"""What a visitor sees while the page is coming, and while an answer is."""

from __future__ import annotations

import os
import signal
import sys

import pytest
from playwright.sync_api import expect

from tests.browser import pages

# A browser that tells the server that its page stands when it is let. A message is three frames: head, more, content.
READY_LATE = """(() => {
  const send = WebSocket.prototype.send;
  let frames = [];
  WebSocket.prototype.send = function (frame) {
    frames.push(frame);
    if (frames.length < 3) return;
    const message = frames.splice(0);
    const tell = () => message.forEach((part) => send.call(this, part));
    if (String(message[2]).includes("document_ready")) window.tellThatItStands = tell;
    else tell();
  };
})();"""


@pytest.mark.skipif(sys.platform == "win32", reason="a process cannot be held up there")
def test_what_is_not_answered_soon_is_said_to_be_worked_on(demo_site, visit):
    page = visit(demo_site)
    working = page.locator("#working")
    pages.tick(page, "white").check()
    page.wait_for_url("**/*flesh_colour=white*")
    page.wait_for_timeout(1000)  # nothing is said meanwhile
    expect(working).to_be_hidden()  # it was soon
    os.kill(demo_site.pid, signal.SIGSTOP)
    try:
        pages.tick(page, "yellow").check()
        expect(working).to_be_visible()
        assert working.get_attribute("role") == "status"
    finally:
        os.kill(demo_site.pid, signal.SIGCONT)
    page.wait_for_url("**/*yellow*")
    expect(working).to_be_hidden()


def test_until_there_is_something_to_see_the_page_says_that_it_is_coming(demo_site, visit, desk):
    page = desk.new_page()
    page.route("**/bokeh.min.js*", lambda _route: None)  # on its way
    page.goto(demo_site.url, wait_until="commit")
    expect(page.locator("#opening")).to_be_visible()
    page.close()
    expect(visit(demo_site).locator("#opening")).to_have_count(0)


def test_a_choice_made_before_the_server_knows_that_the_page_stands_is_answered(demo_site, visit, chromium):
    context = chromium.new_context()
    context.add_init_script(READY_LATE)
    page = visit(demo_site, "", context)
    first = pages.rows(page).first
    before = first.inner_text()
    pages.tick(page, "white").check()
    page.evaluate("tellThatItStands()")
    page.wait_for_url("**/*flesh_colour=white*")
    expect(first).not_to_have_text(before, use_inner_text=True)
    context.close()
