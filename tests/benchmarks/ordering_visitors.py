"""``python -m tests.benchmarks.ordering_visitors``: how long a visitor's filter takes while two others have orders of trees planned, beside nobody planning."""

from __future__ import annotations

import argparse
import os
from urllib.parse import quote

import numpy as np
from playwright.sync_api import Browser, Page, expect, sync_playwright

from dashboard.answers import catalogue as catalogues
from dashboard.answers.catalogue import Basis
from dashboard.answers.planting import Pool, could_be_planted
from dashboard.places import demo_data
from tests.benchmarks import change, servers
from tests.benchmarks.browser import CHROMIUM, Watch, fresh, opened
from tests.benchmarks.tables import markdown


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--presses", type=int, default=15, help="of a filter, idle and meanwhile")
    parser.add_argument("--chromium", default=CHROMIUM)
    options = parser.parse_args()
    stand = catalogues.load(demo_data())
    names = could_be_planted(stand, (stand.markets["roadside_stand"],), Basis(), Pool(offered=True))
    plan = f"/?v=1&tab=order&market=roadside_stand&opens=06-10&closes=08-31&shortlist={','.join(map(quote, names))}"
    print(f"load {os.getloadavg()[0]:.1f}, lists of {len(names)} cultivars")
    with sync_playwright() as playwright, servers.our_page(0) as served:
        browser = opened(playwright, options.chromium)
        peer = change.opened(browser, "a visitor", "ours", served)
        watch = Watch(peer.page)
        for _ in range(2):
            peer.press(watch, change.WARM)
        idle = presses(peer, watch, options.presses)
        planners = [planning(browser, served, f"{plan}&weekly={pounds}") for pounds in (2000, 2300)]
        busy = presses(peer, watch, options.presses)
        still = [page.get_by_text("Planning …").count() for page in planners]
        browser.close()
    rows = [
        {
            "a filter change while": name,
            "median, ms": f"{np.median(waited):.0f}",
            "p95, ms": f"{np.percentile(waited, 95):.0f}",
            "changes": str(len(waited)),
        }
        for name, waited in (("nobody plans", idle), ("two plan", busy))
    ]
    print(markdown(rows))
    print(f"p95 {np.percentile(busy, 95) / np.percentile(idle, 95):.2f} x idle; at the end {sum(map(bool, still))} of 2 were planning or waiting; load {os.getloadavg()[0]:.1f}")  # fmt: skip


def presses(peer: change.Peer, watch: Watch, count: int) -> list[float]:
    every = [
        peer.press(watch, change.BOXES[change.PRESSES[number % len(change.PRESSES)]])
        for number in range(count)
    ]
    return [one.ms for one in every if one.sound]


def planning(browser: Browser, served: servers.Served, path: str) -> Page:
    """A page on which an order is being planned, or waits for that."""
    page = fresh(browser).new_page()
    page.goto(f"http://localhost:{served.port}{path}")
    expect(page.get_by_role("button", name="Stop, keep the best so far")).to_be_visible(timeout=60_000)
    return page


if __name__ == "__main__":
    main()
