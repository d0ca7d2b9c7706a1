"""``orchard-slate store``: what can be done with a store, each with its options."""

from __future__ import annotations

import argparse
import shlex
import sys
from collections.abc import Callable
from pathlib import Path

from dashboard import places

_STORE = "a file that ends in .store, or postgresql+psycopg://machine/name"
_SHOWN = 12  # letters of a hash, enough to know it by


def offer(parser: argparse.ArgumentParser) -> None:
    """What can be done; what it needs is imported when it is asked."""
    doings = parser.add_subparsers(required=True, metavar="WHAT")
    bring = doings.add_parser("bring", help="bring a folder, workbook or bench sheet in, whole or not at all")
    bring.add_argument("source", metavar="FOLDER|FILE")
    bring.add_argument("--into", metavar="STORE", required=True, help=f"{_STORE}; there already or new")
    bring.add_argument("--changes", action="store_true", help="where a value differs, the new one holds and the old one is history")  # fmt: skip
    bring.add_argument("--despite-faults", action="store_true", help="leave rows at fault out, keep them beside, and bring in the rest")  # fmt: skip
    listed = doings.add_parser("list", help="what was brought in: when, by whom, from which file")
    listed.add_argument("--left-out", metavar="NUMBER", type=int, help="what did not come in with an import")
    undo = doings.add_parser("undo", help="take one import back as a whole")
    undo.add_argument("number", metavar="NUMBER", type=int, help="as  store list  has it")
    history = doings.add_parser("history", help="what one value was, from import to import")
    history.add_argument("table", metavar="TABLE", help="for example fruit")
    history.add_argument(
        "key", metavar="KEY", nargs="+", help="the names of the row: of fruit the sample and the number"
    )
    history.add_argument("--column", metavar="C", required=True, help="for example ssc_brix")
    write = doings.add_parser(
        "write", help="write the records out: a folder, a workbook, or a packed data package"
    )
    write.add_argument("out", metavar="OUT", help="a new folder, .xlsx or .zip")
    write.add_argument(
        "--after", metavar="NUMBER", type=int, help="as they stood after this import (default: the last)"
    )
    for one, told in ((bring, _bring), (listed, _list), (undo, _undo), (history, _history), (write, _write)):
        one.set_defaults(run=_asked(told))
    for one in (bring, undo):
        one.add_argument("--who", metavar="NAME", help="who does it (default: the name you are logged in by)")
    for one in (listed, undo, history, write):
        one.add_argument("--store", metavar="STORE", required=True, help=_STORE)


def _asked(told: Callable[[argparse.Namespace], tuple[str, int]]) -> Callable[[argparse.Namespace], int]:
    """Run it; 1 and one sentence where it cannot be done."""

    def run(options: argparse.Namespace) -> int:
        from dashboard.records.problems import RecordError
        from dashboard.records.store.opening import StoreError

        try:
            text, code = told(options)
        except (RecordError, StoreError) as fault:
            print(fault, file=sys.stderr)
            return 1
        except OSError as fault:
            print(places.unwritten(Path(fault.filename or "output"), fault), file=sys.stderr)
            return 1
        print(text)
        return code

    return run


def _bring(options: argparse.Namespace) -> tuple[str, int]:
    from dashboard.records.causes import gathered
    from dashboard.records.how_far import on_terminal
    from dashboard.records.report import written
    from dashboard.records.store.bringing import bring
    from dashboard.records.store.odd import odd_in
    from dashboard.records.store.sheets_in import read_any

    place = places.place_of(options.into)
    with on_terminal(sys.stderr):
        read = read_any(Path(options.source), place, options.changes)
        found = bring(place, read, _who(options), options.changes, options.despite_faults)
        odd = odd_in(place, found.number) if found.number else []
    told = {one.rule for one in found.problems}
    causes = gathered([*found.problems, *(one for one in odd or [] if one.rule not in told)])
    lines = [written(causes)] if causes else []
    if found.differing and not found.number:
        lines.append(written(gathered(found.differing)))
    lines += [f"changed  {one.changed}" for one in found.differing if found.number]
    if not found.number:
        return "\n".join([*lines, found.why]), int("already" not in found.why)
    new = ", ".join(f"{_counted(count, 'new row')} of {name}" for name, count in found.new.items())
    changed = len(_rows(found.differing))
    filled = found.changed - changed
    parts = [
        new,
        f"{_counted(filled, 'row')} with cells filled" if found.filled and filled > 0 else "",
        f"{_counted(changed, 'row')} changed" if changed else "",
        f"{_counted(found.left_out, 'cell or row', 'cells and rows')} left out" if found.left_out else "",
    ]  # fmt: skip
    check = f"orchard-slate check {shlex.quote(str(place))}"
    if odd:
        lines.append(f"{_counted(len(odd), 'place')} to look at: {check}")  # fmt: skip
    elif odd is None:
        lines.append(f"what is odd beside the rest was not looked for in a store of this size; {check} tells it.")  # fmt: skip
    lines.append(
        f"import {found.number} into {place}: {'; '.join(filter(None, parts)) or 'what is declared'}"
    )
    return "\n".join(lines), int(found.left_out > 0)


def _counted(count: int, one: str, many: str = "") -> str:
    return f"{count:,} {one if count == 1 else many or f'{one}s'}"


def _rows(differing: list) -> set:
    return {(one.file, one.sheet, one.row) for one in differing}


def _list(options: argparse.Namespace) -> tuple[str, int]:
    from dashboard.records.problems import seen
    from dashboard.records.store.history import brought_in, stayed_out

    place = places.place_of(options.store)
    if options.left_out is not None:
        lines = [
            seen(", ".join(filter(None, (one["file"], one["sheet"], one["row"] and f"row {one['row']}", one["column"])))
                 + f": {one['whole_row'] or one['value']} {one['rule']}; {one['suggestion']}.")
            for one in stayed_out(place, options.left_out)
        ]  # fmt: skip
        return "\n".join(lines) or f"With import {options.left_out} everything came in.", 0
    lines = []
    for one in brought_in(place):
        told = [f"{one.new:,} new", f"{one.changed:,} changed"] + (
            [f"{one.left_out:,} left out"] if one.left_out else []
        )
        told += [f"undoes {one.undoes}"] if one.undoes else []
        told += [f"undone by {one.undone_by}"] if one.undone_by else []
        lines.append(
            seen(
                f"{one.number:>4}  {one.at}  {one.who}  {one.file}  {one.sha256[:_SHOWN]:<{_SHOWN}}  {', '.join(told)}"
            )
        )
    return "\n".join(lines) or f"{place}: nothing was brought in yet.", 0


def _undo(options: argparse.Namespace) -> tuple[str, int]:
    from dashboard.records.store.undoing import undo

    number, gone, back = undo(places.place_of(options.store), options.number, _who(options))
    return (
        f"import {options.number} is taken back by import {number}: {_counted(gone, 'row')} gone, {_counted(back, 'row')} there again",
        0,
    )


def _history(options: argparse.Namespace) -> tuple[str, int]:
    from dashboard.records.problems import quoted, seen
    from dashboard.records.store.history import HAD_NO_ROW, history

    found = history(places.place_of(options.store), options.table, options.key, options.column)
    lines = [f"{one.number:>4}  {one.at}  {one.who}  {one.file}  {one.value if one.value == HAD_NO_ROW else quoted(one.value)}" for one in found]  # fmt: skip
    return "\n".join(seen(line) for line in lines), 0


def _write(options: argparse.Namespace) -> tuple[str, int]:
    from dashboard.records.store.leaving import write_out

    return write_out(places.place_of(options.store), Path(options.out), options.after), 0


def _who(options: argparse.Namespace) -> str:
    return options.who or places.somebody()
