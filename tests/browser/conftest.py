"""One browser and one server a set of records for all browser tests; a visit that fails on any error or outside request."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, sync_playwright

from dashboard.places import demo_data
from tests.browser import finding, sets
from tests.browser.pages import DESK, PATIENCE, PHONE, awaited
from tests.serving import Served

HOME = {"localhost", "127.0.0.1"}
SETS = ("hostile", "one_cultivar", "no_values", "no_rows")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "driver" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.browser)


# Ended with this folder, not with the whole run: a running driver holds the thread's event loop.
@pytest.fixture(scope="package")
def driver() -> Iterator[Playwright]:
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="package")
def chromium(driver: Playwright) -> Iterator[Browser]:
    try:
        path = finding.chromium(driver.chromium.executable_path)
    except finding.NoBrowserError as told:
        pytest.fail(str(told), pytrace=False)
    browser = driver.chromium.launch(executable_path=path, args=list(finding.FLAGS))
    yield browser
    browser.close()


@pytest.fixture(scope="package")
def demo_site() -> Iterator[Served]:
    with Served(demo_data(), "--warm") as server:
        yield server


@pytest.fixture(scope="package", params=SETS)
def small_site(request, tmp_path_factory) -> Iterator[Served]:
    yield from _small(request.param, tmp_path_factory)


@pytest.fixture(scope="package")
def hostile_site(tmp_path_factory) -> Iterator[Served]:
    yield from _small("hostile", tmp_path_factory)


def _small(name: str, tmp_path_factory) -> Iterator[Served]:
    with Served(getattr(sets, name)(tmp_path_factory.mktemp(name) / name)) as server:
        yield server


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


@pytest.fixture
def visit(desk: BrowserContext) -> Iterator[Callable[..., Page]]:
    """``visit(server, query="", context=desk)`` is a page that is ready; what went wrong on it is told at the end."""
    pages: list[Page] = []
    faults: list[str] = []

    def open_page(server: Served, query: str = "", context: BrowserContext = desk) -> Page:
        page = context.new_page()
        pages.append(page)
        page.set_default_timeout(PATIENCE)
        page.on(
            "console", lambda said: faults.append(f"console: {said.text}") if said.type == "error" else None
        )
        page.on("pageerror", lambda fault: faults.append(f"page error: {fault}"))
        page.on("request", lambda request: faults.extend(_outside(request.url)))
        page.on("websocket", lambda socket: faults.extend(_outside(socket.url)))
        page.goto(server.url + query)
        awaited(page)
        return page

    yield open_page
    for page in pages:
        page.close()
    assert faults == []


def _outside(url: str) -> list[str]:
    parts = urlsplit(url)
    inside = parts.scheme in ("data", "blob", "about") or parts.hostname in HOME
    return [] if inside else [f"asked for {url}"]
