"""A real JupyterLab with the network cut: a page in a cell lives, pictures are drawn, and nothing is asked for elsewhere."""

from __future__ import annotations

import json
import os
import re
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.pages import DESK
from tests.records.small import tables, write_folder
from tests.serving.served import free_port

CELLS = (
    'from dashboard import load, show\nrecords = load("records")\nrecords.ask().season().picture()',
    """import pandas as pd
tested = pd.DataFrame({"cultivar": ["Alvane", "Brintel"], "virus tested": ["yes", "no"]})
def mine(ask):
    return [f"{len(ask.ranking())} stand in my tab", ask.season().picture()]
def broken(ask):
    return ask.nothing_of_the_kind
show(records.with_table(tested), tabs=["fruit", mine, broken])""",
)
# Neither news nor newer versions are asked for; the page's own program can be told to run all cells.
QUIET = ("--LabApp.news_url=", "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate", "--LabApp.extension_manager=readonly", "--LabApp.expose_app_in_browser=True")  # fmt: skip
LONGEST_START = 90.0  # seconds; a loaded machine


def written(place: Path, *cells: str) -> None:
    made = [
        {"cell_type": "code", "id": f"c{at}", "metadata": {}, "outputs": [], "execution_count": None, "source": cell}
        for at, cell in enumerate(cells)
    ]  # fmt: skip
    spec = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
    place.write_text(json.dumps({"cells": made, "metadata": spec, "nbformat": 4, "nbformat_minor": 5}))


@pytest.fixture(scope="module")
def lab(tmp_path_factory) -> Iterator[str]:
    """The address of a lab of its own, which has one notebook and nothing of whoever runs the tests."""
    home = tmp_path_factory.mktemp("lab")
    write_folder(home / "records", tables())
    written(home / "my.ipynb", *CELLS)
    apart = {f"JUPYTER{name}": str(home / f".{name}") for name in ("_CONFIG_DIR", "_DATA_DIR", "_RUNTIME_DIR", "LAB_SETTINGS_DIR", "LAB_WORKSPACES_DIR")}  # fmt: skip
    path = os.pathsep.join([str(Path(__file__).parents[2]), os.environ.get("PYTHONPATH", "")])
    port = free_port()
    command = [
        sys.executable, "-m", "jupyterlab", "--no-browser", "--allow-root", f"--ServerApp.port={port}", f"--ServerApp.root_dir={home}",
        "--IdentityProvider.token=", *QUIET,
    ]  # fmt: skip
    environment = {**os.environ, **apart, "PYTHONPATH": path, "OPENBLAS_NUM_THREADS": "1"}
    with (home / "said.log").open("wb") as log:
        running = subprocess.Popen(command, cwd=home, env=environment, stdout=log, stderr=log)
        try:
            _awaited(running, port, home / "said.log")
            yield f"http://localhost:{port}/lab/tree/my.ipynb?reset"
        finally:
            running.terminate()
            running.wait(20)


def _awaited(running: subprocess.Popen, port: int, log: Path) -> None:
    end = time.monotonic() + LONGEST_START
    while time.monotonic() < end and running.poll() is None:
        with socket.socket() as probe:
            if probe.connect_ex(("localhost", port)) == 0:
                return
        time.sleep(0.1)
    pytest.fail(f"JupyterLab did not start: {log.read_text(errors='replace')[-1500:]}", pytrace=False)


def run_all(page: Page, address: str) -> None:
    page.goto(address)
    expect(page.locator(".jp-Notebook .jp-CodeCell")).to_have_count(len(CELLS), timeout=60_000)
    expect(page.get_by_text("| Idle")).to_be_visible(timeout=60_000)  # the kernel answers
    page.evaluate("() => { window.jupyterapp.commands.execute('notebook:run-all-cells') }")


@pytest.mark.slow
def test_pages_and_pictures_live_in_jupyterlab_without_internet(lab: str, chromium: Browser):
    context = chromium.new_context(viewport=DESK)
    outside: list[str] = []
    context.route(
        re.compile(r"^https?://(?!localhost[:/])"),
        lambda route: (outside.append(route.request.url), route.abort()),
    )
    page = context.new_page()
    page.set_default_timeout(60_000)
    run_all(page, lab)
    count = page.locator("p.count").first
    expect(count).to_contain_text("3 of 3", timeout=60_000)
    expect(page.locator("table.listed tbody tr")).to_have_count(3)
    drawn = page.locator(".jp-CodeCell").first.locator(".jp-OutputArea canvas").first
    expect(drawn).to_be_visible()
    assert drawn.bounding_box()["width"] > 400  # as wide as the cell: its dress came along

    page.locator('input[type="checkbox"][value="virus tested: yes"]').check()  # the kernel answers a tick
    expect(count).to_contain_text("1 of 3")
    page.get_by_role("tab", name="Mine").click()
    expect(page.get_by_text("1 stand in my tab")).to_be_visible()
    page.locator('input[type="checkbox"][value="virus tested: no"]').check()
    expect(page.get_by_text("2 stand in my tab")).to_be_visible()
    page.get_by_role("tab", name="Broken").click()
    expect(page.get_by_text("AttributeError")).to_contain_text("line 6 (return ask.nothing_of_the_kind)")
    page.get_by_role("tab", name="Candidates").click()
    expect(page.locator("table.listed tbody tr")).to_have_count(2)
    page.wait_for_timeout(500)  # what is drawn may still want a style sheet
    context.close()
    assert outside == []
