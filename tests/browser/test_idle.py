"""A page nobody touches does nothing: no timer that draws."""

from __future__ import annotations

import time

import psutil
import pytest

SECONDS = 3.0
SMALL = 0.4  # CPU seconds above an empty page in three seconds; a page that redraws on a timer takes several times that


def spent(driver_processes: list[psutil.Process]) -> float:
    """CPU seconds of the browser and its children so far."""
    total = 0.0
    for process in driver_processes:
        try:
            times = process.cpu_times()
        except psutil.NoSuchProcess:
            continue
        total += times.user + times.system
    return total


def browser_processes() -> list[psutil.Process]:
    """Chromium processes that descend from this run's driver."""
    own = psutil.Process().children(recursive=True)
    names = ("chrom", "chrome", "headless_shell")
    return [process for process in own if any(name in process.name().lower() for name in names)]


def idle_cpu(page) -> float:
    page.wait_for_timeout(1500)  # what is left of the loading
    processes = browser_processes()
    assert processes
    before, start = spent(processes), time.monotonic()
    page.wait_for_timeout(1000 * SECONDS)  # measured
    return (spent(processes) - before) * SECONDS / (time.monotonic() - start)


@pytest.mark.slow
def test_an_idle_page_is_idle(demo_site, visit, desk):
    empty = desk.new_page()
    empty.goto("about:blank")
    nothing = idle_cpu(empty)
    empty.close()
    page = visit(demo_site, "?v=1&market=roadside_stand")
    assert idle_cpu(page) <= nothing + SMALL
