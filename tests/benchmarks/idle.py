"""What a page costs that nobody touches: CPU time a second of every browser process, and of the server."""

from __future__ import annotations

import contextlib
import time

from playwright.sync_api import Playwright

from tests.benchmarks import servers
from tests.benchmarks.browser import fresh, opened
from tests.benchmarks.servers import Served

SETTLED = 6.0  # seconds after opening
BUSY_NAME = "the ruler: a page busy for 100 ms a second"
BUSY = "data:text/html,<script>setInterval(() => { const t = performance.now(); while (performance.now() - t < 20); }, 200)</script>"


def measure(playwright: Playwright, chromium: str, cultivars: int, seconds: float) -> list[dict[str, str]]:
    """One browser a page, one page a browser, one after the other: no page pays for another."""
    rows = []
    with contextlib.ExitStack() as stack:
        ours = stack.enter_context(servers.our_page(cultivars))
        empty = stack.enter_context(servers.empty_page())
        pages: list[tuple[str, Served | None, str]] = [
            ("a blank tab", None, "about:blank"),
            (BUSY_NAME, None, BUSY),
            ("an empty page of the same shell", empty, ""),
        ]
        pages += [(f"ours, tab {tab}", ours, f"?v=1&tab={tab}") for tab in ("fruit", "season", "records")]
        for name, served, query in pages:
            browser = opened(playwright, chromium)
            page = fresh(browser).new_page()
            page.goto(served.url + query if served else query)
            page.wait_for_timeout(1000 * SETTLED)
            processes = browser.new_browser_cdp_session()
            before, server_before, since = (
                _spent(processes),
                served.cpu_ms() if served else 0.0,
                time.monotonic(),
            )
            page.wait_for_timeout(1000 * seconds)
            after, lasted = _spent(processes), time.monotonic() - since
            server = served.cpu_ms() - server_before if served else 0.0
            browser.close()
            spent = {kind: (after[kind] - before.get(kind, 0.0)) / lasted for kind in after}
            rows.append(
                {
                    "page": name,
                    **{
                        f"{kind}, ms a second": f"{spent.get(kind, 0.0):.1f}"
                        for kind in ("renderer", "GPU", "browser")
                    },
                    "all, ms a second": f"{sum(spent.values()):.1f}",
                    "server, ms a second": f"{server / lasted:.1f}",
                }
            )
    return rows


def _spent(processes) -> dict[str, float]:
    """CPU time so far in ms, by kind of process."""
    total: dict[str, float] = {}
    for process in processes.send("SystemInfo.getProcessInfo")["processInfo"]:
        total[process["type"]] = total.get(process["type"], 0.0) + 1000 * process["cpuTime"]
    return total
