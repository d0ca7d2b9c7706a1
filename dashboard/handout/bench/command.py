"""``orchard-slate template``: its options, and what they ask for: an empty workbook, or one site and day as a sheet, a paper form or a page."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from dashboard.records.store.opening import into
from dashboard.terms.units import SYSTEMS

if TYPE_CHECKING:
    from dashboard.handout.bench.day import Day

KINDS = {".xlsx": "workbook", ".html": "page", ".pdf": "paper form"}


def offer(parser: argparse.ArgumentParser) -> None:
    """The options of the command; what they need is imported when they are asked."""
    parser.add_argument(
        "file", metavar="FILE", help="ends in .xlsx; with --trial also in .html (a page) or .pdf (paper)"
    )
    parser.add_argument("--trial", metavar="FOLDER|FILE", default="", help="for one site and day of this trial")  # fmt: skip
    parser.add_argument("--site", metavar="S", default="", help="whose fruit is on the bench")
    parser.add_argument("--date", metavar="D", default="", help="as 2025-07-14 (default: today)")
    parser.add_argument("--units", choices=SYSTEMS, default="us", help="inches and pounds, or mm and N")


def kind(options: argparse.Namespace) -> tuple[str, str]:
    """The ending that the file has to have, and what it then is."""
    ending = Path(options.file).suffix.lower() if options.trial else ""
    return (ending, KINDS[ending]) if ending in KINDS else (".xlsx", KINDS[".xlsx"])


def write(options: argparse.Namespace, path: Path) -> str:
    """Write it; gives back what is filled in. ValueError, one sentence, where it cannot be told; OSError where it cannot be written."""
    from dashboard.handout.bench.day import SPARE
    from dashboard.handout.bench.page import write_page
    from dashboard.handout.bench.paper import write_paper
    from dashboard.handout.bench.workbook import write_workbook
    from dashboard.records.template import write_template
    from dashboard.wording.figures import counted

    if not (options.trial or options.site or options.date):
        write_template(path, options.units)
        return ""
    if not (options.trial and options.site):
        raise ValueError("The sheet for one day needs a trial and a site: --trial my_trial --site home.")
    made = asked_day(options, options.units)
    {".xlsx": write_workbook, ".pdf": write_paper, ".html": write_page}[path.suffix.lower()](made, path)
    free = f", {SPARE} places are free" if path.suffix.lower() != ".html" else ", every other can be found"
    why = f"{made.why} " if made.why else ""
    return f"{why}{counted(len(made.rows), 'cultivar')} that may be ripe at {made.site} stand in it by walking order{free}"  # fmt: skip


def then(options: argparse.Namespace) -> str:
    """What to go on with, {file} in place of what was written."""
    if not options.trial:
        return "fill it in, then run  orchard-slate check {file}"
    if options.file.lower().endswith(".html"):
        return "open it in a browser, save its file there, then run  " + into(options.trial, "THAT_FILE")
    if options.file.lower().endswith(".pdf"):
        return "print it; what is written on it is typed into the sheet or the page of the same day"
    return "fill it in, then run  " + into(options.trial, "{file}")


def asked_day(options: argparse.Namespace, system: str = "us") -> Day:
    """The site and day of a trial that options name. ValueError, one sentence, where there is none."""
    return day_at(options.trial, options.site, options.date, system)


def day_at(trial: str | Path, site: str, said: str, system: str) -> Day:
    """A site of a trial on the day that is ``said``, in the units of ``system``. ValueError, one sentence, where there is none."""
    from dashboard.answers import catalogue
    from dashboard.handout.bench.day import day
    from dashboard.records import RecordError
    from dashboard.records.declaration import declared
    from dashboard.records.sources import read_source

    on = day_of(said)
    try:
        declaration, loaded = declared(read_source(trial))[0], catalogue.load(trial)
    except RecordError as fault:
        raise ValueError(str(fault)) from None
    return day(loaded, declaration, site, on, system)


def day_of(said: str) -> date:
    """The day that an option names, today where it names none. ValueError for what is no day."""
    try:
        return date.fromisoformat(said) if said else date.today()
    except ValueError:
        raise ValueError(f"{said!r} is not a date; write it as 2025-07-14.") from None
