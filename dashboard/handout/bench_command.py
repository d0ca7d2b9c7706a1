"""``orchard-slate template``: its options, and which of the empty workbooks they ask for."""

from __future__ import annotations

import argparse
import shlex
from datetime import date
from pathlib import Path

from dashboard.terms.units import SYSTEMS


def offer(parser: argparse.ArgumentParser) -> None:
    """The options of the command; what they need is imported when they are asked."""
    parser.add_argument("file", metavar="FILE.xlsx")
    parser.add_argument("--trial", metavar="FOLDER|FILE", default="", help="the sheet for one site and day of this trial")  # fmt: skip
    parser.add_argument("--site", metavar="S", default="", help="whose fruit is on the bench")
    parser.add_argument("--date", metavar="D", default="", help="as 2025-07-14 (default: today)")
    parser.add_argument("--units", choices=SYSTEMS, default="us", help="inches and pounds, or mm and N")


def write(options: argparse.Namespace, path: Path) -> str:
    """Write the workbook; gives back what is filled in. ValueError, one sentence, where it cannot be told; OSError where it cannot be written."""
    from dashboard.answers import catalogue
    from dashboard.handout.bench import write_bench
    from dashboard.records import RecordError
    from dashboard.records.declaration import declared
    from dashboard.records.sources import read_source
    from dashboard.records.template import write_template

    if not (options.trial or options.site or options.date):
        write_template(path, options.units)
        return ""
    if not (options.trial and options.site):
        raise ValueError("The sheet for one day needs a trial and a site: --trial my_trial --site home.")
    trial, on = options.trial, day_of(options.date)
    try:
        declaration, loaded = declared(read_source(trial))[0], catalogue.load(trial)
    except RecordError as fault:
        raise ValueError("\n".join(problem.sentence for problem in fault.problems)) from None
    return write_bench(loaded, declaration, options.site, on, path, options.units)


def then(options: argparse.Namespace) -> str:
    """The command to go on with, {file} in place of the workbook."""
    return f"import {{file}} --into {shlex.quote(options.trial)}" if options.trial else "check {file}"


def day_of(said: str) -> date:
    """The day that an option names, today where it names none. ValueError for what is no day."""
    try:
        return date.fromisoformat(said) if said else date.today()
    except ValueError:
        raise ValueError(f"{said!r} is not a date; write it as 2025-07-14.") from None
