"""``orchard-slate password``: the password that lets records in."""

from __future__ import annotations

import argparse
import getpass
import sys
from pathlib import Path

from dashboard import places


def offer(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("trial", metavar="TRIAL", help="a folder of .csv tables, or a store")
    parser.add_argument("--desk", metavar="FOLDER", default="", help="as  serve  is given it (default: beside the records)")  # fmt: skip


def run(options: argparse.Namespace) -> int:
    """Ask for it twice, or read a line where nobody sits at a terminal."""
    from dashboard.records.trays.desk import desk_of
    from dashboard.serving.bringing.password import set_password

    try:
        path = desk_of(places.place_of(options.trial), options.desk).password
        set_password(path, _typed())
    except ValueError as fault:
        print(fault, file=sys.stderr)
        return 1
    except OSError as fault:
        print(places.unwritten(Path(fault.filename or options.trial), fault), file=sys.stderr)
        return 1
    print(
        f"{path} written: the password lets records in where the server is started with  serve {options.trial} --records"
    )
    return 0


def _typed() -> str:
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\r\n")
    said = getpass.getpass("new password: ")
    if said != getpass.getpass("once more: "):
        raise ValueError("The two differ; nothing was changed.")
    return said
