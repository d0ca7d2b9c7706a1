"""The first visit on a phone: ours beside an empty page of the same shell, ``python -m tests.benchmarks.phone``.

A screen of 390 × 844, a processor a quarter as fast, 9 Mbit/s with 40 ms on the way, an empty cache each time. The first useful picture
is there no later than the last changed pixel, which is what the ruler tells.
"""

from __future__ import annotations

import contextlib
import statistics
import sys
import time

from playwright.sync_api import sync_playwright

from tests.benchmarks import servers
from tests.benchmarks.browser import Watch, opened, renderer_ms
from tests.benchmarks.opening import Opened
from tests.benchmarks.tables import markdown

PHONE = {
    "viewport": {"width": 390, "height": 844}, "device_scale_factor": 2, "is_mobile": True, "has_touch": True,
    "user_agent": "Mozilla/5.0 (Linux; Android 14) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/140.0 Mobile Safari/537.36",
}  # fmt: skip
SLOWER = 4
NETWORK = {
    "offline": False,
    "latency": 40,
    "downloadThroughput": 9e6 / 8,
    "uploadThroughput": 3e6 / 8,
}


def measure(browser, cultivars: int, visits: int) -> list[Opened]:
    with contextlib.ExitStack() as stack:
        pages = [
            Opened("ours", stack.enter_context(servers.our_page(cultivars, "--warm")), "Candidates"),
            Opened("an empty page of the same shell", stack.enter_context(servers.empty_page()), "One line."),
        ]
        processes = browser.new_browser_cdp_session()
        for number in range(1 + visits):
            for one in pages:
                context = browser.new_context(**PHONE)
                page = context.new_page()
                slow = context.new_cdp_session(page)
                slow.send("Network.enable")
                slow.send("Network.emulateNetworkConditions", NETWORK)
                slow.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
                before, drawn = one.served.cpu_ms(), renderer_ms(processes)
                waited = Watch(page).opening(one.served.url)
                if number:  # the first warms the server
                    one.waited.append(waited)
                    one.cpu.append(one.served.cpu_ms() - before)
                    one.browser.append(renderer_ms(processes) - drawn)
                context.close()
                time.sleep(0.5)
    return pages


def main(visits: str = "6") -> int:
    with sync_playwright() as playwright:
        browser = opened(playwright)
        pages = measure(browser, 350, int(visits))
        browser.close()
    print(markdown(rows(pages)))
    return 0


def rows(pages: list[Opened]) -> list[dict[str, str]]:
    floor = statistics.median(waited.ms for waited in pages[-1].waited)
    return [
        {
            "page": one.name,
            "something to see, median ms": f"{statistics.median(waited.first_ms for waited in one.waited):.0f}",
            "last changed pixel, median ms": f"{statistics.median(waited.ms for waited in one.waited):.0f}",
            "from and to": f"{min(waited.ms for waited in one.waited):.0f}–{max(waited.ms for waited in one.waited):.0f}",
            "× empty": f"{statistics.median(waited.ms for waited in one.waited) / floor:.2f}",
            "browser CPU ms": f"{statistics.median(one.browser):.0f}",
            "sound": f"{sum(waited.sound for waited in one.waited)} of {len(one.waited)}",
        }
        for one in pages
    ]


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
