"""Photographs the running page for the README: ``python docs/pictures/make.py`` (needs the test extra)."""

from __future__ import annotations

import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

from playwright.sync_api import sync_playwright

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
sys.path.insert(0, str(ROOT))

from tests.browser.finding import FLAGS, chromium  # noqa: E402

VIEW = "?v=1&market=regional_wholesale&flesh_colour=yellow&fruit_type=peach"


def main() -> None:
    with socket.socket() as free:
        free.bind(("localhost", 0))
        port = free.getsockname()[1]
    server = subprocess.Popen(
        [sys.executable, "-m", "dashboard", "serve", "--port", str(port), "--warm"], cwd=ROOT
    )
    try:
        _wait(f"http://localhost:{port}/")
        with sync_playwright() as play:
            browser = play.chromium.launch(
                executable_path=chromium(play.chromium.executable_path), args=list(FLAGS)
            )
            page = browser.new_page(viewport={"width": 1366, "height": 900})
            page.goto(f"http://localhost:{port}/{VIEW}")
            page.locator("p.count").wait_for()
            time.sleep(3)  # pictures settle
            page.screenshot(path=HERE / "page.png")
            browser.close()
    finally:
        server.terminate()
        server.wait(10)


def _wait(address: str) -> None:
    for _ in range(120):
        try:
            urllib.request.urlopen(address, timeout=5)
            return
        except OSError:
            time.sleep(0.5)
    raise SystemExit(f"{address} did not answer")


if __name__ == "__main__":
    main()
