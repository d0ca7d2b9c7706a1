"""``python -m tests.benchmarks``: measures and prints every table; ``--only change`` for one of them.

Everything that is compared is measured in the same run, in turn, on the same browser. Read the ratios: milliseconds
belong to the machine and to what else it was doing.
"""

from __future__ import annotations

import argparse
import os
import platform
import sys
from datetime import date
from importlib.metadata import version

from playwright.sync_api import sync_playwright

from dashboard import places
from dashboard.answers import catalogue as catalogues
from tests.benchmarks import change, idle, invented, opening, servers
from tests.benchmarks.browser import CHROMIUM, opened
from tests.benchmarks.tables import markdown

PARTS = ("change", "opening", "notebook", "warm", "idle")


def main() -> int:
    options = _options()
    known = (
        invented.catalogue(options.cultivars) if options.cultivars else catalogues.load(places.demo_data())
    )
    print(_where(len(known.cultivars)))
    with sync_playwright() as playwright:
        browser = opened(playwright, options.chromium)
        if "change" in options.only:
            streamlit = options.streamlit if servers.has_streamlit(options.streamlit) else None
            peers = change.measure(
                browser, known, options.cultivars, streamlit, options.changes, options.market
            )
            _tell("One filter change", change.table(peers))
            if not streamlit:
                print(
                    f"\nStreamlit is not installed in {options.streamlit}: pip install 'orchard-slate[bench]'."
                )
        if "opening" in options.only:
            _tell(
                "Opening the page",
                opening.table(opening.beside_empty(browser, options.cultivars, options.openings)),
            )
        if "notebook" in options.only:
            pages = opening.beside_usual(browser, options.cultivars, options.openings)
            _tell("Opening the page of a notebook", opening.table(pages, "usual"))
        if "warm" in options.only:
            _tell(
                "The first visitor and the tenth",
                opening.visitors(browser, options.cultivars, options.rounds),
            )
        browser.close()
        if "idle" in options.only:
            _tell(
                "An idle page", idle.measure(playwright, options.chromium, options.cultivars, options.seconds)
            )
    return 0


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    parser.add_argument("--only", nargs="+", choices=PARTS, default=list(PARTS))
    parser.add_argument("--cultivars", type=int, default=350, help="invented ones; 0 for the demo data")
    parser.add_argument("--changes", type=int, default=15)
    parser.add_argument("--openings", type=int, default=10)
    parser.add_argument("--rounds", type=int, default=3, help="server starts for first and tenth visitor")
    parser.add_argument("--seconds", type=float, default=15, help="how long a page is left alone")
    parser.add_argument("--market", default="regional_wholesale")
    parser.add_argument("--chromium", default=CHROMIUM)
    parser.add_argument(
        "--streamlit", default=sys.executable, metavar="PYTHON", help="a Python that has Streamlit"
    )
    return parser.parse_args()


def _where(cultivars: int) -> str:
    busy = ", ".join(f"{load:.1f}" for load in os.getloadavg())
    libraries = ", ".join(f"{name} {version(name)}" for name in ("panel", "bokeh", "holoviews", "pandas"))
    return (
        f"{date.today().isoformat()}; {os.cpu_count()} cores ({platform.machine()}), load before {busy}; "
        f"Python {platform.python_version()}, {libraries}; {cultivars} cultivars"
    )


def _tell(title: str, rows: list[dict[str, str]]) -> None:
    print(f"\n### {title}  (load {os.getloadavg()[0]:.1f})\n\n{markdown(rows)}", flush=True)


if __name__ == "__main__":
    sys.exit(main())
