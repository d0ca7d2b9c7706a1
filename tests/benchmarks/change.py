"""One filter change: ours, the list alone and with its pictures, beside the same pictures filtered in the browser, the published slate, and the same view in Streamlit."""

from __future__ import annotations

import contextlib
import statistics
import tempfile
from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import Browser, Locator, Page

from dashboard.answers.question import Question
from dashboard.page import app
from dashboard.slate import published
from tests.benchmarks import bare_bokeh, invented, servers
from tests.benchmarks.browser import Waited, Watch, fresh
from tests.benchmarks.servers import Served

# Four tick boxes, pressed in the order of a Gray code: 15 changes, 15 different questions, so no answer is a repeat.
BOXES = (("fruit_type", "nectarine"), ("flesh_colour", "white"), ("acidity_class", "low"), ("stone", "free"))
PRESSES = tuple((number & -number).bit_length() - 1 for number in range(1, 16))
WARM = ("status", "released")  # pressed twice before anything is measured
KNOWN_WAIT = 200  # ms, in ruler.html


@dataclass
class Peer:
    name: str
    served: Served
    page: Page
    kind: str
    waited: list[Waited] = field(default_factory=list)
    cpu: list[float] = field(default_factory=list)

    def box(self, name: str, value: str) -> Locator:
        if self.kind == "ours":
            return self.page.locator(f"fieldset[data-field={name}] input[value='{value}']")
        if self.kind == "slate":
            return self.page.locator(f"#groups input[name={name}][value='{value}']")
        if self.kind == "ruler":
            return self.page.locator("input")
        if self.kind == "streamlit":
            return self.page.locator("[data-testid=stSidebar] label", has_text=f"{name}: {value}")
        return self.page.locator("label", has_text=f"{name}: {value}").locator("input")

    def press(self, watch: Watch, box: tuple[str, str]) -> Waited:
        target = self.box(*box)
        target.evaluate("box => box.scrollIntoView({block: 'center'})")
        at = target.bounding_box()
        if at is None:
            raise RuntimeError(f"{self.name}: the box {box} is not on the page")
        x, y = at["x"] + min(8, at["width"] / 2), at["y"] + at["height"] / 2
        self.page.mouse.move(x, y)  # what hovering does is over before the press
        return watch.change(lambda: self.page.mouse.click(x, y))


def measure(
    browser: Browser, known, cultivars: int, streamlit: str | None, presses: int, market: str
) -> list[Peer]:
    with contextlib.ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory()))
        invented.write_rows(known, folder / "rows.csv")
        app.prepare()
        bare_bokeh.write_page(invented.rows(known), folder)
        slate = published(Question(known, market=market), "Slate")
        (folder / "slate.html").write_text(slate, encoding="utf-8")
        ours = stack.enter_context(servers.our_page(cultivars))
        pictured = stack.enter_context(servers.our_page(cultivars, path="/?v=1&shown=pictures"))
        with_market = stack.enter_context(servers.our_page(cultivars, path=f"/?v=1&market={market}"))
        served = [
            ("ours, the list", "ours", ours),
            ("ours, the list with its pictures", "ours", pictured),
            (f"ours, market chosen ({market})", "ours", with_market),
            ("bare Bokeh, filtered in the browser", "bokeh", stack.enter_context(servers.files(folder))),
            ("published slate", "slate", stack.enter_context(servers.files(folder, "/slate.html"))),
            (
                f"the ruler: a wait of {KNOWN_WAIT} ms",
                "ruler",
                stack.enter_context(servers.files(servers.HERE, "/ruler.html")),
            ),
        ]
        if streamlit:
            served.append(
                (
                    "Streamlit",
                    "streamlit",
                    stack.enter_context(servers.streamlit_page(streamlit, folder / "rows.csv")),
                )
            )
        peers = [opened(browser, *one) for one in served]
        watches = [Watch(peer.page) for peer in peers]
        for peer, watch in zip(peers, watches, strict=True):
            for _ in range(2):
                peer.press(watch, WARM)
        for number in range(presses):
            box = BOXES[PRESSES[number % len(PRESSES)]]
            for peer, watch in zip(peers, watches, strict=True):
                before = peer.served.cpu_ms()
                peer.waited.append(peer.press(watch, box))
                peer.cpu.append(peer.served.cpu_ms() - before)
        _compare_answers(peers)
    return peers


def opened(browser: Browser, name: str, kind: str, served: Served) -> Peer:
    page = fresh(browser).new_page()
    page.goto(served.url)
    peer = Peer(name, served, page, kind)
    peer.box(*BOXES[0]).wait_for(state="attached", timeout=60_000)
    page.wait_for_timeout(4000)
    return peer


def _compare_answers(peers: list[Peer]) -> None:
    """All peers must have come to the same answer, or they were not doing the same work."""
    told = {
        peer.name: peer.page.locator("text=/cultivars pass your filters/").first.inner_text()
        for peer in peers
        if peer.kind != "ruler"
    }
    if len({text.split(" of ")[0] for text in told.values()}) != 1:
        raise RuntimeError(f"the pages disagree: {told}")


def table(peers: list[Peer]) -> list[dict[str, str]]:
    """Medians of the sound measurements; ratios to the bare Bokeh page of the same run."""
    floor = next(_median(peer) for peer in peers if peer.kind == "bokeh")
    rows = []
    for peer in peers:
        sound = [waited for waited in peer.waited if waited.sound]
        low, _, high = statistics.quantiles([w.ms for w in sound], n=4)
        rows.append(
            {
                "page": peer.name,
                "last changed pixel, median ms": f"{_median(peer):.0f}",
                "quartiles": f"{low:.0f}–{high:.0f}",
                "× bare Bokeh": f"{_median(peer) / floor:.2f}",
                "server CPU ms": f"{statistics.mean(peer.cpu):.0f}",
                "messages": f"{statistics.median(w.messages for w in sound):.0f}",
                "KB sent": f"{statistics.median(w.received for w in sound) / 1000:.1f}",
                "sound": f"{len(sound)} of {len(peer.waited)}",
            }
        )
    return rows


def _median(peer: Peer) -> float:
    return statistics.median(waited.ms for waited in peer.waited if waited.sound)
