"""One browser and one server a set of records for all browser tests; a visit that fails on any error or outside request."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from functools import partial
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, sync_playwright

from dashboard.places import demo_data
from tests.browser import finding, sets
from tests.browser.pages import DESK, PATIENCE, PHONE, awaited, led
from tests.each_day import by_test
from tests.serving import Served

HOME = {"localhost", "127.0.0.1"}
SETS = ("hostile", "one_cultivar", "no_values", "no_rows")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Of one test over several tabs, sizes or devices the first and the last are for each day; those between are in the long run."""
    driving = [item for item in items if "driver" in getattr(item, "fixturenames", ())]
    for item in driving:
        item.add_marker(pytest.mark.browser)
    for same in by_test(item for item in driving if not item.get_closest_marker("slow")):
        for item in same[1:-1]:
            item.add_marker(pytest.mark.slow)


# Ended with this folder, not with the whole run: a running driver holds the thread's event loop.
@pytest.fixture(scope="package")
def driver() -> Iterator[Playwright]:
    with sync_playwright() as playwright:
        yield playwright


def _been_here(browser: Browser, **how) -> BrowserContext:
    context = browser.newcomer(**{"locale": "en-US", **how})
    context.add_init_script("try { localStorage.setItem('orchard-slate-seen', '1') } catch {}")
    return context


@pytest.fixture(scope="package")
def chromium(driver: Playwright) -> Iterator[Browser]:
    try:
        path = finding.chromium(driver.chromium.executable_path)
    except finding.NoBrowserError as told:
        pytest.fail(str(told), pytrace=False)
    browser = driver.chromium.launch(executable_path=path, args=list(finding.FLAGS))
    browser.newcomer = browser.new_context  # as it comes: who was never here is shown round
    browser.new_context = partial(_been_here, browser)
    yield browser
    browser.close()


@pytest.fixture(scope="package")
def demo_site() -> Iterator[Served]:
    with Served(demo_data(), "--warm") as server:
        yield server


@pytest.fixture(scope="package")
def open_site() -> Iterator[Served]:
    """A server that lets the room in."""
    with Served(demo_data(), "--address", "0.0.0.0") as server:
        yield server


@pytest.fixture(scope="package")
def site(tmp_path_factory) -> Iterator[Callable[[str], Served]]:
    """``site("hostile")`` is a server on that small set; started when first asked for."""
    with ExitStack() as running:
        started: dict[str, Served] = {}

        def serve(name: str) -> Served:
            if name not in started:
                records = getattr(sets, name)(tmp_path_factory.mktemp(name) / name)
                started[name] = running.enter_context(Served(records))
            return started[name]

        yield serve


@pytest.fixture(params=SETS)
def small_site(request, site) -> Served:
    return site(request.param)


@pytest.fixture
def hostile_site(site) -> Served:
    return site("hostile")


@pytest.fixture(scope="package")
def desk(chromium: Browser) -> Iterator[BrowserContext]:
    """A visitor at a desk, whose browser has fetched the scripts before."""
    context = chromium.new_context(viewport=DESK, accept_downloads=True)
    yield context
    context.close()


@pytest.fixture(scope="package")
def phone(chromium: Browser) -> Iterator[BrowserContext]:
    context = chromium.new_context(**PHONE)
    yield context
    context.close()


class Watched:
    """Pages whose errors and outside requests are noted."""

    def __init__(self) -> None:
        self.faults: list[str] = []

    def page(self, context: BrowserContext) -> Page:
        page = context.new_page()
        page.set_default_timeout(PATIENCE)
        note = self.faults.append
        page.on("console", lambda said: note(f"console: {said.text}") if said.type == "error" else None)
        page.on("pageerror", lambda fault: note(f"page error: {fault}"))
        page.on("request", lambda request: self.faults.extend(_outside(request.url)))
        page.on("websocket", lambda socket: self.faults.extend(_outside(socket.url)))
        return page


@pytest.fixture
def visit(desk: BrowserContext) -> Iterator[Callable[..., Page]]:
    """``visit(server, query="", context=desk)`` is a new page that is ready; what went wrong on it is told at the end."""
    pages: list[Page] = []
    watched = Watched()

    def open_page(server: Served, query: str = "", context: BrowserContext = desk) -> Page:
        page = watched.page(context)
        pages.append(page)
        page.goto(server.url + query)
        return awaited(page)

    yield open_page
    for page in pages:
        page.close()
    assert watched.faults == []


@pytest.fixture(scope="package")
def lasting(demo_site: Served, desk: BrowserContext) -> Iterator[tuple[Page, list[str]]]:
    watched = Watched()
    page = watched.page(desk)
    page.goto(demo_site.url)
    yield awaited(page), watched.faults
    page.close()


@pytest.fixture
def walk(lasting: tuple[Page, list[str]]) -> Iterator[Callable[[str], Page]]:
    """``walk(query)`` is one lasting page of the demo, led to an address as by the browser's own back and forward."""
    page, faults = lasting
    yield lambda query="": led(page, query)
    told, faults[:] = list(faults), []
    assert told == []


def _outside(url: str) -> list[str]:
    parts = urlsplit(url)
    inside = parts.scheme in ("data", "blob", "about") or parts.hostname in HOME
    return [] if inside else [f"asked for {url}"]
