"""``orchard-slate labels``: its options, and what they ask for: labels for what may be ripe at a site, or for cultivars that are named."""

from __future__ import annotations

import argparse
import shlex
from pathlib import Path

from dashboard.handout.labels import grid as grids
from dashboard.terms.units import SYSTEMS

_MEASURES = {
    "width": "of a label (default: what the paper leaves)", "height": "of a label (default: the same)", "left": "free at the left edge",
    "top": "free at the upper edge", "across": "between two columns", "down": "between two rows",
}  # fmt: skip
_USUAL = {"left": grids.EDGE, "top": grids.EDGE, "across": grids.GAP, "down": grids.GAP}


def offer(parser: argparse.ArgumentParser) -> None:
    """The options of the command; what they need is imported when they are asked."""
    parser.add_argument("file", metavar="FILE.pdf")
    parser.add_argument("--trial", metavar="FOLDER|FILE", required=True)
    parser.add_argument("--site", metavar="S", required=True, help="where the fruit is picked")
    parser.add_argument("--date", metavar="D", default="", help="the day it is picked, as 2025-07-14 (default: today)")  # fmt: skip
    parser.add_argument("--names", metavar="A,B", default="", help="cultivars (default: what may be ripe that week)")  # fmt: skip
    parser.add_argument("--copies", metavar="N", type=int, default=1, help="labels of each sample")
    parser.add_argument("--skip", metavar="N", type=int, default=0, help="places of the first sheet that are used already")  # fmt: skip
    parser.add_argument("--cut", action="store_true", help="draw lines to cut along, for plain paper")
    parser.add_argument("--paper", choices=("a4", "letter"), default="", help="(default: by the units)")
    parser.add_argument("--units", choices=SYSTEMS, default="us", help="letter paper, or A4")
    parser.add_argument("--columns", metavar="N", type=int, default=grids.COLUMNS)
    parser.add_argument("--rows", metavar="N", type=int, default=grids.ROWS)
    for name, told in _MEASURES.items():
        usual = _USUAL.get(name, "")
        more = f" (default: {usual})" if usual else ""
        parser.add_argument(f"--{name}", metavar="2in|50mm", default=usual, help=told + more)


def write(options: argparse.Namespace, path: Path) -> str:
    """Write the sheets; gives back what is on them. ValueError, one sentence, where it cannot be told; OSError where it cannot be written."""
    from dashboard.handout.bench.command import asked_day
    from dashboard.handout.labels.printed import printed
    from dashboard.handout.labels.samples import labels
    from dashboard.handout.paper import PAPERS, USUAL
    from dashboard.places import put
    from dashboard.wording.figures import counted

    paper = PAPERS[options.paper or USUAL[options.units]]
    measures = {name: getattr(options, name) for name in _MEASURES}
    unit = "in" if options.units == "us" else "mm"
    grid = grids.grid(paper, options.columns, options.rows, **measures, unit=unit)
    if not 1 <= options.copies <= 100 or not 0 <= options.skip < grid.on_a_sheet:
        raise ValueError(f"A sample has 1 to 100 copies, and 0 to {grid.on_a_sheet - 1} places can be used already.")  # fmt: skip
    some = labels(asked_day(options), options.names)
    content, short = printed([one for one in some for _ in range(options.copies)], grid, options.skip, options.cut)  # fmt: skip
    put(path, content)
    count = len(some) * options.copies
    sheets = grid.place(options.skip + count - 1)[0] + 1
    cut = f"; cut short on it: {', '.join(short)}" if short else ""
    return f"{counted(count, 'label')} of {counted(len(some), 'sample')} on {counted(sheets, 'sheet')}{cut}"


def then(options: argparse.Namespace) -> str:
    """What to go on with."""
    return f"print at 100 %, then run  orchard-slate photos FOLDER --trial {shlex.quote(options.trial)}"
