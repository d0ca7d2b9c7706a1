"""What a person at the browser waits for: from the input event, or from setting out, to the last changed pixel.

The ruler is Chromium's own screencast: the compositor hands over a frame whenever it has drawn one, with the time it
did. A frame counts only if its picture differs from the one before, so a redraw of the same pixels is no change.
It sees the canvas of any library, text and style changes alike, costs the page's main thread nothing (reading canvases in
requestAnimationFrame would), and needs no word from the page about being finished, so the same ruler lies on every peer.
Two safeguards: after each change the final frame is fetched again, and a measurement whose last seen frame was another is
thrown away; ``ruler.html`` changes one box at a known time after the click, and what the ruler says of it is printed.
"""

from __future__ import annotations

import base64
import hashlib
import time
from collections.abc import Callable
from dataclasses import dataclass

from playwright.sync_api import Browser, BrowserContext, CDPSession, Page, Playwright

CHROMIUM = "/usr/bin/chromium"
FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
SIZE = {"width": 1366, "height": 768}
QUIET = 1.5  # seconds without a changed frame and without a message: then it is over
LONGEST = 90.0
# When the input came; and turning wheels stand still, for filming one would take the processor from the page that turns it.
_MARK = """
for (const input of ['pointerup', 'keydown'])
  window.addEventListener(input, e => { window.pressedAt = performance.timeOrigin + e.timeStamp }, true);
const still = new CSSStyleSheet();
still.replaceSync('*, *::before, *::after { animation: none !important }');
document.adoptedStyleSheets = [still];
"""


@dataclass(frozen=True)
class Waited:
    """One change, or one opening, as the browser saw it; ``sound`` is False when a frame was missed."""

    ms: float
    first_ms: float  # to the first changed pixel
    messages: int  # received over websockets
    received: int  # bytes
    sent: int  # bytes
    sound: bool


def opened(playwright: Playwright, chromium: str = CHROMIUM) -> Browser:
    return playwright.chromium.launch(executable_path=chromium, args=list(FLAGS))


def fresh(browser: Browser) -> BrowserContext:
    """A context with an empty cache."""
    context = browser.new_context(viewport=SIZE)
    context.add_init_script(_MARK)
    return context


def renderer_ms(processes: CDPSession) -> float:
    """CPU time so far of all pages of a browser; ``processes`` is a session with the browser itself."""
    listed = processes.send("SystemInfo.getProcessInfo")["processInfo"]
    return 1000 * sum(process["cpuTime"] for process in listed if process["type"] == "renderer")


class Watch:
    """Frames and websocket messages of one page."""

    def __init__(self, page: Page):
        self.page = page
        self._frames: list[tuple[float, str]] = []  # ms since the epoch, fingerprint of the picture
        self._messages = self._received = self._sent = 0
        self._stirred = time.monotonic()
        self._cdp = page.context.new_cdp_session(page)
        self._cdp.on("Page.screencastFrame", self._frame)
        self._cdp.on("Network.webSocketFrameReceived", lambda event: self._message(event, True))
        self._cdp.on("Network.webSocketFrameSent", lambda event: self._message(event, False))
        self._cdp.send("Network.enable")
        self._cdp.send("Page.enable")

    def change(self, press: Callable[[], None]) -> Waited:
        """``press`` makes one input; the page must be at rest before."""
        self._film()
        self._rest(0.6)
        before = self._frames[-1][1]
        self._forget()
        press()
        self._rest(QUIET)
        start = float(self.page.evaluate("window.pressedAt"))
        return self._waited(start, before)

    def opening(self, url: str) -> Waited:
        """From setting out for ``url`` to the last changed pixel."""
        self._film()
        self._rest(0.3)
        before = self._frames[-1][1]
        self._forget()
        self.page.goto(url, wait_until="commit")
        start = float(self.page.evaluate("performance.timeOrigin"))
        self._rest(2 * QUIET)  # an opening has longer silences: scripts are being read
        return self._waited(start, before)

    def _waited(self, start: float, before: str) -> Waited:
        changed = []
        for at, picture in sorted(self._frames):  # they are encoded side by side and may overtake each other
            if picture != before:
                changed.append(at)
            before = picture
        self._cdp.send("Page.stopScreencast")
        counted = self._messages, self._received, self._sent
        self._film()
        sound = bool(changed) and self._frames[0][1] == before
        self._cdp.send("Page.stopScreencast")
        if not changed:
            return Waited(float("nan"), float("nan"), *counted, False)
        return Waited(changed[-1] - start, changed[0] - start, *counted, sound)

    def _film(self) -> None:
        self._frames.clear()
        self._cdp.send("Page.startScreencast", {"format": "jpeg", "quality": 70, "everyNthFrame": 1})
        until = time.monotonic() + 5
        while not self._frames and time.monotonic() < until:
            self.page.wait_for_timeout(10)
        if not self._frames:
            raise RuntimeError("the browser sent no frame")

    def _forget(self) -> None:
        self._frames.clear()
        self._messages = self._received = self._sent = 0

    def _rest(self, quiet: float) -> None:
        self._stirred = started = time.monotonic()
        while time.monotonic() - self._stirred < quiet:
            if time.monotonic() - started > LONGEST:
                raise RuntimeError(f"the page did not come to rest in {LONGEST:.0f} s")
            self.page.wait_for_timeout(20)

    def _frame(self, event: dict) -> None:
        self._cdp.send("Page.screencastFrameAck", {"sessionId": event["sessionId"]})
        picture = hashlib.sha1(base64.b64decode(event["data"])).hexdigest()
        if not self._frames or picture != self._frames[-1][1]:
            self._stirred = time.monotonic()
        self._frames.append((1000 * float(event["metadata"]["timestamp"]), picture))

    def _message(self, event: dict, inward: bool) -> None:
        text = event["response"]["payloadData"]
        binary = event["response"]["opcode"] == 2
        size = len(text) * 3 // 4 if binary else len(text.encode())
        self._stirred = time.monotonic()
        if inward:
            self._messages += 1
            self._received += size
        else:
            self._sent += size
