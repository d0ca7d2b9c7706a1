"""The next prepared view in the hall beside one filter change on the page: ``python -m tests.benchmarks.hall``.

Both come to the same questions in the same order, one filter apart; then the views differ in their market, too.
"""

from __future__ import annotations

import contextlib
import json
import statistics
import sys

from playwright.sync_api import Page, sync_playwright

from dashboard.visit import saved_views as prepared
from dashboard.visit.saved_views import View
from tests.benchmarks import change, servers
from tests.benchmarks.browser import Waited, Watch, fresh, opened
from tests.benchmarks.change import BOXES, PRESSES, WARM, Peer
from tests.benchmarks.servers import Served
from tests.benchmarks.tables import markdown

CULTIVARS = 350
MARKETS = ("regional_wholesale", "roadside_stand")
BAR = 2.0  # times one filter change


def views(markets: tuple[str, ...]) -> list[View]:
    """The questions that the presses on the page lead to; the first is the one without a filter."""
    on: set[int] = set()
    asked = []
    for number, box in enumerate((None, *PRESSES)):
        if box is not None:
            on ^= {box}
        filters = "".join(f"&{BOXES[at][0]}={BOXES[at][1]}" for at in sorted(on))
        asked.append(View(f"view {number}", f"?v=1&market={markets[number % len(markets)]}{filters}"))
    return asked


def hall_page(browser, served: Served, order: list[View]) -> Page:
    context = fresh(browser)
    text = json.dumps(prepared.written(order))
    title = f"{CULTIVARS} invented cultivars"
    context.add_init_script(f"localStorage.setItem('orchard-slate views: {title}', {text})")
    page = context.new_page()
    page.goto(served.url)
    page.locator(".strip .view", has_text="prepared views").wait_for(timeout=60_000)
    page.wait_for_timeout(4000)
    return page


def main() -> int:
    with sync_playwright() as playwright, contextlib.ExitStack() as stack:
        browser = opened(playwright)
        ours = stack.enter_context(servers.our_page(CULTIVARS, path=f"/?v=1&market={MARKETS[0]}"))
        peer: Peer = change.opened(browser, "one filter change on the page", "ours", ours)
        halls = {
            "next prepared view in the hall, one filter apart": views(MARKETS[:1]),
            "next prepared view in the hall, another market too": views(MARKETS),
        }
        waited: dict[str, list[Waited]] = {peer.name: [], **{name: [] for name in halls}}
        pages: dict[str, Page] = {}
        for name, order in halls.items():
            served = stack.enter_context(servers.our_page(CULTIVARS, path="/?v=1&look=hall"))
            pages[name] = hall_page(browser, served, order)
        watch, watches = Watch(peer.page), {name: Watch(page) for name, page in pages.items()}
        for _ in range(2):
            peer.press(watch, WARM)
        for name, page in pages.items():
            watches[name].change(lambda page=page: page.keyboard.press("n"))
        for box in PRESSES:
            waited[peer.name].append(peer.press(watch, BOXES[box]))
            for name, page in pages.items():
                waited[name].append(watches[name].change(lambda page=page: page.keyboard.press("n")))
        browser.close()
    floor = _median(waited[peer.name])
    print(markdown([_row(name, each, floor) for name, each in waited.items()]))
    return int(any(_median(each) > BAR * floor for each in waited.values()))


def _median(waited: list[Waited]) -> float:
    return statistics.median(one.ms for one in waited if one.sound)


def _row(name: str, waited: list[Waited], floor: float) -> dict[str, str]:
    sound = [one for one in waited if one.sound]
    low, _, high = statistics.quantiles([one.ms for one in sound], n=4)
    return {
        "what": name,
        "last changed pixel, median ms": f"{_median(waited):.0f}",
        "quartiles": f"{low:.0f}–{high:.0f}",
        "× one filter change": f"{_median(waited) / floor:.2f}",
        "KB sent": f"{statistics.median(one.received for one in sound) / 1000:.1f}",
        "sound": f"{len(sound)} of {len(waited)}",
    }


if __name__ == "__main__":
    sys.exit(main())
