"""``orchard-slate import``: its options, and what it prints."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path


def offer(parser: argparse.ArgumentParser) -> None:
    """The options of the command; what they need is imported when they are asked."""
    parser.add_argument(
        "files", metavar="FILE", nargs="+", help="workbooks (.xlsx) and text files (.csv, .txt)"
    )
    parser.add_argument(
        "--into", metavar="TRIAL", required=True, help="the folder of the trial, there already or new"
    )
    parser.add_argument(
        "--answers", metavar="mapping.toml", help="answers in a file; asks nothing (default: TRIAL/importing/mapping.toml, and asks)"
    )  # fmt: skip


def run(options: argparse.Namespace) -> int:
    """0 where every cell was read, 1 where something was set aside or is to be answered."""
    from dashboard.places import somebody, unwritten
    from dashboard.records.how_far import on_terminal
    from dashboard.records.importing.incoming import bring_in
    from dashboard.records.importing.terminal import AtTerminal

    asks = None if options.answers or not sys.stdin.isatty() else AtTerminal()
    try:
        with on_terminal(sys.stderr):
            outcome = bring_in(
                [Path(file) for file in options.files],
                Path(options.into),
                Path(options.answers) if options.answers else None,
                asks,
                who=somebody(),
            )
    except OSError as fault:
        print(unwritten(Path(fault.filename or options.into), fault), file=sys.stderr)
        return 1
    print(outcome.text)
    return outcome.code
