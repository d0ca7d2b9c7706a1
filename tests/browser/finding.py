"""Where a Chromium is: the one that is named, the one that is installed, the one Playwright has, or one it can fetch."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

NAMED = "ORCHARD_SLATE_CHROMIUM"
INSTALLED = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
# Chromium makes the list under its address bar of two pages of its own, for every window: three quarters of what an empty window costs, and
# no headless one has an address bar. Of two such flags the last holds, so what Playwright switches off is named once more.
OFF = (
    "WebUIOmniboxPopup", "WebUIOmniboxAimPopup", "WebUIOmniboxFullPopup",
    "AvoidUnnecessaryBeforeUnloadCheckSync", "DestroyProfileOnBrowserClose", "HttpsUpgrades", "HttpsFirstBalancedModeAutoEnable",
    "LensOverlay", "MediaRouter", "PaintHolding", "ThirdPartyStoragePartitioning", "AvoidCorsURLLoaderRestartOnRedirect",
    "TcpPortRandomizationWin", "OptimizationHints", "NetworkTimeServiceQuerying", "AimEnabled", "PreconnectToSearch",
)  # fmt: skip
FLAGS = (
    f"--disable-features={','.join(OFF)}",
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
WANTED = (
    "no Chromium to drive the page with: install chromium or google-chrome, or set "
    f"{NAMED} to one, or run  python -m playwright install chromium  where the network allows it"
)


class NoBrowserError(Exception):
    """One sentence that says what to install."""


def fetch() -> None:
    """Let Playwright fetch its own; whether it could is seen by looking for the file."""
    command = [sys.executable, "-m", "playwright", "install", "chromium"]
    try:
        subprocess.run(command, capture_output=True, timeout=300, check=False)
    except (OSError, subprocess.TimeoutExpired):
        return


def chromium(playwrights_own: str, fetch: Callable[[], None] = fetch) -> str:
    """The path of a Chromium; NoBrowserError where there is none to be had."""
    named = os.environ.get(NAMED)
    if named:
        if not Path(named).is_file():
            raise NoBrowserError(f"{NAMED} names {named}, which is not there")
        return named
    for name in INSTALLED:
        found = shutil.which(name)
        if found:
            return found
    if not Path(playwrights_own).is_file():
        fetch()
    if not Path(playwrights_own).is_file():
        raise NoBrowserError(WANTED)
    return playwrights_own
