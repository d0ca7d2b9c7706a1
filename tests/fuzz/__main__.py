"""Change the bytes a reader is given toward code it has not run yet, for a bounded time:

    python -m tests.fuzz comma_file -max_total_time=120

What follows the reader's name goes to libFuzzer. Needs the extra "fuzz".
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import atheris

with atheris.instrument_imports(
    include=["dashboard.records", "dashboard.market", "dashboard.visit.saved_views", "dashboard.visit.link"]
):
    from tests.fuzz.readers import READERS


def main() -> None:
    if len(sys.argv) < 2 or sys.argv[1] not in READERS:
        sys.exit(f"name a reader: {', '.join(READERS)}")
    act, sound = READERS[sys.argv[1]]
    seeds = Path(tempfile.mkdtemp(prefix="seeds-"))
    for number, content in enumerate(sound()):
        (seeds / str(number)).write_bytes(content)
    options = [option for option in sys.argv[2:] if option.startswith("-")]
    if not any(option.startswith("-max_total_time") for option in options):
        options.append("-max_total_time=60")
    corpora = [option for option in sys.argv[2:] if not option.startswith("-")]
    atheris.Setup([sys.argv[0], *options, *corpora, str(seeds)], act)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
