"""Opening the page: ours beside an empty page of the same shell, and the first visitor beside the tenth."""

from __future__ import annotations

import contextlib
import statistics
import time
import urllib.request
from dataclasses import dataclass, field

from playwright.sync_api import Browser

from dashboard import places
from tests.benchmarks import servers
from tests.benchmarks.browser import Waited, Watch, fresh, renderer_ms
from tests.benchmarks.servers import Served

WARMED = 2  # openings before anything is counted: the browser has the scripts, the server its modules


@dataclass
class Opened:
    name: str
    served: Served
    shows: str  # what must stand there at the end: a page that failed is quick
    path: str = ""
    waited: list[Waited] = field(default_factory=list)
    cpu: list[float] = field(default_factory=list)
    browser: list[float] = field(default_factory=list)
    answer: list[float] = field(default_factory=list)  # ms until the server had sent the document

    @property
    def url(self) -> str:
        return self.served.url + self.path


def beside_empty(browser: Browser, cultivars: int, openings: int) -> list[Opened]:
    """Alternating openings with a filled cache, each a new session."""
    with contextlib.ExitStack() as stack:
        pages = [
            Opened("ours", stack.enter_context(servers.our_page(cultivars, "--warm")), "Candidates"),
            Opened("an empty page of the same shell", stack.enter_context(servers.empty_page()), "One line."),
        ]
        return _in_turn(browser, pages, openings)


def beside_usual(browser: Browser, cultivars: int, openings: int) -> list[Opened]:
    """The same for the page of a notebook, the one to start from, beside the usual page of the same server."""
    notebook = str(places.notebooks() / places.STARTING)
    with servers.our_page(cultivars, "--warm", "--notebook", notebook) as served:
        pages = [
            Opened("the page of a notebook", served, "Sweet and early"),
            Opened("the usual page", served, "Candidates", "page"),
        ]
        return _in_turn(browser, pages, openings)


def _in_turn(browser: Browser, pages: list[Opened], openings: int) -> list[Opened]:
    contexts = [fresh(browser) for _ in pages]
    processes = browser.new_browser_cdp_session()
    for number in range(WARMED + openings):
        for opened, context in zip(pages, contexts, strict=True):
            page = context.new_page()
            watch = Watch(page)
            before, drawn = opened.served.cpu_ms(), renderer_ms(processes)
            waited = watch.opening(opened.url)
            spent, drawn = opened.served.cpu_ms() - before, renderer_ms(processes) - drawn
            if not page.get_by_text(opened.shows).count():
                raise RuntimeError(f"{opened.name} does not show “{opened.shows}”")
            page.close()
            time.sleep(0.5)  # the session's end is not charged to the next opening
            if number >= WARMED:
                opened.waited.append(waited)
                opened.cpu.append(spent)
                opened.browser.append(drawn)
                opened.answer.append(_answer_ms(opened.url))
    for context in contexts:
        context.close()
    return pages


def visitors(browser: Browser, cultivars: int, rounds: int) -> list[dict[str, str]]:
    """The wait of the first and the tenth visitor of a freshly started server, each with an empty browser."""
    rows = []
    for name, further in (("plain", ()), ("--warm", ("--warm",))):
        starts, waits = [], []
        for _ in range(rounds):
            set_out = time.monotonic()
            with servers.our_page(cultivars, *further) as served:
                starts.append(time.monotonic() - set_out)
                waits.append([_visit(browser, served.url, look=number in (1, 10)) for number in range(1, 11)])
        first, tenth = (statistics.median(wait[place] for wait in waits) for place in (0, 9))
        rows.append(
            {
                "server": name,
                "start, s": f"{statistics.median(starts):.1f}",
                "first visitor, ms": f"{first:.0f}",
                "tenth visitor, ms": f"{tenth:.0f}",
                "first ÷ tenth": f"{first / tenth:.2f}",
            }
        )
    return rows


def table(pages: list[Opened], beside: str = "empty") -> list[dict[str, str]]:
    """Each beside the last, which is called ``beside``."""
    floor = pages[-1]
    rows = []
    for opened in pages:
        sound = [waited for waited in opened.waited if waited.sound]
        low, _, high = statistics.quantiles([w.ms for w in sound], n=4)
        rows.append(
            {
                "page": opened.name,
                "last changed pixel, median ms": f"{_median(opened):.0f}",
                "quartiles": f"{low:.0f}–{high:.0f}",
                f"× {beside}": f"{_median(opened) / _median(floor):.2f}",
                "server CPU ms": f"{statistics.median(opened.cpu):.0f}",
                f"× {beside} on the server": f"{statistics.median(opened.cpu) / statistics.median(floor.cpu):.2f}",
                "browser CPU ms": f"{statistics.median(opened.browser):.0f}",
                f"× {beside} in the browser": f"{statistics.median(opened.browser) / statistics.median(floor.browser):.2f}",
                "document sent after, ms": f"{statistics.median(opened.answer):.0f}",
                "KB over the websocket": f"{statistics.median(w.received for w in sound) / 1000:.0f}",
                "sound": f"{len(sound)} of {len(opened.waited)}",
            }
        )
    return rows


def _visit(browser: Browser, url: str, look: bool) -> float:
    """Visitors between the first and the tenth only fetch the document: they are there to be served, not watched."""
    if not look:
        return _answer_ms(url)
    context = fresh(browser)
    waited = Watch(context.new_page()).opening(url)
    context.close()
    return waited.ms


def _answer_ms(url: str) -> float:
    set_out = time.perf_counter()
    with urllib.request.urlopen(url, timeout=60) as answer:
        answer.read()
    return 1000 * (time.perf_counter() - set_out)


def _median(opened: Opened) -> float:
    return statistics.median(waited.ms for waited in opened.waited if waited.sound)
