"""What each press on the demo's page takes, and what is seen meanwhile: ``python -m tests.benchmarks.presses``.

Each is made twice, on a page of its own: the second time the server has done it before. Processor time hangs little on what else the
machine does, so a press counts as slow where server and browser together work for more than 300 ms. Whether a notice and a Stop stood
there is looked at four times a second.
"""

from __future__ import annotations

import re
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass

import psutil
from playwright.sync_api import Page, sync_playwright

from dashboard import places
from tests.benchmarks import servers
from tests.benchmarks.browser import Watch, fresh, opened, renderer_ms
from tests.benchmarks.tables import markdown

SLOW = 300  # milliseconds: whatever takes longer is to show that it is worked on
ASKED = "?v=1&market=roadside_stand&year=any&opens=06-10&closes=08-31&weekly=800"
SLATE = "&shortlist=Sibbrel,Brovet,Whelundo,Vintoquet&cultivar=Sibbrel&beside=Sibbrel,Brovet,Whelundo"
# What tells that the page is at work, and what would stop it, in any of its parts.
SEEN = """() => {
  window.seen = { told: false, stop: false, now: false };
  const at = (root, look) => { for (const one of root.querySelectorAll("*")) { look(one); if (one.shadowRoot) at(one.shadowRoot, look); } };
  clearInterval(window.looking);
  window.looking = setInterval(() => {
    window.seen.now = false;
    at(document, (one) => {
      if (!["P", "BUTTON", "H2"].includes(one.tagName) || !one.checkVisibility()) return;
      const said = one.textContent.trim();
      if (one.tagName === "BUTTON") window.seen.stop ||= /^Stop/.test(said);
      else if (/…$/.test(said) && !/^Opening/.test(said)) window.seen.told = window.seen.now = true;
    });
  }, 250);
}"""


@dataclass(frozen=True)
class Press:
    what: str
    query: str
    act: Callable[[Page], None]
    ready: Callable[[Page], None] = lambda page: None


def button(name: str) -> Callable[[Page], None]:
    return lambda page: page.get_by_role("button", name=re.compile(f"^{name}")).first.click()


def tab(name: str) -> Press:
    return Press(
        f"open {name}", ASKED + SLATE, lambda page: page.get_by_role("tab", name=name, exact=True).click()
    )


def shared(page: Page) -> None:
    button("Share")(page)
    page.get_by_role("button", name="Handout as .pdf").wait_for()
    page.wait_for_timeout(500)


def brought(page: Page) -> None:
    page.locator("input[type=file]").last.set_input_files(str(places.warm_weather()))
    page.evaluate("window.pressedAt = performance.timeOrigin + performance.now()")


def keyed(key: str) -> Callable[[Page], None]:
    return lambda page: page.keyboard.press(key)


HALL = f"{ASKED}{SLATE}&look=hall"
PRESSES = (
    Press("tick a flesh color", ASKED + SLATE, lambda page: page.get_by_label(re.compile("^white")).first.click()),
    Press("star one of the list", ASKED + SLATE, lambda page: page.get_by_role("button", name=re.compile("slate.*:|^Put .* on my slate|☆")).first.click()),
    *map(tab, ("Season", "By class", "One cultivar", "Side by side", "My slate", "How many trees", "My site", "Records")),
    Press("Fill the gaps, a proposal", ASKED + SLATE, button("Fill the gaps")),
    Press("Build it, after the questions", "?v=1&year=any", button("Build it"), lambda page: (button("Build a slate")(page), page.wait_for_timeout(2500))),
    Press("open Share", ASKED + SLATE, button("Share")),
    Press("open Present", ASKED + SLATE, button("Present")),
    *(Press(f"Share, {file}", ASKED + SLATE, button(re.escape(file)), shared) for file in (
        "Handout as .pdf", "Handout as .xlsx", "List as .csv", "List as .xlsx", "All that pass, as .csv", "All that pass, as .xlsx", "Page for mail, as .html",
    )),
    Press("Plan the order", f"{ASKED}{SLATE}&tab=order", button("Plan")),
    Press("My site, bring a weather file", f"{ASKED}{SLATE}&tab=site", brought),
    *(Press(f"hall, {key}", HALL, keyed(key)) for key in ("ArrowRight", "v", "w", "l", "e", "t", "s")),
)  # fmt: skip


def main() -> int:
    rows = []
    with sync_playwright() as playwright, servers.our_page(0) as served:
        browser = opened(playwright)
        processes = browser.new_browser_cdp_session()
        for one in (press for press in PRESSES for _ in range(2)):
            context = fresh(browser)
            context.add_init_script("localStorage.setItem('orchard-slate-seen', '1')")
            page = context.new_page()
            try:
                rows.append(_row(one, page, served, processes))
            except Exception as fault:  # the others are measured all the same
                rows.append(
                    {
                        "press": one.what,
                        "last changed pixel, ms": f"not measured: {str(fault).splitlines()[0]}",
                    }
                )
            else:
                print(rows[-1], file=sys.stderr)
            finally:
                context.close()
        browser.close()
    print(f"Load {psutil.getloadavg()[0]:.1f}.\n")
    print(markdown(rows))
    return 0


def _settled(page: Page) -> None:
    """Until nothing is said to be worked on."""
    page.wait_for_timeout(600)
    until = time.monotonic() + 60
    while page.evaluate("window.seen.now") and time.monotonic() < until:
        page.wait_for_timeout(100)


def _row(one: Press, page: Page, served: servers.Served, processes) -> dict[str, str]:
    page.goto(served.url + one.query)
    page.locator("p.count, dialog[open] h2.name").first.wait_for(timeout=60_000)
    page.wait_for_timeout(3500)
    one.ready(page)
    watch = Watch(page)
    page.evaluate(SEEN)
    before = served.cpu_ms(), renderer_ms(processes)
    waited = watch.change(lambda: (one.act(page), _settled(page)))
    server, own = served.cpu_ms() - before[0], renderer_ms(processes) - before[1]
    seen = page.evaluate("window.seen")
    return {
        "press": one.what,
        "first sign, ms": f"{waited.first_ms:.0f}",
        "last changed pixel, ms": f"{waited.ms:.0f}",
        "server CPU ms": f"{server:.0f}",
        "browser CPU ms": f"{own:.0f}",
        "over 300 ms": "yes" if server + own > SLOW else "no",
        "notice seen": "yes" if seen["told"] else "no",
        "Stop": "yes" if seen["stop"] else "no",
    }


if __name__ == "__main__":
    sys.exit(main())
