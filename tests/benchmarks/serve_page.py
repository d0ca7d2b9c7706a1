"""Serves the page as the command does, on the demo data or on invented cultivars: ``serve_page.py PORT CULTIVARS [--warm]``.

CULTIVARS 0 is the demo data; any other number replaces what is loaded, and nothing else.
"""

from __future__ import annotations

import sys

from dashboard import cli
from dashboard.answers import catalogue
from tests.benchmarks import invented


def main(port: str, cultivars: str, *further: str) -> int:
    if int(cultivars):
        known = invented.catalogue(int(cultivars))
        catalogue.load = lambda _folder: known
    return cli.main(["serve", "--port", port, *further])


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
